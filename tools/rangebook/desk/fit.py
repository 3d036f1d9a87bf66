"""The answer to "this came off: what fits, and what else does it take"."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from rangebook.book.book import Book
from rangebook.book.model import Kit, Part
from rangebook.book.numbers import nearest
from rangebook.desk.answer import Candidate, SeatAnswer, seat_answer
from rangebook.desk.setting import setting_of
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.interchange import directions
from rangebook.fitting.provenance import Provenance
from rangebook.fitting.seats import Seat
from rangebook.fitting.supersession import End, chain_ends
from rangebook.fitting.verdict import Verdict
from rangebook.words.reasons import reason_data


class NotInBook(LookupError):
    """A number is not in the book; ``nearest`` are the numbers that look most like it."""

    def __init__(self, number: str, near: list[str]) -> None:
        super().__init__(f"{number} is not in the book")
        self.number = number
        self.nearest = near


@dataclass(frozen=True, slots=True)
class SeatTaken:
    """One seat that the removed part may have been on, with the answer for it.

    ``how`` is ``came_with`` or ``fits``. ``asks`` is whether another plug may be there as well, with its own answer. ``ways`` maps the
    number of a part that fits to whether the original in turn fits everywhere that it came; ``None`` where that is not known.
    """

    how: str
    answer: SeatAnswer
    ways: Mapping[str, bool | None]
    asks: bool = False

    @property
    def seat(self) -> Seat:
        """The seat."""
        return self.answer.seat

    @property
    def candidates(self) -> tuple[Candidate, ...]:
        """What can stand in there."""
        return self.answer.candidates


@dataclass(frozen=True, slots=True)
class FitAnswer:
    """All seats of a removed part with their candidates, and where the makers' chain from it leads."""

    removed: Part
    seats: tuple[SeatTaken, ...]
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
    taken = fitter.seats_taken_by(part)
    count = Counter(_vehicles_of(seat) for seat, _ in taken)
    seats = tuple(replace(_seat_taken(fitter, seat, how, other), asks=count[_vehicles_of(seat)] > 1) for seat, how in taken)
    return FitAnswer(part, seats, tuple(chain_ends(fitter.book, part)), fitter.book.kits)


def _vehicles_of(seat: Seat) -> Hashable:
    """What seats of the same vehicles have in common, whatever plug is there now."""
    return seat.family.id, seat.plug.name, seat.original.key, seat.positions


def _seat_taken(fitter: Fitter, seat: Seat, how: str, only: Part | None) -> SeatTaken:
    answer = seat_answer(fitter, seat, [fitter.verdict(seat, only)] if only else None)
    fitting = [one.verdict.part for one in answer.candidates if one.verdict.fits and one.verdict.part is not seat.original]
    return SeatTaken(how, answer, {part.number: directions(fitter, seat.original, part)[1] for part in fitting})


def judged_in(answer: FitAnswer) -> list[tuple[Seat, list[Part]]]:
    """Each seat of an answer with the parts that were judged on it."""
    return [(one.seat, [two.verdict.part for two in one.candidates]) for one in answer.seats]


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
                "plug_now": plug_now(one.seat, one.asks),
                "applications": [dict(application.stated) for application in one.seat.applications],
                "candidates": [candidate_data(two.verdict) for two in one.candidates],
                "stands_on": {two.verdict.part.number: _provenance(two.known_from) for two in one.candidates},
                "fitting": {two.verdict.part.number: _fitting(one.seat, two.verdict) for two in one.candidates if two.verdict.goes_on},
            }
            for one in answer.seats
        ],
    }


def plug_now(seat: Seat, asks: bool) -> dict[str, Any]:
    """The plug that is there with the removed part on it: its connector, the kits with which it was renewed, and whether it is to be
    looked at because it may be another one of the listed."""
    return {"connector": seat.plug.connector, "kits": [kit.id for kit in seat.renewal], "look": asks}


def _fitting(seat: Seat, verdict: Verdict) -> dict[str, Any]:
    said = setting_of(seat, verdict.part)
    return {"set_in": said.set_in, "method": said.method, "torque_nm": said.torque_nm, "cautions": list(said.cautions)}


def _provenance(known: Provenance) -> dict[str, Any]:
    """The weakest source that a verdict stands on: which fact, of what, and the source; ``kind`` is ``None`` where there is none."""
    source = known.source
    return {
        "fact": known.fact,
        "of": known.of,
        "kind": source and source.kind,
        "detail": source and source.detail,
        "by": source and source.by,
        "on": source and source.on,
    }


def candidate_data(verdict: Verdict) -> dict[str, Any]:
    """One candidate as JSON data, in the fixed form."""
    return {
        "number": verdict.part.number,
        "status": verdict.part.status,
        "verdict": str(verdict.kind),
        "needs": [{"kit": one.kit, "seal": one.seal, "blanks": one.blanks} for one in verdict.needs],
        "moves": dict(verdict.moves),
        "unused_pins": list(verdict.unused_pins),
        "reasons": [reason_data(one) for one in verdict.reasons],
    }
