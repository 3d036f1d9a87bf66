"""duplicate-number."""

import re

import pytest

from rangebook.book.load import load_texts
from rangebook.lint.engine import lint
from rangebook.lint.examples import example_book
from rangebook.reading.stacked import Stacked
from tests.lint.layering import FAMILY, TODAY

PARTS = "    kind: switch\n    parts:\n      - {number: TB-20417, sources: [{kind: seen}]}\n      - {number: %s, sources: [{kind: seen}]}\n"


@pytest.mark.parametrize("number", ["TB-20417", "tb20417", "T.B/204 17", '"TB - 20417"'])
def test_any_spelling_of_it_is_found_at_the_second_place(look, number):
    (found,) = look("duplicate-number", PARTS % number)
    assert found.at.startswith(number) and "entries/switches/tamblin-gate.md, line 15" in found.message


def test_it_is_told_at_the_one_that_came_in_last(look):
    dated = "    kind: switch\n    parts:\n      - {number: TB-20417, sources: [{kind: seen, on: %s}]}\n"
    (found,) = look("duplicate-number", dated % "2026-02-01" + "      - {number: tb 20417, sources: [{kind: seen, on: 2024-05-01}]}\n")
    assert found.at.startswith("TB-20417") and "as tb 20417" in found.message


def test_another_number_of_a_part_is_nobody_elses(look):
    own = "      - number: TB-20417\n        also_numbered: [{number: 55 20455}]\n        sources: [{kind: seen}]\n"
    text = f"    kind: switch\n    parts:\n{own}"
    assert look("duplicate-number", text) == []
    (found,) = look("duplicate-number", text + "      - {number: 55-204/55, sources: [{kind: seen}]}\n")
    assert found.at.startswith("55-204/55")


@pytest.mark.parametrize("number", ["TB-2O417", "TB-020417", "TB-20417A"])
def test_what_only_looks_like_it_is_another_number(look, number):
    assert look("duplicate-number", PARTS % number) == []


def test_two_families_are_compared_and_each_repetition_told(look):
    found = look(
        "duplicate-number",
        """
    # entries/switches/other.md
    kind: switch
    id: other
    parts: [{number: TB20417, sources: [{kind: seen}]}, {number: TB 20455, sources: [{kind: seen}]}]
""",
    )
    assert [(one.file, one.at[:8]) for one in found] == [("switches/other.md", "TB20417,"), ("switches/other.md", "TB 20455")]
    assert all("entries/switches/tamblin-gate.md" in one.message for one in found)


def test_two_kits_are_compared(look):
    (found,) = look("duplicate-number", "    # entries/kits/second.md\n    kind: kit\n    id: second\n    number: tw7706\n")
    assert found.file == "kits/second.md" and "TW-7706" in found.message


def test_it_is_told_in_the_layer_that_lies_over_the_other() -> None:
    """The book below cannot be edited by those who read it, whatever the files are called and whatever days the sources name."""
    texts = dict(example_book(""))
    own = texts[FAMILY].replace(b"id: tamblin-gate", b"id: a-family-of-ours")
    texts["entries/switches/a-family-of-ours.md"] = Stacked.of([(1, "ours", re.sub(rb"on: 20\d\d", b"on: 1999", own))])
    found = [one for one in lint(load_texts(texts), TODAY) if one.rule == "duplicate-number"]
    assert {one.file for one in found} == {"entries/switches/a-family-of-ours.md"}
