"""What a meter's readings tell: that the part is good, which single fault explains them, else which two, and what to read next.

The browser has the same in ``site/client/prove/match.js``, over tables of :mod:`rangebook.electrics.faults`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import NamedTuple

from rangebook.book.model import CASE, Part
from rangebook.electrics.behaviour import PinOf
from rangebook.electrics.cells import (
    CLOSED_BELOW_OHMS,
    METER,
    OPEN_ABOVE_OHMS,
    Cell,
    Common,
    Row,
    Spans,
    likely,
    reading_fits,
    settled,
    spans_of,
)
from rangebook.electrics.faults import BESIDE_GOOD, KINDS, SHORTS, Explanation, Fault, Faults, faults_of
from rangebook.electrics.insulation import OTHERS, Known, insulation
from rangebook.electrics.proof import Pair, proof_sheet
from rangebook.electrics.relation import OPEN
from rangebook.electrics.together import ALONE, MOVED


@dataclass(frozen=True, slots=True)
class Reading:
    """A meter's reading between two terminals in one position; ``ohms`` infinite for no path. ``b`` may be ``OTHERS``: all others tied."""

    a: str
    b: str
    position: str
    ohms: float


class Taken(NamedTuple):
    """A reading by the places of its line and its position."""

    line: int
    at: int
    ohms: float


class Next(NamedTuple):
    """The reading that would tell most of what is left."""

    a: str
    b: str
    position: str


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """``told`` is what explains all readings, empty if neither one fault nor two do; ``next`` what to read to tell them apart, ``None``
    where there is nothing to tell apart, or no reading that would."""

    told: tuple[Explanation, ...]
    next: Next | None


def diagnose(
    part: Part, pin_of: PinOf, positions: tuple[str, ...], readings: Sequence[Reading], circuits: Known, others: Sequence[Part] = ()
) -> Diagnosis:
    """What explains all the readings. ``circuits`` and ``others`` as for ``faults_of``.

    It is ``good`` only with every insulation reading taken; until then it is ``not_proved``.
    """
    return _judged(part, pin_of, positions, readings, circuits, others, _lines(part, pin_of, positions, circuits))


def further(
    part: Part,
    pin_of: PinOf,
    positions: tuple[str, ...],
    readings: Sequence[Reading],
    circuits: Known,
    others: Sequence[Part],
    found: Diagnosis,
) -> Next | None:
    """Where no line of the sheet tells apart what was ``found``, the reading between another pair of terminals that does."""
    if not found.told or found.told[0].kind in ("good", "not_proved") or not (len(found.told) > 1 or found.told[0].kind == "leak"):
        return None
    sheet = _lines(part, pin_of, positions, circuits)
    every = [pair for pair in combinations([one for one, _ in pin_of], 2) if pair not in sheet and pair[::-1] not in sheet]
    return _judged(part, pin_of, positions, readings, circuits, others, [*sheet, *every]).next


def _lines(part: Part, pin_of: PinOf, positions: tuple[str, ...], circuits: Known) -> list[Pair]:
    return [(one.a, one.b) for one in proof_sheet(part, pin_of, positions, circuits).lines]


def _judged(
    part: Part,
    pin_of: PinOf,
    positions: tuple[str, ...],
    readings: Sequence[Reading],
    circuits: Known,
    others: Sequence[Part],
    sheet: Sequence[Pair],
) -> Diagnosis:
    """Over the lines of a sheet, and whatever else was read."""
    place = {line: at for at, line in enumerate(sheet)}
    for one in readings:
        if (one.a, one.b) not in place:
            place[one.a, one.b] = place.get((one.b, one.a), len(set(place.values())))
    lines = list({at: line for line, at in reversed(place.items())}.items())
    faults = faults_of(part, pin_of, positions, circuits, [line for _, line in sorted(lines)], others)
    taken = [Taken(place[one.a, one.b], positions.index(one.position), one.ohms) for one in readings]
    insulated = [place[one.terminal, OTHERS] for one in insulation(part, pin_of, positions, circuits)[0]]
    return told(faults, positions, insulated, taken)


def told(faults: Faults, positions: Sequence[str], insulated: Sequence[int], taken: Sequence[Taken]) -> Diagnosis:
    """The same over the lines of a sheet; ``insulated`` are the places of those against all others."""
    wrong = frozenset(place for place, one in enumerate(taken) if not reading_fits(faults.good[one.line][one.at], one.ohms))
    clears = {one: found for one in faults.faults if (found := cleared(one, faults.good, taken, wrong)) is not None}
    single = [one for one, (found, _) in clears.items() if found == wrong]
    if not wrong:
        left = tuple(faults.lines[line][0] for line in insulated if _left(faults, line, taken))
        first = Explanation("not_proved", left) if left else Explanation("good")
        return Diagnosis((first, *(one.explanation for one in single if one.kind in BESIDE_GOOD and one.shown)), None)
    if single:
        follow = next_reading(faults, positions, [[(one, clears[one][1])] for one in single], taken)
        return Diagnosis(tuple(_one_path([one.explanation for one in single])), follow)
    leaks = tuple(_leaks(faults, insulated, taken, wrong))
    if leaks:
        return Diagnosis(leaks, None)
    pairs = [*_apart(clears, wrong), *_together(faults, taken, wrong)]
    follow = next_reading(faults, positions, pairs, taken)
    return Diagnosis(tuple(Explanation("pair", (), tuple(one.explanation for one, _ in both)) for both in pairs), follow)


def cleared(fault: Fault, good: Sequence[Row], taken: Sequence[Taken], wrong: frozenset[int]) -> tuple[frozenset[int], Spans] | None:
    """Which of the wrong readings a fault explains; ``None`` if it is refuted where it changes something."""
    common = []
    found = set()
    for place, (line, at, ohms) in enumerate(taken):
        cell = fault.changed[line][at] if line in fault.changed else good[line][at]
        if cell == good[line][at]:
            continue
        if isinstance(cell, Common):
            common.append((cell, ohms))
        elif not reading_fits(cell, ohms):
            return None
        if place in wrong:
            found.add(place)
    spans = spans_of(common)
    return None if spans is None else (frozenset(found), spans)


def _left(faults: Faults, line: int, taken: Sequence[Taken]) -> bool:
    """Whether some reading of a line is left to take."""
    read = {one.at for one in taken if one.line == line}
    return any(cell is not None and at not in read for at, cell in enumerate(faults.good[line]))


def _one_path(found: list[Explanation]) -> list[Explanation]:
    """Shorts and leaks from one terminal to this or that other one are one path of that terminal."""
    paths = [one for one in found if one.kind in SHORTS]
    shared = set.intersection(*({*one.about, *(("case",) if one.kind == "grounded" else ())} for one in paths)) if len(paths) > 1 else set()
    if len(shared) != 1:
        return found
    return [*(one for one in found if one not in paths), Explanation("leak", tuple(shared))]


def _leaks(faults: Faults, insulated: Sequence[int], taken: Sequence[Taken], wrong: frozenset[int]) -> Iterator[Explanation]:
    """The outputs that have a path too many, if that is all that is wrong: where they have one end, and should be open."""
    bad = [taken[place] for place in sorted(wrong)]
    leaking = [faults.lines[line][0] for line in insulated if any(one.line == line for one in bad)]
    if all(not _no_leak(faults, one, leaking) for one in bad):
        yield from (Explanation("leak", (one,)) for one in leaking)


def _no_leak(faults: Faults, one: Taken, leaking: Sequence[str]) -> bool:
    """Whether a wrong reading is none of what leaks."""
    return faults.good[one.line][one.at] != OPEN or not set(faults.lines[one.line]) & set(leaking)


Held = tuple[Fault, Spans]
"""A fault that the readings do not refute, with what they leave of what is the same for all of them."""


def _apart(clears: Mapping[Fault, tuple[frozenset[int], Spans]], wrong: frozenset[int]) -> Iterator[tuple[Held, Held]]:
    """Two faults that lie apart and explain together what neither does alone."""
    for (one, (some, spans)), (other, (rest, more)) in combinations([each for each in clears.items() if each[1][0]], 2):
        if some | rest == wrong and apart(one, other):
            yield (one, spans), (other, more)


def _together(faults: Faults, taken: Sequence[Taken], wrong: frozenset[int]) -> Iterator[tuple[Held, Held]]:
    """The same of two that do not lie apart: what is read with both is reckoned anew."""
    first = [taken[place] for place in sorted(wrong)]
    rest = [one for place, one in enumerate(taken) if place not in wrong]
    able = [(one, _touched(faults, one, first)) for one in faults.faults if one.kind not in ALONE]
    for (one, some), (other, more) in combinations(able, 2):
        if len(some | more) == len(first) and not apart(one, other):
            for order in orders(one, other):
                spans = _spans(faults, order, [*first, *rest])
                if spans is not None:
                    yield (order[0], spans), (order[1], spans)
                    break


def _touched(faults: Faults, one: Fault, taken: Sequence[Taken]) -> frozenset[int]:
    """The places of the readings that a fault can have a part in."""
    return frozenset(
        place
        for place, (line, at, _) in enumerate(taken)
        if (one.zone is None or one.zone & faults.zones[line]) and (one.acts is None or one.zone is None or at in one.acts)
    )


def _spans(faults: Faults, both: Sequence[Fault], taken: Sequence[Taken]) -> Spans | None:
    """What is left of what is common to all readings if two faults explain them; ``None`` if they do not."""
    common = []
    for line, at, ohms in taken:
        cell = faults.net.cell(both, line, at)
        if isinstance(cell, Common):
            common.append((cell, ohms))
        elif not reading_fits(cell, ohms):
            return None
    return spans_of(common) if _one_step(both, taken, len(faults.net.positions)) else None


def _one_step(both: Sequence[Fault], taken: Sequence[Taken], positions: int) -> bool:
    """Whether a step of a ladder that is wrong reads the same wherever it is read: with the switch a detent off, and at its end, two
    positions of the lever are one of the switch."""
    shift = sum(int(one.about[0]) for one in both if one.kind == "detent")
    if not shift or all(one.kind != "step_wrong" for one in both):
        return True
    end = positions - 1 if shift > 0 else 0
    own = {one.line: one.ohms for one in taken if one.at == end and one.ohms <= OPEN_ABOVE_OHMS}
    return all(_same(own[one.line], one.ohms) for one in taken if one.at == end - shift and one.line in own)


def _same(one: float, other: float) -> bool:
    """Whether a meter may show both of one resistance."""
    return abs(one - other) <= 2 * METER * max(one, other, CLOSED_BELOW_OHMS / METER)


def orders(one: Fault, other: Fault) -> tuple[tuple[Fault, Fault], ...]:
    """In which order two faults are made, each way where that matters. Of two of one contact what breaks it comes last: it leaves nothing
    of the other."""
    if one.contact is not None and one.contact == other.contact:
        first, last = sorted((one, other), key=lambda each: KINDS.index(each.kind), reverse=True)
        return ((first, last),)
    matters = {one.kind, other.kind} & MOVED and _terminals(one) & _terminals(other)
    return ((one, other), (other, one)) if matters else ((one, other),)


def _terminals(one: Fault) -> set[str]:
    return {*one.about, *((CASE,) if one.kind == "grounded" else ())} if one.kind in MOVED | SHORTS else set()


def apart(one: Fault, other: Fault) -> bool:
    """Whether two faults change nothing of each other's: they have no bundle in common, or no position."""
    if one.zone is None or other.zone is None:
        return False
    return not one.zone & other.zone or (one.acts is not None and other.acts is not None and not one.acts & other.acts)


MOST_COMPARED = 40
"""So many of what is left are looked at for the next reading."""


def next_reading(
    faults: Faults, positions: Sequence[str], left: Sequence[Sequence[tuple[Fault, Spans]]], taken: Sequence[Taken]
) -> Next | None:
    """The reading not yet taken after which, whichever of ``left`` it is, fewest would be left on average."""
    done = {(one.line, one.at) for one in taken}
    left = left[:MOST_COMPARED]
    best, least = None, len(left) ** 2
    for line, good in enumerate(faults.good):
        for at, cell in enumerate(good):
            if cell is not None and (line, at) not in done:
                score = _kept(_cell(faults, some, line, at) for some in left)
                if score < least:
                    best, least = Next(*faults.lines[line], positions[at]), score
    return best


def _cell(faults: Faults, some: Sequence[tuple[Fault, Spans]], line: int, at: int) -> Cell:
    """What is read with some faults together, from what is known of them by now."""
    if len(some) > 1 and not apart(some[0][0], some[1][0]):
        cell = faults.net.cell([one for one, _ in some], line, at)
        return settled(cell, some[0][1]) if isinstance(cell, Common) else cell
    for one, spans in some:
        cell = one.changed[line][at] if line in one.changed else faults.good[line][at]
        if cell != faults.good[line][at]:
            return settled(cell, spans) if isinstance(cell, Common) else cell
    return faults.good[line][at]


def _kept(cells: Iterable[Cell]) -> int:
    """How many would be kept, added up over what the reading may turn out to be."""
    alike = Counter(cells)
    score = 0
    for one, count in alike.items():
        ohms = likely(one)
        score += count * sum(number for other, number in alike.items() if ohms is None or reading_fits(other, ohms))
    return score
