"""The answer to "this came off: what fits, and what else does it take"."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from rangebook.book.book import Book
from rangebook.book.model import Fitted, Kit, Part
from rangebook.book.numbers import nearest, normalise
from rangebook.desk.answer import Candidate, SeatAnswer, seat_answer
from rangebook.desk.layers import candidate_layers, layer_data, of_part, of_plug
from rangebook.desk.needs import needs_data
from rangebook.desk.setting import setting_of
from rangebook.desk.worklists import Measurement, settles_most
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.interchange import directions
from rangebook.fitting.provenance import Provenance
from rangebook.fitting.seats import Seat
from rangebook.fitting.standing import OFFERED, Group, group_of
from rangebook.fitting.supersession import End, chain_ends
from rangebook.fitting.tried import Tried
from rangebook.fitting.verdict import Verdict
from rangebook.words.book import how_words
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
    ``measure_first`` is the one thing that settles most of what is not known here, ``None`` where nothing is.
    """

    how: str
    answer: SeatAnswer
    ways: Mapping[str, bool | None]
    measure_first: Measurement | None
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
    """All seats of a removed part with their candidates, or with the one that was asked about, and where the makers' chain from it leads.
    ``measure_first`` is the one thing that settles most of what is not known on all of them; ``book`` is what was asked."""

    removed: Part
    candidate: Part | None
    seats: tuple[SeatTaken, ...]
    ends: tuple[End, ...]
    book: Book
    measure_first: Measurement | None

    @property
    def kits(self) -> Mapping[str, Kit]:
        """The book's kits by id."""
        return self.book.kits

    @property
    def parts(self) -> Mapping[str, Part]:
        """The book's parts by normalised number."""
        return self.book.by_number


def find_part(book: Book, number: str) -> Part:
    """The part with this number in any spelling, by its own or by another that it goes by, or the one part whose number looks the same.
    Raises :class:`NotInBook`."""
    part = book.part(number) or book.by_other_number.get(normalise(number))
    if part is not None:
        return part
    alike = book.look_alikes(number)
    if len(alike) == 1:
        return alike[0]
    near = nearest(number, book.every_number())
    raise NotInBook(number, list(dict.fromkeys([*(one.number for one in alike), *near])))


def fit(fitter: Fitter, removed: str, candidate: str | None = None) -> FitAnswer:
    """What fits in place of ``removed``, or how ``candidate`` would. Raises :class:`NotInBook` for either number."""
    part = find_part(fitter.book, removed)
    other = find_part(fitter.book, candidate) if candidate else None
    taken = fitter.seats_taken_by(part)
    seats = tuple(replace(_seat_taken(fitter, seat, how, other), asks=asks) for (seat, how), asks in zip(taken, asked(taken), strict=True))
    judged = [(one.seat, two.verdict) for one in seats for two in one.candidates]
    return FitAnswer(part, other, seats, tuple(chain_ends(fitter.book, part)), fitter.book, settles_most(judged))


def asked(taken: Sequence[tuple[Seat, str]]) -> list[bool]:
    """For each seat that a part may have come off whether another plug may be there, so that it is to be looked at."""
    count = Counter(_vehicles_of(seat) for seat, _ in taken)
    return [count[_vehicles_of(seat)] > 1 for seat, _ in taken]


def _vehicles_of(seat: Seat) -> Hashable:
    """What seats of the same vehicles have in common, whatever plug is there now."""
    return seat.family.id, seat.plug.name, seat.original.key, seat.positions, seat.place


def _seat_taken(fitter: Fitter, seat: Seat, how: str, only: Part | None) -> SeatTaken:
    answer = seat_answer(fitter, seat, [fitter.verdict(seat, only)] if only else None)
    fitting = [one.verdict.part for one in answer.candidates if one.verdict.fits and one.verdict.part is not seat.original]
    ways = {part.number: directions(fitter, seat.original, part)[1] for part in fitting}
    return SeatTaken(how, answer, ways, settles_most((seat, one.verdict) for one in answer.candidates))


def judged_in(answer: FitAnswer) -> list[tuple[Seat, list[Part]]]:
    """Each seat of an answer with the parts that were judged on it."""
    return [(one.seat, [two.verdict.part for two in one.candidates]) for one in answer.seats]


def as_data(answer: FitAnswer) -> dict[str, Any]:
    """The answer as JSON data, in the fixed form of ``rangebook fit --json``."""
    return {
        "removed": answer.removed.number,
        "removed_status": answer.removed.status,
        **layer_data(answer.book, *of_part(answer.book, answer.removed)),
        "measure_first": _measure(answer.measure_first),
        "seats": [
            {
                "family": one.seat.family.id,
                "plug": one.seat.plug.name,
                "came_with": one.seat.original.number,
                "how": one.how,
                **layer_data(answer.book, *of_plug(answer.book, one.seat.plug)),
                "plug_now": plug_now(one.seat, one.asks),
                "applications": [dict(application.stated) for application in one.seat.applications],
                "candidates": [
                    {**candidate_data(two.verdict, two.tried), **candidate_layers(answer.book, one.seat, two.verdict.part)}
                    for two in one.candidates
                ],
                "stands_on": {two.verdict.part.number: _provenance(two.known_from) for two in one.candidates},
                **offer_data([two.verdict for two in one.candidates], one.answer.best),
                "measure_first": _measure(one.measure_first),
                "fitting": {two.verdict.part.number: _fitting(one.seat, two.verdict) for two in one.candidates if two.verdict.goes_on},
            }
            for one in answer.seats
        ],
    }


def offer_data(judged: Iterable[Verdict], best: Part | None) -> dict[str, Any]:
    """``offered`` are the numbers that may be offered on a seat, what to fit first; ``withdrawn`` those that their
    maker took back, whatever their verdict, each with the number to fit ``instead``. A program that offers parts goes by these."""
    groups = [(one.part.number, group_of(one)) for one in judged]
    return {
        "offered": [number for number, group in groups if group in OFFERED],
        "withdrawn": [{"number": number, "instead": best and best.number} for number, group in groups if group is Group.WITHDRAWN],
    }


def _measure(found: Measurement | None) -> dict[str, Any] | None:
    """The measurement that settles most: of what (``of`` and ``name``), the reason's code, in words how it is found out, how many answers
    it settles, and how many wait for it."""
    if found is None:
        return None
    return {
        "of": str(found.what),
        "name": found.name,
        "code": found.how.code,
        "text": how_words(found.how.code),
        "settles": len(found.settles),
        "waits": len(found.waits),
    }


def plug_now(seat: Seat, asks: bool) -> dict[str, Any]:
    """The plug that is there with the removed part on it: its connector, the kits with which it was renewed, and whether it is to be
    looked at because it may be another one of the listed. Where there are several plugs ``connectors`` has them by name."""
    several = {"connectors": seat.plug.connectors} if seat.plug.connectors else {}
    return {"connector": seat.plug.connector, **several, "kits": [kit.id for kit in seat.renewal], "look": asks}


def plugs_on(verdict: Verdict) -> dict[str, str] | None:
    """Where there are several: which of the vehicle's plugs goes on which connector of the part, by their names; ``None`` where there is
    but one of each, or it does not go on."""
    way = verdict.way
    if way is None or not verdict.goes_on or len(way.legs) == len(verdict.part.sockets) == 1:
        return None
    return {leg.plug.name: leg.housing.name for leg in way.legs}


def _fitting(seat: Seat, verdict: Verdict) -> dict[str, Any]:
    said = setting_of(seat, verdict.part)
    return {
        "set_in": said.set_in,
        "method": said.method,
        "set_by": said.set_by,
        "torque_nm": said.torque_nm,
        "bolts_nm": [{"at_deg": at, "torque_nm": torque} for at, torque in said.bolts_nm],
        "cautions": list(said.cautions),
    }


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


def candidate_data(verdict: Verdict, tried: Iterable[Tried] = ()) -> dict[str, Any]:
    """One candidate as JSON data, in the fixed form. Of a wire that a lead brings to several cavities ``moves`` has the first, if any,
    and ``fans`` all of them. Under ``fitted`` stands what was tried in the bay, if anything; it decides nothing."""
    records = [{**record_data(one), "accord": str(accord)} for one, accord in tried]
    return {
        "number": verdict.part.number,
        "status": verdict.part.status,
        "verdict": str(verdict.kind),
        "needs": needs_data(verdict.needs, verdict.also),
        "moves": dict(verdict.moves),
        **({"fans": {old: list(every) for old, every in verdict.fans.items()}} if verdict.fans else {}),
        "unused_pins": list(verdict.unused_pins),
        **({"plugs": plugs} if (plugs := plugs_on(verdict)) else {}),
        "reasons": [reason_data(one) for one in verdict.reasons],
        **({"fitted": records} if records else {}),
    }


def record_data(record: Fitted) -> dict[str, str | None]:
    """One record of the bay, by the keys of the entry format; ``None`` where it does not say."""
    return {"on": record.on, "by": record.by, "vehicle": record.vehicle, "outcome": record.outcome, "note": record.note}
