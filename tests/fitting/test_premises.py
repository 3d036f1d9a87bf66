"""The quick look at whether a vehicle's own part may not go on, held against the judge."""

from __future__ import annotations

from pathlib import Path

import pytest

from rangebook.book.book import Book
from rangebook.book.load import load
from rangebook.fitting.check_mating import original_goes_on
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.verdict import VerdictKind
from tests.lint.test_inputs import CHANGES, START

ROOT = Path(__file__).resolve().parents[2]


def _overlooked(book: Book) -> list[tuple]:
    """Seats that the quick look lets pass though the judge has something against their own part that only the safety check may tell of."""
    fitter = Fitter(book)
    told = []
    for seat in fitter.seats:
        verdict = fitter.verdict(seat, seat.original)
        against = {str(reason.check) for reason in verdict.reasons} if verdict.kind is VerdictKind.NO else {str(verdict.kind)}
        if verdict.kind is VerdictKind.WITH_PARTS and not verdict.needs:
            against = set()  # it goes on, with what it needs wherever it is fitted
        if original_goes_on(book, seat) and not against <= {"safety", "straight", "unknown"}:
            told.append((seat.key, against))
    return told


def test_in_the_demo_book_nothing_is_overlooked() -> None:
    assert _overlooked(load(ROOT).book) == []


@pytest.mark.parametrize("name", sorted(CHANGES))
def test_nothing_is_overlooked_in_a_book_with_a_fault(name: str) -> None:
    for state in (CHANGES[name](START), CHANGES[name](CHANGES["another housing of the part"](START))):
        assert _overlooked(state.loaded().book) == []


def test_both_answers_are_given() -> None:
    books = (START.loaded().book, CHANGES["another housing of the part"](START).loaded().book)
    assert {original_goes_on(book, seat) for book in books for seat in Fitter(book).seats} == {True, False}
