"""Whether the part that a vehicle was built with goes on: the linter asks by one function, which must come to what the judge comes to."""

from __future__ import annotations

from pathlib import Path

import pytest

from rangebook.book.book import Book
from rangebook.book.load import load_texts
from rangebook.fitting.check_mating import original_goes_on
from rangebook.fitting.judge import judge
from rangebook.fitting.seats import find_seats
from rangebook.fitting.verdict import VerdictKind, settle
from rangebook.reasons.reason import Check
from tests.desk.impact.editing import edited

ROOT = Path(__file__).resolve().parents[2]
FILES = {f"entries/{path.parent.name}/{path.name}": path.read_bytes() for path in sorted((ROOT / "entries").rglob("*.md"))}


def judged(book: Book) -> list[tuple[bool, bool]]:
    """For each seat what the function says, and whether the judge has nothing against the original but safety and nothing to order."""
    found = []
    for seat in find_seats(book):
        verdict = judge(book, seat, seat.original)
        kind = settle(VerdictKind.STRAIGHT, (one for one in verdict.checked if one.check is not Check.SAFETY))
        kits = any(one.code == "mating.kit_needed" for one in verdict.checked)
        found.append((original_goes_on(book, seat) is True, kind is VerdictKind.STRAIGHT and not kits))
    return found


@pytest.mark.parametrize("seed", range(12))
def test_the_function_comes_to_what_the_judge_comes_to(seed: int) -> None:
    book = load_texts(edited(FILES, seed, 5) if seed else FILES).book
    found = judged(book)
    assert len(found) > 20
    assert [one for one, _ in found] == [other for _, other in found]


@pytest.mark.slow
def test_the_edits_make_misfits() -> None:
    """The test above would prove nothing without an original that does not go on."""
    found = [pair for seed in range(1, 12) for pair in judged(load_texts(edited(FILES, seed, 5)).book)]
    assert any(not says for says, _ in found) and any(says for says, _ in found)
