"""A supersession that the facts contradict.

For every seat (a plug with the part that the vehicle came with) the verdict of each stated successor is computed, and down
the chain as long as each one fits. It contradicts the claim if it is ``no`` or ``rewire``, if it needs a kit that the ``needs`` on
the way do not name, if a kit is named that is needed nowhere, or if another rear seal is named than the one with a hole for each wire.
``unknown`` contradicts nothing. Of several
successors one with a ``note`` is taken to be for some of the seats only: it must fit one of them, and each seat must have one that fits.

Why it matters: the catalogue says so, and the switch in the hand does not go on, or goes on and does something else. Either the
maker is wrong for this vehicle or an entry is; both are worth knowing before the part is ordered.

Fails: the successor has two pins the other way about.

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: superseded
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        superseded_by: [{number: TB-20455, needs: [oval-9-renewal]}]
        sources: [{kind: seen}]
      - number: TB-20455
        connector: oval-13
        mount: short-boss
        status: current
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 5: backup_out, 4: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 5], closed: [R]}
          - {pins: [4, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        sources: [{kind: seen}]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: superseded
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        superseded_by: [{number: TB-20455, needs: [oval-9-renewal]}]
        sources: [{kind: seen}]
      - number: TB-20455
        connector: oval-13
        mount: short-boss
        status: current
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, NamedTuple

from rangebook.book.book import Book
from rangebook.book.model import KeyPath, Need, Part, Succession
from rangebook.fitting.check_mating import original_goes_on
from rangebook.fitting.judge import judge
from rangebook.fitting.mating import ways
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import Verdict, VerdictKind
from rangebook.lint.context import Chains
from rangebook.lint.faults import Faults
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule
from rangebook.lint.rules import original_misfit
from rangebook.reasons.codes import ConditionNotMet, Move
from rangebook.reasons.reason import Reason
from rangebook.words.book import moves_of
from rangebook.words.lists import some

_AGAINST = frozenset({VerdictKind.NO, VerdictKind.REWIRE})

_NO_MOVES: MappingProxyType[str, str] = MappingProxyType({})


@dataclass(frozen=True)
class Contradiction:
    """How a claim is contradicted: a message's code, and what is put into it."""

    code: str
    moves: tuple[Move, ...] = ()
    reasons: tuple[Reason, ...] = ()
    missing: tuple[str, ...] = ()
    claimed: tuple[str, ...] = ()


class NamedSeat(NamedTuple):
    """A seat by the names in the book, with its first vehicle and how many more it has."""

    family: str
    plug: str
    original: str
    vehicle: str
    more: int


@dataclass(frozen=True, slots=True)
class Tried:
    """One link tried on one seat. ``claimed`` are the kits that the links so far name, ``siblings`` what else takes its place."""

    seat: Seat
    part: Part
    link: Succession
    verdict: Verdict
    claimed: frozenset[str]
    siblings: tuple[Verdict, ...]

    @property
    def is_conditional(self) -> bool:
        """Whether the maker gives a choice, and a condition for this one."""
        return bool(self.siblings) and self.link.note is not None


def check_verdicts(context: Chains) -> Iterator[Problem]:
    """Yield a finding at each claim that the verdicts contradict, once for all seats that contradict it in the same way."""
    faults = Faults(context)
    tried: dict[tuple[str, KeyPath], list[Tried]] = {}
    for seat in context.seats:
        for one in _down_the_chain(context, seat):
            tried.setdefault((one.part.family, one.link.path), []).append(one)
    for found in tried.values():
        yield from _contradictions(context, faults, found)


def _down_the_chain(context: Chains, seat: Seat) -> Iterator[Tried]:
    """Each link from the seat's original on, as far as what it leads to fits; no part is come to twice."""
    book = context.book
    todo: list[tuple[Part, frozenset[str]]] = [(seat.original, frozenset())]
    been = {seat.original.key}
    while todo:
        part, claimed = todo.pop(0)
        known = [(link, successor) for link in part.superseded_by if (successor := book.part(link.number)) is not None]
        verdicts = [_light(context.verdict(seat, successor)) for _, successor in known]
        for index, (link, successor) in enumerate(known):
            if successor.key in been:
                continue
            been.add(successor.key)
            kits = claimed | {need.kit for need in link.needs or () if need.kit}
            verdict = verdicts[index]
            yield Tried(seat, part, link, verdict, kits, (*verdicts[:index], *verdicts[index + 1 :]))
            if verdict.fits:
                todo.append((successor, kits))


def _light(verdict: Verdict) -> Verdict:
    """Without all that was looked at, where nothing will be told of it: of a large book these are many, and kept to the end."""
    return verdict if verdict.kind in _AGAINST else replace(verdict, checked=(), unused_pins=(), moves=_NO_MOVES)


def _contradictions(context: Chains, faults: Faults, tried: list[Tried]) -> Iterator[Problem]:
    book, family = context.book, context.book.family_of(tried[0].part)
    link, successor = tried[0].link, tried[0].verdict.part
    anywhere = any(one.verdict.kind not in _AGAINST for one in tried)
    allowed = context.allows(family.entry.file, RULE.name)

    def sure(claims: Iterable[Tried]) -> bool:
        # What the entry allows is told whatever else is wrong: else, as long as it is, the allowance would look unneeded.
        return allowed or all(_goes_on(context, one.seat) and not faults.are_in(one.seat, (one.part, successor)) for one in claims)

    told: dict[Contradiction, list[Seat]] = {}
    for one in tried:
        said = _against(context, one, anywhere)
        if said and sure([one]):
            told.setdefault(said, []).append(one.seat)
    for said, seats in told.items():
        yield problem(
            family,
            (*link.path, "needs" if said.code == "needs" and link.needs is not None else "number"),
            said.code,
            number=successor.number,
            part=tried[0].part.number,
            moves=said.moves,
            reasons=said.reasons,
            missing=some(said.missing),
            claimed=some(said.claimed),
            **_seats(seats),
        )
    for index, need, seal, seats in _other_seals(sure, tried):
        there = (*link.path, "needs", index, "seal")
        yield problem(family, there, "seal", seal=need.seal, number=successor.number, used=seal, **_seats(seats))
    for index, need in enumerate(link.needs or ()):
        if need.kit is not None and need.kit in book.kits and all(_goes_without(book, one, need.kit) for one in tried) and sure(tried):
            yield problem(
                family,
                (*link.path, "needs", index),
                "goes_without",
                kit=need.kit,
                number=successor.number,
                **_seats([one.seat for one in tried]),
            )


def _other_seals(faults_free: Callable[[Iterable[Tried]], bool], tried: list[Tried]) -> Iterator[tuple[int, Need, int, list[Seat]]]:
    """Each thing needed of which another seal is said than what the wires of a seat ask for, with that seal and those seats. Where a note
    gives a condition, one seat of which it is true will do."""
    link = tried[0].link
    for index, need in enumerate(link.needs or ()):
        if need.seal is None:
            continue
        used: dict[int, list[Tried]] = {}
        for one in tried:
            seals = [each.seal for each in one.verdict.needs if each.seal is not None and need.kit in (None, each.kit)]
            if one.verdict.kind is VerdictKind.WITH_PARTS and len(seals) == 1:
                used.setdefault(seals[0], []).append(one)
        if need.seal in used and (link.note is not None or need.note is not None):
            continue
        for seal, found in used.items():
            if seal != need.seal and faults_free(found):
                yield index, need, seal, [one.seat for one in found]


def _goes_on(context: Chains, seat: Seat) -> bool:
    """Whether the seat's own part goes on, as far as is seen at a glance, or the entry says that it did."""
    return context.allows(seat.family.entry.file, original_misfit.RULE.name) or original_goes_on(context.book, seat) is True


def _goes_without(book: Book, one: Tried, kit: str) -> bool:
    """Whether a part goes straight on, or with other kits on a way on which this one has no place."""
    if one.verdict.kind is VerdictKind.STRAIGHT:
        return True
    found = ways(book, one.seat.plug.sockets, one.verdict.part.sockets)
    return one.verdict.kind is VerdictKind.WITH_PARTS and all(other.id != kit for way in found for other in way.kits)


def _against(context: Chains, one: Tried, fits_anywhere: bool) -> Contradiction | None:
    """How the link is contradicted; ``None`` where it is not."""
    verdict = one.verdict
    if verdict.kind in _AGAINST:
        if one.is_conditional and fits_anywhere and any(other.kind not in _AGAINST for other in one.siblings):
            return None
        if verdict.kind is VerdictKind.REWIRE:
            return Contradiction("rewire", moves=moves_of(verdict.moves))
        if all(isinstance(reason.detail, ConditionNotMet) for reason in verdict.reasons):
            return None  # the maker says so for other vehicles
        return Contradiction("no", reasons=tuple(verdict.reasons))
    needed = [need.kit for need in verdict.needs if need.kit]
    missing = [kit for kit in needed if kit not in one.claimed]
    if verdict.kind is not VerdictKind.WITH_PARTS or not missing:
        return None
    if any(kit not in context.book.kits for kit in one.claimed):
        return None  # a name that is not known may be meant for the one that is missing
    if one.claimed and _with_these(context.book, one).fits:
        return None
    return Contradiction("needs", missing=tuple(missing), claimed=tuple(sorted(one.claimed)))


def _with_these(book: Book, one: Tried) -> Verdict:
    """The verdict if there were no other kits than those that the claim names: there may be more ways than one."""
    named = MappingProxyType({name: kit for name, kit in book.kits.items() if name in one.claimed})
    return judge(replace(book, kits=named), one.seat, one.verdict.part)


def _seats(seats: list[Seat]) -> dict[str, Any]:
    """The first three, and how many there are beside them."""
    named = []
    for seat in seats[:3]:
        vehicles = list(dict.fromkeys(one.vehicle for one in seat.applications))
        named.append(NamedSeat(seat.family.id, seat.plug.name, seat.original.number, vehicles[0], len(vehicles) - 1))
    return {"seats": tuple(named), "more_seats": max(0, len(seats) - 3)}


_SAID = "{number} is said to take the place of {part}, but "
_ON = [", on {seats|seat|semicolon}", {"given": "more_seats", "yes": "; and {more_seats} more"}]
_CHECK = "check what is stated of both parts, the plug and the kits; if that is right, "
_WRONG = f"{_CHECK}the claim is wrong for this vehicle"
_BESIDE = ("seats", "more_seats")

MESSAGES = {
    "rewire": Told([_SAID, "it fits only with wires moved ({moves|move|comma})", *_ON], _WRONG, _BESIDE),
    "no": Told([_SAID, "it does not fit ({reasons|semicolon})", *_ON], _WRONG, _BESIDE),
    "needs": Told(
        [
            _SAID,
            "it needs {missing|some}, which the claim does not name (it names ",
            {"given": "claimed.first", "yes": "{claimed|some}", "no": "no kit"},
            ")",
            *_ON,
        ],
        f"{_CHECK}add the kit to `needs`",
        _BESIDE,
    ),
    "seal": Told(
        ["{number} is said to need the seal for {seal}, but the plug has wires for the one for {used}", *_ON],
        "count the wires of the plug; write `seal: {used}` if they are right, or leave `seal` out where several kinds of plugs are meant",
        _BESIDE,
    ),
    "goes_without": Told(
        ["{kit} is said to be needed with {number}, but it goes on without on {seats|seat|semicolon}", _ON[1]],
        "take the kit out of `needs`, or check the connectors of the plugs and of both parts",
        _BESIDE,
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(Chains, check_verdicts), messages=MESSAGES)
