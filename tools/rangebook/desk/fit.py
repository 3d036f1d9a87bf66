"""The answer to "this came off: what fits, and what else does it take"."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rangebook.book.book import Book
from rangebook.book.model import Kit, Part
from rangebook.book.numbers import nearest
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.interchange import directions, said
from rangebook.fitting.seats import Seat
from rangebook.fitting.standing import Footing, weakest
from rangebook.fitting.supersession import End, chain_ends
from rangebook.fitting.verdict import Verdict, Word

WORDS = {
    Word.STRAIGHT: "fits as it is",
    Word.WITH_PARTS: "fits with other parts",
    Word.REWIRE: "fits if wires are moved",
    Word.UNKNOWN: "not known",
    Word.NO: "does not fit",
}
"""The verdicts in words for people."""

CAUTION = (
    "A wrong switch, or one set wrongly, can let the engine crank in gear or the vehicle move. Chock the wheels, set the brake, "
    "disconnect the battery, mind hot parts. Prove it: it cranks only in P and N. The vehicle maker's service information comes first."
)
"""Shown with every answer."""


class NotInBook(LookupError):
    """A number is not in the book; ``nearest`` are the numbers that look most like it."""

    def __init__(self, number: str, near: list[str]) -> None:
        super().__init__(f"{number} is not in the book")
        self.number = number
        self.nearest = near


@dataclass(frozen=True, slots=True)
class SeatAnswer:
    """One seat that the removed part may have been on, and the candidates for it.

    ``how`` is ``came_with`` or ``fits``. ``ends`` is where the makers' chain from the seat's original leads, each end with
    its verdict here (``None`` where it is not in the book). ``unsaid`` are the candidates that fit though nobody has said
    so; ``stands_on`` maps a candidate's number to the weakest footing of its verdict, ``ways`` to whether the original in turn fits
    everywhere that the candidate came.
    """

    seat: Seat
    how: str
    candidates: tuple[Verdict, ...]
    ends: tuple[tuple[End, Verdict | None], ...]
    unsaid: frozenset[str]
    stands_on: Mapping[str, Footing]
    ways: Mapping[str, bool | None]


@dataclass(frozen=True, slots=True)
class FitAnswer:
    """All seats of a removed part with their candidates, and where the makers' chain from it leads."""

    removed: Part
    seats: tuple[SeatAnswer, ...]
    ends: tuple[End, ...]
    kits: Mapping[str, Kit]


def find_part(book: Book, number: str) -> Part:
    """The part with this number in any spelling. Raises :class:`NotInBook`."""
    part = book.part(number)
    if part is None:
        raise NotInBook(number, nearest(number, (one.number for one in book.parts)))
    return part


def fit(fitter: Fitter, removed: str, candidate: str | None = None) -> FitAnswer:
    """What fits in place of ``removed``, or how ``candidate`` would. Raises :class:`NotInBook` for either number."""
    part = find_part(fitter.book, removed)
    other = find_part(fitter.book, candidate) if candidate else None
    seats = tuple(_seat_answer(fitter, seat, how, other) for seat, how in fitter.seats_taken_by(part))
    return FitAnswer(part, seats, tuple(chain_ends(fitter.book, part)), fitter.book.kits)


def _seat_answer(fitter: Fitter, seat: Seat, how: str, only: Part | None) -> SeatAnswer:
    candidates = (fitter.verdict(seat, only),) if only else tuple(fitter.candidates(seat))
    original = seat.original
    ends = tuple((end, fitter.verdict(seat, end.part) if end.part else None) for end in chain_ends(fitter.book, original))
    fitting = [one.part for one in candidates if one.fits and one.part is not original]
    return SeatAnswer(
        seat,
        how,
        candidates,
        ends,
        frozenset(part.number for part in fitting if not said(fitter, original, part) and not said(fitter, part, original)),
        {one.part.number: weakest(fitter.book, seat, one) for one in candidates},
        {part.number: directions(fitter, original, part)[1] for part in fitting},
    )


def as_data(answer: FitAnswer) -> dict[str, Any]:
    """The answer as JSON data, in the fixed form of ``rangebook fit --json``."""
    return {
        "removed": answer.removed.number,
        "seats": [
            {
                "family": one.seat.family.id,
                "plug": one.seat.plug.name,
                "came_with": one.seat.original.number,
                "how": one.how,
                "applications": [dict(application.stated) for application in one.seat.applications],
                "candidates": [candidate_data(verdict) for verdict in one.candidates],
                "stands_on": {number: _footing(footing) for number, footing in one.stands_on.items()},
            }
            for one in answer.seats
        ],
    }


def _footing(footing: Footing) -> dict[str, Any]:
    """The weakest source that a verdict stands on: which fact, of what, and the source; ``kind`` is ``None`` where there is none."""
    source = footing.source
    return {
        "fact": footing.fact,
        "of": footing.of,
        "kind": source and source.kind,
        "detail": source and source.detail,
        "by": source and source.by,
        "on": source and source.on,
    }


def candidate_data(verdict: Verdict) -> dict[str, Any]:
    """One candidate as JSON data, in the fixed form."""
    return {
        "number": verdict.part.number,
        "verdict": str(verdict.word),
        "needs": [{"kit": one.kit, "seal": one.seal, "blanks": one.blanks} for one in verdict.needs],
        "moves": dict(verdict.moves),
        "unused_pins": list(verdict.unused_pins),
        "reasons": [{"check": one.check, "text": one.text} for one in verdict.reasons],
    }
