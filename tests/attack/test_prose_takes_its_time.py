"""Prose that somebody wrote to keep others waiting: what is within the bounds is quick, what is beyond is never rendered."""

from __future__ import annotations

import itertools
import time

import lxml.html
import markdown
import pytest

from rangebook.book.load import load_texts
from rangebook.lint.examples import base_book
from rangebook.reading.prose_bounds import IN_ALL, beyond
from rangebook.site.prose import as_typed

SIGNS = ("[", "]", "(", "*", "_", "`", "<", ">", "!", "\\", "&", "|", "#", "-", "1. ", "> ", "~", '"')
UNITS = (
    *("![a](", "[a](", "[](", "[a][b]", "*a", "**a", "`a", "<a", "&a", "*a*", "a*", "<http:", "[a](<", '[a](b "'),
    *("-\n", "> \n", "- a\n", "a\n---\n", "a|b\n-|-\n", "# a\n\n", "- a\n\n    b\n\n", "1. a\n\n", "```\n", "[a]: b\n", "    - a\n"),
)

SECONDS = 3.0
"""Of the processor's time, for a page that takes a fifth of a second on an idle machine: unbounded, these take minutes."""


def most_of(unit: str) -> str:
    """As many of a piece as the bounds let stand in one block, and of such blocks as many as they let stand in all."""
    for between in ("", "\n\n"):
        few, many = 1, max(1, IN_ALL // (len(unit) + len(between)))
        while few < many:
            middle = (few + many + 1) // 2
            few, many = (middle, many) if beyond((unit + between) * middle) is None else (few, middle - 1)
        unit = (unit + between) * few
    return unit


@pytest.mark.parametrize(
    "unit", [*SIGNS, *UNITS, *map("".join, itertools.permutations("[`<\\*", 2)), "[" * 30 + "x" * 900, "[" * 60 + "\\" * 120]
)
@pytest.mark.slow
def test_what_is_within_the_bounds_is_rendered_in_no_time(unit: str) -> None:
    prose = most_of(unit)
    assert beyond(prose) is None
    began = time.process_time()
    markdown.markdown(prose, extensions=["toc", "tables", "fenced_code", "rangebook.site.prose"])
    assert time.process_time() - began < SECONDS


@pytest.mark.parametrize("prose", ["[" * 10_000, "1. " * 10_000, "![a](" * 2_000, "-\n" * 5_000])
def test_what_is_beyond_is_told_of_and_shown_as_typed(prose: str) -> None:
    assert beyond(prose) is not None
    shown = lxml.html.fragment_fromstring(as_typed(prose + "<b onclick=x>"))
    assert shown.tag == "pre" and len(shown) == 0 and shown.text == prose + "<b onclick=x>"


def test_looking_at_it_takes_no_time_either() -> None:
    began = time.process_time()
    for sign in (*SIGNS, "\n", "\t", " ", "]("):
        beyond(sign * 1_000_000)
        beyond(sign * (IN_ALL // len(sign)))
    assert time.process_time() - began < SECONDS


def test_serve_writes_such_an_entrys_page_with_its_prose_as_typed(tmp_path, monkeypatch) -> None:
    from rangebook.site.facts.computed import Computed
    from rangebook.site.generator.single_page import PageWriter

    kit = "entries/kits/oval-9-renewal.md"
    files = {**base_book(), kit: base_book()[kit] + "\n" + "[" * 100_000}
    for name, text in files.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    loaded = load_texts({name: text.encode() for name, text in files.items()})
    site = tmp_path / "site"
    began = time.process_time()
    assert PageWriter(tmp_path, site).write(Computed(loaded), ["kits/oval-9-renewal.md"])
    assert time.process_time() - began < 60
    page = lxml.html.parse(str(site / "kits" / "oval-9-renewal" / "index.html"))
    (shown,) = page.xpath("//*[@id='Notes']//pre")
    assert shown.text.rstrip().endswith("[" * 100_000)
