"""dead-link."""

import pytest

from rangebook.lint.examples import example_book

KIT = "entries/kits/oval-9-renewal.md"


def _book(prose):
    book = {name: text.decode() for name, text in example_book("").items()}
    head, front, _ = book[KIT].split("---\n", 2)
    return {**book, KIT: f"{head}---\n{front}---\n{prose}"}


@pytest.mark.parametrize(
    ("target", "meant"),
    [
        ("../connectors/oval13.md", "../connectors/oval-13.md"),
        ("../Connectors/oval-13.md", "../connectors/oval-13.md"),
        ("oval-9-renewl.md#bag", "oval-9-renewal.md"),
        ("../connectors/oval-13", "../connectors/oval-13.md"),
        ("../../connectors/oval-13.md", "../connectors/oval-13.md"),
        ("/entries/connectors/oval-13.md", "../connectors/oval-13.md"),
        ("../connectors/oval%2D33.md", "../connectors/oval-13.md"),
    ],
)
def test_it_is_found_at_the_target_and_the_right_way_is_offered(look, target, meant):
    for prose in (f"Above.\n\nSee [it]({target}) for more.\n", f"See [it].\n\n[it]: {target}\n", f"See [it](<{target}>).\n"):
        (found,) = look("dead-link", _book(prose))
        assert found.at.startswith(target) and f"did you mean {meant}?" in found.fix


@pytest.mark.parametrize(
    "prose",
    [
        '[it](../connectors/oval-13.md) and [it](../connectors/oval-13.md#face) and [it](../connectors/oval-13.md "its face")',
        "[it](../connectors/oval%2D13.md)",
        "[it](oval-9-renewal.md), [here](#setting), [out](https://example.org/x.md), [out](//example.org/x.md)",
        "![the bag](bag.jpg) and [sheet](sheet-14.pdf)",
        "`[it](gone.md)` and\n\n```\n[it](gone.md)\n```\n",
        "pins [1] (one) and [^1].\n\n[^1]: gone",
        "[mail](mailto:bench@example.org)",
    ],
)
def test_let_be(look, prose):
    assert look("dead-link", _book(prose + "\n")) == []


def test_a_link_to_an_entry_that_could_not_be_taken_in_is_not_dead(look):
    book = _book("[it](../connectors/oval-13.md)\n")
    assert look("dead-link", {**book, "entries/connectors/oval-13.md": "---\nkind: connector\n---\n"}) == []


def test_after_code_the_place_is_still_right(look):
    (found,) = look("dead-link", _book("`a` [x](gone.md)\n"))
    assert found.at == "gone.md)"


def test_of_very_many_the_first_are_told(look):
    assert len(look("dead-link", _book("[it](gone.md)\n" * 15_000))) == 50


def test_what_is_no_link_however_long_is_gone_through_once(look):
    for prose in ("[a](" + "(" * 300_000, "[a](" + " " * 300_000, "`" * 300_001, "[" * 300_000, "```\n" * 60_001, "~~~\n```\n" * 30_001):
        assert look("dead-link", _book(prose)) == [], prose[:10]
