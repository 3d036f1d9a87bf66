"""The books that the benchmarks are measured on: clean, as large as they say, and the same each time."""

from __future__ import annotations

from collections import Counter
from datetime import date
from pathlib import Path

import pytest

from generate import generate, write
from rangebook.book.load import Loaded, load_texts
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.verdict import VerdictKind
from rangebook.lint.engine import lint

FAMILIES = 12
TODAY = date(2026, 6, 1)


@pytest.fixture(scope="module")
def loaded() -> Loaded:
    """A small one of these books."""
    return load_texts({file: text.encode("utf-8") for file, text in generate(FAMILIES).items()})


def test_the_book_is_clean(loaded: Loaded) -> None:
    assert lint(loaded, TODAY) == []


@pytest.mark.parametrize("look_alikes", [0, 2, 4])
def test_the_book_is_clean_with_any_number_of_look_alikes(look_alikes: int) -> None:
    texts = generate(6, look_alikes)
    loaded = load_texts({file: text.encode("utf-8") for file, text in texts.items()})
    assert lint(loaded, TODAY) == []
    assert {len(family.parts) for family in loaded.book.families.values()} == {3 * (1 + look_alikes)}


def test_it_has_the_proportions_that_it_claims(loaded: Loaded) -> None:
    book = loaded.book
    assert (len(book.families), len(book.connectors), len(book.kits)) == (FAMILIES, FAMILIES, FAMILIES // 2)
    assert {len(family.parts) for family in book.families.values()} == {6}
    lines = [entry.source.split("---\n")[1].count("\n") for entry in loaded.entries if entry.folder == "switches"]
    assert 95 <= sum(lines) / len(lines) <= 125


def test_the_same_figures_give_the_same_book_and_others_another() -> None:
    assert generate(4, 1, 7) == generate(4, 1, 7)
    assert generate(4, 1, 7) != generate(4, 1, 8)


def test_the_verdicts_in_it_are_of_several_kinds(loaded: Loaded) -> None:
    """A book in which everything fits, or nothing, would measure little."""
    fitter = Fitter(loaded.book)
    words = Counter(verdict.kind for seat in fitter.seats for verdict in fitter.candidates(seat))
    assert {VerdictKind.STRAIGHT, VerdictKind.WITH_PARTS, VerdictKind.NO} <= set(words)
    for family in loaded.book.families.values():
        first, newest = family.parts[0], family.parts[4]
        (seat,) = fitter.seats_of[first.key]
        assert fitter.verdict(seat, newest).kind is VerdictKind.WITH_PARTS, "the chain leads over the kit"


def test_an_existing_book_is_not_written_over(tmp_path: Path) -> None:
    write({}, tmp_path)
    with pytest.raises(FileExistsError, match="entries"):
        write({}, tmp_path)
