"""What was tried in the bay, laid beside what is computed. No verdict goes by it: a record says what came of one part in one vehicle."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from rangebook.book.book import Book
from rangebook.book.model import Application, Family, Fitted, KeyPath, Part
from rangebook.fitting.conditions import plain
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import GOES_ON, Verdict, VerdictKind

WORKED = "works"
"""The outcome of a part that was proved in the vehicle; the other one is ``fails``."""


class Accord(StrEnum):
    """How a record stands to what is computed: they agree; one of the two is wrong; neither, for the answer is not known, or nobody says
    which of several forms of the vehicle it was."""

    AGREES = "agrees"
    AGAINST = "against"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Trial:
    """A record with the part that was fitted, ``None`` where nobody says which, the vehicle, ``None`` where it names none, and the seats
    that it can be of, none where the book has no such vehicle. ``application`` is the one that it stands under, ``None`` under a part."""

    family: Family
    record: Fitted
    part: Part | None
    vehicle: str | None
    seats: tuple[Seat, ...]
    application: Application | None = None


def accord(outcome: str, kinds: Iterable[VerdictKind]) -> Accord | None:
    """How an outcome stands to the verdicts on all the seats that it can be of: which of these it was nobody knows, so it is against
    them only where it is against each; ``None`` where there is none."""
    found = {_accord(outcome == WORKED, kind) for kind in kinds}
    return next((one for one in (Accord.AGREES, Accord.OPEN, Accord.AGAINST) if one in found), None)


def _accord(worked: bool, kind: VerdictKind) -> Accord:
    if kind is VerdictKind.UNKNOWN:
        return Accord.OPEN
    return Accord.AGREES if worked == (kind in GOES_ON) else Accord.AGAINST


def trials(book: Book, seats: Iterable[Seat]) -> Iterator[Trial]:
    """Every record of a book in the order of its entries. ``seats`` are those that vehicles were built with."""
    records = [(family, part) for family in book.families.values() for part in family.parts if part.fitted]
    under = [(family, one) for family in book.families.values() for one in family.applications if one.fitted]
    if not records and not under:
        return
    named: dict[str, dict[Seat, None]] = {}
    own: dict[tuple[str, KeyPath], dict[Seat, None]] = {}
    for seat in seats:
        for application in seat.applications:
            named.setdefault(plain(application.vehicle), {})[seat] = None
            own.setdefault((seat.family.id, application.path), {})[seat] = None
    for family, part in records:
        for record in part.fitted:
            found = named.get(plain(record.vehicle), {}) if record.vehicle else {}
            yield Trial(family, record, part, record.vehicle, tuple(found))
    for family, application in under:
        built = book.part(application.came_with) if application.came_with else None
        its = tuple(own.get((family.id, application.path), ()))
        for record in application.fitted:
            yield Trial(family, record, built, application.vehicle, its, application)


class Tried(NamedTuple):
    """One record beside the verdict on a seat that it can be of."""

    record: Fitted
    accord: Accord


def tried_on(fitter: Fitter, seat: Seat, verdict: Verdict) -> tuple[Tried, ...]:
    """What was tried of a part in the vehicles of a seat: the part's own records that name one of them, and of the seat's original those
    that stand under the vehicles, which were made with the plug as it was built."""
    part = verdict.part
    vehicles = {plain(one.vehicle) for one in seat.applications} if part.fitted else set()
    found = [_tried(fitter, verdict, one) for one in part.fitted if one.vehicle and plain(one.vehicle) in vehicles]
    if part.key == seat.original.key and not seat.renewal:
        under = (record for application in seat.applications for record in application.fitted)
        found += [Tried(one, _accord(one.outcome == WORKED, verdict.kind)) for one in under]
    return tuple(found)


def _tried(fitter: Fitter, verdict: Verdict, record: Fitted) -> Tried:
    """A part's own record on one of the seats that it can be of: against the answer there but not on each, it may be of another."""
    here = _accord(record.outcome == WORKED, verdict.kind)
    if here is not Accord.AGAINST:
        return Tried(record, here)
    named = plain(record.vehicle or "")
    seats = (one for one in fitter.seats if any(plain(each.vehicle) == named for each in one.applications))
    against = accord(record.outcome, (fitter.verdict(one, verdict.part).kind for one in seats)) is Accord.AGAINST
    return Tried(record, here if against else Accord.OPEN)
