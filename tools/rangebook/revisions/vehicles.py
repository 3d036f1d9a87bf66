"""What each vehicle of the book is told before and after a change: its seat, what to fit first, and what to order with it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from rangebook.book.book import Book
from rangebook.book.model import Application
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.kit_contents import Needed
from rangebook.fitting.seats import Seat
from rangebook.fitting.standing import first_offer
from rangebook.fitting.verdict import VerdictKind
from rangebook.reasons.codes import Also
from rangebook.revisions.facts import FactChange
from rangebook.revisions.paired import paired, paired_vehicles, who
from rangebook.revisions.touched import SeatKey, Touched, trials


@dataclass(frozen=True, slots=True)
class Told:
    """What a vehicle is told in one state: its plug, what it was built with and its lever, as far as they are stated; whether these make a
    seat; and the first of what may be offered there, ``None`` where nothing may, with what it needs."""

    family: str
    plug: str | None
    came_with: str | None
    lever: tuple[str, ...] | None
    has_seat: bool
    first: str | None = None
    verdict: VerdictKind | None = None
    needs: tuple[Needed, ...] = ()
    also: tuple[Also, ...] = ()
    moves: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class VehicleChange:
    """One application. ``old`` is ``None`` for one that was added, ``new`` for one that is gone. ``safety`` is whether it is looked at
    first: a vehicle that was in the book is held against another plug, part or lever now, or more vehicles are."""

    vehicle: str
    years: str | None
    engine: str | None
    drive: str | None
    gearbox: str | None
    old: Told | None
    new: Told | None
    old_years: str | None
    safety: bool
    family: str


def vehicle_changes(touched: Touched, facts: Iterable[FactChange] = (), seats: Iterable[SeatKey] = ()) -> list[VehicleChange]:
    """Every application that came, went, or is told something else, safety first, then in the order of the book. ``facts`` are those that
    differ, ``seats`` those of which some verdict does, where they are known."""
    old, new = touched.old, touched.new
    flagged = {(one.entry, one.at[1]) for one in facts if one.safety and one.at[:1] == ("applications",) and len(one.at) > 1}
    moved = set(seats) | set(touched.seats) | set(_ranked_otherwise(touched))
    was, now = _Seated(old), _Seated(new)
    found = []
    for one, other in _couples(old.book, new.book, was, now, moved):
        before, after = (None if each is None else of.told(*each) for each, of in ((one, was), (other, now)))
        shown = other or one
        assert shown is not None
        family, application = shown
        safety = (family, _called(application)) in flagged and one is not None and other is not None
        years = one[1].years if one is not None else None
        if before == after and not safety and years == application.years:
            continue
        found.append(
            VehicleChange(
                *(application.vehicle, application.years, application.engine, application.drive, application.gearbox),
                *(before, after, years, safety, family),
            )
        )
    return sorted(found, key=lambda one: not one.safety)


def seats_to_judge(touched: Touched) -> set[SeatKey]:
    """The seats on which the parts are judged anew to tell :func:`vehicle_changes`."""
    of_families = (seat.key for fitter in (touched.old, touched.new) for seat in fitter.seats if seat.family.id in touched.families)
    return {*touched.seats, *_ranked_otherwise(touched), *of_families}


_Named = tuple[str, Application]
"""An application with its family's id."""


def _couples(old: Book, new: Book, was: _Seated, now: _Seated, moved: set[SeatKey]) -> Iterator[tuple[_Named | None, _Named | None]]:
    """Applications of both states that are the same vehicle, as far as they may be told something else."""
    alone: list[_Named] = []
    fresh: list[_Named] = []
    for name in {**old.families, **new.families}:
        one, other = old.families.get(name), new.families.get(name)
        if (one is None and name in old.lost_ids) or (other is None and name in new.lost_ids):
            continue  # what it says is not known in one of them, which is told of its file
        before, after = (each.applications if each else () for each in (one, other))
        if one is other:
            for each in before:
                if (was.key(each) in moved) or (now.key(each) in moved):
                    yield (name, each), (name, each)
            continue
        for a, b in paired_vehicles([each.stated for each in before], [each.stated for each in after]):
            if a is not None and b is not None:
                yield (name, before[a]), (name, after[b])
            elif a is not None:
                alone.append((name, before[a]))
            elif b is not None:
                fresh.append((name, after[b]))
    for c, d in paired(alone, fresh, (lambda each: who(each[1].stated),)):
        yield (None if c is None else alone[c]), (None if d is None else fresh[d])


def _called(application: Application) -> str:
    return " ".join(filter(None, (application.vehicle, application.years)))


def _ranked_otherwise(touched: Touched) -> Iterator[SeatKey]:
    """The seats on which a part of a family that differs is tried: what comes first goes by status and makers' chains too."""
    for fitter in (touched.old, touched.new):
        parts = [part for name in touched.families if (family := fitter.book.families.get(name)) for part in family.parts]
        yield from (seat.key for seat, _ in trials(fitter, parts, touched.seats))


class _Seated:
    """The seats of one state by application, and what is told on each."""

    def __init__(self, fitter: Fitter) -> None:
        self.fitter = fitter
        self._seats: Mapping[int, Seat] = {id(one): seat for seat in fitter.seats for one in seat.applications}
        self._first: dict[int, dict[str, Any]] = {}

    def key(self, application: Application) -> SeatKey | None:
        """The key of a vehicle's seat; ``None`` where it has none."""
        seat = self._seats.get(id(application))
        return None if seat is None else seat.key

    def told(self, family: str, application: Application) -> Told:
        """What a vehicle is told."""
        seat = self._seats.get(id(application))
        stated = family, application.plug, application.came_with, application.lever
        if seat is None:
            return Told(*stated, has_seat=False)
        if id(seat) not in self._first:
            self._first[id(seat)] = self._answer(seat)
        return Told(*stated, has_seat=True, **self._first[id(seat)])

    def _answer(self, seat: Seat) -> dict[str, Any]:
        best = first_offer(self.fitter.candidates(seat))
        if best is None:
            return {}
        moves = tuple(best.moves.items()) if best.kind is VerdictKind.REWIRE else ()
        return {"first": best.part.number, "verdict": best.kind, "needs": best.needs, "also": best.also, "moves": moves}
