"""Where an answer goes by something that is read on the vehicle or on a part: it is judged for each case, and is only one where it is the
same in all of them.

What there is to read: whether the vehicle is one of those for which the maker says that a number takes another's place; of which design,
under one number, the part is that it came with, and the one in the hand; whether a wire is there that some vehicles lack.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from types import MappingProxyType
from typing import NamedTuple

from rangebook.book.book import Book
from rangebook.book.model import Part, When
from rangebook.book.numbers import normalise
from rangebook.fitting.check_needs import others_of
from rangebook.fitting.conditions import KEYS, Routes, all_hold, any_holds, asked_of, chains_in
from rangebook.fitting.seats import Seat, with_design, without_optional
from rangebook.fitting.verdict import GOES_ON, Verdict, VerdictKind
from rangebook.reasons.codes import Case, Clause, CompanionDepends, ConditionMet, ConditionNotMet, Depends, Reading, Term
from rangebook.reasons.reason import Of, Outcome, Reason, Side, Subject

JudgeOne = Callable[[Book, Seat, Part], Verdict]


class _Vehicle(NamedTuple):
    """Some of a seat's vehicles: the design of the part that they came with, and whether the maker's condition is met."""

    original: Part
    meets: bool


class _Trial(NamedTuple):
    """One case and what it comes to. ``clauses`` are of the original, the candidate, the vehicle and its wires, ``None`` where nothing
    of it decides."""

    clauses: tuple[Clause | None, ...]
    verdict: Verdict


def routes_to(book: Book, seat: Seat, part: Part) -> Routes:
    """The conditions on which the maker says that a part takes the place of the one that the vehicle was built with: of each way there."""
    return chains_in(book).from_part(seat.original).get(part.key, ())


def depends(book: Book, seat: Seat, part: Part) -> bool:
    """Whether there is anything to read at all."""
    return bool(part.revisions or seat.original.revisions or seat.optional or routes_to(book, seat, part))


def judge_each(book: Book, seat: Seat, part: Part, judge_one: JudgeOne) -> Verdict:
    """The verdict of a part, judged in every case by ``judge_one``."""
    trials = list(_trials(book, seat, part, judge_one))
    first = trials[0].verdict
    if len({_answer(one.verdict) for one in trials}) == 1:
        return replace(first, part=part)
    missing = [reason for one in trials for reason in one.verdict.checked if reason.outcome is Outcome.MISSING]
    open_ = [index for index in range(4) if len({one.clauses[index] for one in trials}) > 1]
    cases = tuple(
        dict.fromkeys(
            Case(tuple(clause for at in open_ if (clause := one.clauses[at]) is not None), str(one.verdict.kind)) for one in trials
        )
    )
    readings = tuple(dict.fromkeys(_readings(book, seat, part, open_)))
    reason = Reason(Depends(readings, cases), _whom(seat, readings))
    return Verdict(part, VerdictKind.UNKNOWN, checked=(reason, *dict.fromkeys(missing)))


# Designs of what goes along ------------------------------------------------------------------------------------------------


def companion_of_several(book: Book, seat: Seat, part: Part) -> Part | None:
    """The first of the parts that do the work together with one of which the book states several designs; ``None`` where none has."""
    if part.key == seat.original.key:
        return None
    others = (book.part(number) for number in others_of(book, seat, part))
    return next((one for one in others if one is not None and one.revisions and one.key != part.key.partition("/")[0]), None)


def judge_companion(book: Book, seat: Seat, part: Part, companion: Part, judged: JudgeOne) -> Verdict:
    """The verdict of a part, judged by ``judged`` with each design of ``companion``."""
    trials = []
    for design in companion.designs:
        here = _with_only(book, companion, design)
        stays = companion.key in {normalise(number) for number in seat.original.goes_with}
        there = with_design(here, seat, here.by_number[seat.original.key.partition("/")[0]]) if stays else seat
        trials.append((design, judged(here, there, part)))
    first = trials[0][1]
    if len({_answer(one) for _, one in trials}) == 1:
        return first
    cases = tuple(dict.fromkeys(Case((_clause_of(Side.PLUG, design),), str(one.kind)) for design, one in trials))
    conditions = [one.when for one in companion.revisions if one.when is not None]
    read = tuple(dict.fromkeys(Reading(term.what, Side.PLUG, when.stamped_at) for when in conditions for term in terms_of(when)))
    missing = (reason for _, one in trials for reason in one.checked if reason.outcome is Outcome.MISSING)
    reason = Reason(CompanionDepends(companion.number, read, cases), Subject(Side.BOOK, Of.ITSELF, (companion.number,)))
    return Verdict(part, VerdictKind.UNKNOWN, checked=(reason, *dict.fromkeys(missing)))


def _with_only(book: Book, part: Part, design: Part) -> Book:
    """The book as it is where all parts of one number are of one design. The same object each time."""
    kept: dict[Part, Book] = book.kept.setdefault(_with_only, {})
    if design not in kept:
        alone = replace(design, key=part.key, revisions=(), when=None)
        family = book.family_of(part)
        parts = tuple(alone if one is part else one for one in family.parts)
        kept[design] = replace(book, families=MappingProxyType({**book.families, family.id: replace(family, parts=parts)}))
    return kept[design]


def _whom(seat: Seat, readings: Iterable[Reading]) -> Subject:
    """Where to read it: on the one part, else at the vehicle, and of that at its wires where nothing else is asked."""
    found = {(reading.side, reading.what == "wires") for reading in readings}
    if found == {(Side.PLUG, True)}:
        return Subject(Side.PLUG, Of.WIRE, seat.optional)
    sides = {side for side, _ in found}
    return Subject(sides.pop()) if len(sides) == 1 and Side.PLUG not in sides else Subject(Side.PLUG, names=(seat.plug.name,))


def _answer(verdict: Verdict) -> object:
    """What has to be the same in two cases for them to have one answer."""
    goes_on = verdict.kind in GOES_ON
    return verdict.kind, (verdict.needs, verdict.also, tuple(verdict.moves.items())) if goes_on else ()


def _trials(book: Book, seat: Seat, part: Part, judge_one: JudgeOne) -> Iterator[_Trial]:
    routes = routes_to(book, seat, part)
    terms = _terms_of_way(routes[0]) if routes else ()
    for vehicle in _vehicles(book, seat, routes):
        here = with_design(book, seat, vehicle.original)
        for design in part.designs:
            clauses = (
                _clause_of(Side.ORIGINAL, vehicle.original),
                _clause_of(Side.CANDIDATE, design),
                Clause(Side.PLUG, terms, not vehicle.meets) if routes else None,
            )
            for wires, verdict in _with_and_without(book, here, design, judge_one):
                yield _Trial((*clauses, wires), _by_maker(verdict, terms, vehicle.meets) if routes else verdict)


def _vehicles(book: Book, seat: Seat, routes: Routes) -> list[_Vehicle]:
    """What the seat's vehicles may be, those that meet the maker's condition first."""
    asked = asked_of(book, seat.original)
    found: dict[_Vehicle, None] = {}
    for truths in seat.meet:
        holds = dict(zip(asked, truths, strict=True))
        meets = any_holds(all_hold(holds[one] for one in way) for way in routes) if routes else True
        for design in _designs(seat.original, holds):
            found |= dict.fromkeys(_Vehicle(design, one) for one in ((True, False) if meets is None else (meets,)))
    order = {id(design): place for place, design in enumerate((seat.original, *seat.original.revisions))}
    return sorted(found, key=lambda one: (not one.meets, order[id(one.original)]))


def _designs(part: Part, holds: dict[When, bool | None]) -> list[Part]:
    """The designs that the part of a vehicle may be of."""
    sure = [one for one in part.revisions if one.when is not None and holds[one.when]]
    may = [one for one in part.revisions if one.when is None or holds[one.when] is None]
    return [*sure, *may] if sure else [*may, *(one for one in part.designs if one is part)] or [part]


def _with_and_without(book: Book, seat: Seat, part: Part, judge_one: JudgeOne) -> Iterator[tuple[Clause | None, Verdict]]:
    """The verdict with all wires, and without those that some vehicles lack where that is another one. What fits on more wires fits on
    fewer; and between the two there is nothing else."""
    with_all = judge_one(book, seat, part)
    optional = seat.optional
    bare = None if with_all.fits or not optional else judge_one(book, without_optional(seat), part)
    if bare is None or _answer(bare) == _answer(with_all):
        yield None, with_all
        return
    terms = tuple(Term("wires", cavity, None, None) for cavity in optional)
    yield Clause(Side.PLUG, terms, otherwise=False), with_all
    yield Clause(Side.PLUG, terms, otherwise=True), bare


def _by_maker(verdict: Verdict, terms: tuple[Term, ...], meets: bool) -> Verdict:
    subject = Subject(Side.CANDIDATE)
    if meets:
        return replace(verdict, checked=(*verdict.checked, Reason(ConditionMet(terms), subject)))
    checked = (*verdict.checked, Reason(ConditionNotMet(terms), subject))
    return Verdict(verdict.part, VerdictKind.NO, unused_pins=verdict.unused_pins, checked=checked)


# In words that reasons have ------------------------------------------------------------------------------------------------


def terms_of(when: When) -> tuple[Term, ...]:
    """What a condition asks for."""
    return tuple(term for key in KEYS if (term := _term(key, getattr(when, key))) is not None)


def _term(key: str, asked: object) -> Term | None:
    if asked is None or isinstance(asked, str):
        return None if asked is None else Term(key, asked, None, None)
    assert isinstance(asked, tuple)
    if len(asked) == 1 and asked[0].since != asked[0].until:
        return Term(key, None, asked[0].since, asked[0].until)
    return Term(key, ", ".join(str(one.since) for one in asked), None, None)


def _terms_of_way(way: Iterable[When]) -> tuple[Term, ...]:
    return tuple(dict.fromkeys(term for when in sorted(way, key=repr) for term in terms_of(when)))


def _clause_of(side: Side, design: Part) -> Clause:
    """The clause of a design: of one without a condition nobody knows what tells it apart; of what is said of the part itself, that no
    revision's is met."""
    return Clause(side, () if design.when is None else terms_of(design.when), otherwise=not design.restates)


def _readings(book: Book, seat: Seat, part: Part, open_: Iterable[int]) -> Iterator[Reading]:
    """What to read of that which decides."""
    of_routes = [when for way in routes_to(book, seat, part) for when in sorted(way, key=repr)]
    asked: tuple[tuple[Side, list[When]], ...] = (
        (Side.ORIGINAL, [one.when for one in seat.original.revisions if one.when is not None]),
        (Side.CANDIDATE, [one.when for one in part.revisions if one.when is not None]),
        (Side.PLUG, of_routes),
    )
    for index in open_:
        if index < len(asked):
            side, conditions = asked[index]
            yield from (Reading(term.what, side, when.stamped_at) for when in conditions for term in terms_of(when))
        else:
            yield from (Reading("wires", Side.PLUG, cavity) for cavity in seat.optional)
