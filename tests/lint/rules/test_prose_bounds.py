"""prose-bounds. That what is within them is quick is tried in tests/attack/test_prose_takes_its_time.py."""

from __future__ import annotations

import pytest

from rangebook.lint.examples import base_book
from rangebook.reading import prose_bounds as bounds

KIT = "entries/kits/oval-9-renewal.md"


def _book(prose: str) -> dict[str, str]:
    head, front, _ = base_book()[KIT].split("---\n", 2)
    return {**base_book(), KIT: f"{head}---\n{front}---\n{prose}\n"}


@pytest.mark.parametrize(
    ("prose", "at"),
    [
        ("[" * bounds.BRACKETS + "[here", "[here"),
        ("a" + "* " * bounds.SIGNS + "*here", "*here"),
        ("a [b](c.md)\n\n" * bounds.BRACKETS_IN_ALL + "[here", "[here"),
        ("line\n" * bounds.LINES + "here", "here"),
        ("line\n\n" * bounds.LINES_IN_ALL + "here", "here"),
        ("# Head\n\n" * bounds.HEADINGS + "# here", "# here"),
        ("Head\n---\n\n" * bounds.HEADINGS + "here\n---", "---"),
        ("x" * bounds.IN_BLOCK + "here", "here"),
        (("[" * 33 + "x" * 9_000 + "\n\n") + "[" + "x" * 9_000, "[" + "x" * 9_000),
        ("[a](" * 31 + "x" * 9_900, "](" + "x" * 9_900),
        (("y" * 998 + "\n\n") * 49 + "z" * 999 + "here", "here"),
        ("> " * bounds.DEEP + "> here", "> " * bounds.DEEP + "> here"),
        ("- 1. " * 4 + "here", "- 1. - 1. - 1. - 1. here"),
        ("1. a\n" + "\n> \t- 1. + * > > > here", "> \t- 1. + * > > > here"),
    ],
)
def test_the_first_place_beyond_each_bound_is_told(look, prose: str, at: str) -> None:
    (found,) = look("prose-bounds", _book("\n" + prose))
    assert found.at == at


@pytest.mark.parametrize("fence", ["```", "~~~", "> ```", "````"])
def test_code_does_not_part_what_stands_before_and_behind_it(look, fence: str) -> None:
    half = "[" * (bounds.BRACKETS // 2 + 1)
    assert look("prose-bounds", _book(f"{half}\n\n{half}")) == []
    assert look("prose-bounds", _book(f"{half}\n{fence}\n\n{fence}\n{half}\n{fence}\n\n{fence}\n"))


@pytest.mark.parametrize(
    "prose",
    [
        "\n\n".join("See [the kit](oval-9-renewal.md), **not** `this`." for _ in range(200)),
        "| a | b | c |\n|---|---|---|\n" + "| 1 | 2 | 3 |\n" * 200,
        "\n".join(f"{number}. Take out the bolt." for number in range(1, 100)),
        "```\n" + "in a drawing  ----->  \n" * 40 + "```",
        "> - 1. as deep as anybody goes",
    ],
)
def test_what_a_technician_writes_is_let_be(look, prose: str) -> None:
    assert look("prose-bounds", _book(prose)) == []
