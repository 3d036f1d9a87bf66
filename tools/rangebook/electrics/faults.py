"""What faults a switch can have, and what each would make a meter read on given lines.

A fault changes some contacts, and with them what is read between terminals of their bundle; all other lines read as on a good part.
``zone`` are the bundles that it touches: two faults whose zones have nothing in common change nothing of each other's.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations
from math import inf

from rangebook.book.model import CASE, Contact, Part
from rangebook.electrics.behaviour import PinOf
from rangebook.electrics.bundles import Bundle, Loop, bundles_of, contact_ohms, tolerance_of
from rangebook.electrics.cells import (
    CLOSED_BELOW_OHMS,
    OPEN_ABOVE_OHMS,
    Between,
    Cell,
    Either,
    Row,
    beside,
    percent_of,
    spanned,
    times,
)
from rangebook.electrics.insulation import OTHERS, Known, insulation, met_pins, outputs_of, powered_pins, read_against, read_in, tied_to
from rangebook.electrics.proof import READ, Pair, read_alone, stuck, stuck_in
from rangebook.electrics.relation import JOINED, MAX_TOLERANCE_PERCENT, OPEN, PathKind, Relation
from rangebook.electrics.together import ALONE, Net, NetContact, Read, worn


@dataclass(frozen=True, slots=True)
class Explanation:
    """One thing that explains all readings: ``kind`` as in ``KINDS``, or ``good``, ``not_proved`` (good as far as it was read, which is not
    all of the insulation) or ``pair`` (the two of ``of`` together). ``about`` are the ends or wires that it concerns, then a position where
    it is one of a position; ``detent``: how many positions the switch is ahead of the lever; ``wrong``: the number of the other part."""

    kind: str
    about: tuple[str, ...] = ()
    of: tuple[Explanation, ...] = ()


KINDS = (
    "stuck_open", "stuck_closed", "burnt", "open", "detent", "swapped", "resistance", "step_open", "step_wrong", "drift", "shunted",
    "shorted", "grounded", "leakage", "wrong", "leads_open", "leads", "leak",
)  # fmt: skip
"""In the order in which they are told. ``leak`` is an output with a path that no contact is, wherever it leads."""

BESIDE_GOOD = frozenset({"stuck_open", "stuck_closed", "burnt", "step_open", "open", "detent", "swapped"})
"""Told of a part on which all reads as it should, if it would show nowhere. All others are told only of what reads otherwise."""

SHORTS = frozenset({"shorted", "grounded", "leakage"})


@dataclass(frozen=True, slots=True, eq=False)
class Fault:
    """What would be read if ``explanation`` were so: ``changed`` are the lines that read otherwise than on a good part, by their place.
    ``zone`` are the bundles that it touches, ``None`` for all, ``acts`` the places of the positions in which it does, ``None`` for all.
    ``contact`` is the place in the net of the contact that it is of. ``shown`` is false where nothing between any two terminals shows it
    unless there is another fault."""

    explanation: Explanation
    changed: Mapping[int, Row]
    zone: frozenset[int] | None
    contact: int | None = None
    acts: frozenset[int] | None = None
    shown: bool = True

    @property
    def kind(self) -> str:
        """What it is called."""
        return self.explanation.kind

    @property
    def about(self) -> tuple[str, ...]:
        """What it concerns."""
        return self.explanation.about


@dataclass(frozen=True, slots=True, eq=False)
class Faults:
    """What a good part reads on ``lines``, and what each fault of it would. The second end of a line may be ``OTHERS``. ``net`` tells what
    two of them together would, ``zones`` the bundles of each line."""

    lines: tuple[Pair, ...]
    good: tuple[Row, ...]
    faults: tuple[Fault, ...]
    net: Net
    zones: tuple[frozenset[int], ...]

    def row(self, fault: Fault, a: str, b: str) -> Row:
        """What would be read between two terminals."""
        at = self.lines.index((a, b) if (a, b) in self.lines else (b, a))
        return fault.changed.get(at, self.good[at])


def faults_of(
    part: Part, pin_of: PinOf, positions: tuple[str, ...], circuits: Known, lines: Iterable[Pair], others: Sequence[Part] = ()
) -> Faults:
    """What is read on each line by a good part and by every single fault that would show. ``circuits`` as for ``proof_sheet``; ``others``
    are the parts that it may be taken for, on the same pins."""
    asked = {one.terminal: known(one.expected) for one in insulation(part, pin_of, positions, circuits)[0]}
    return _Bench(part, pin_of, positions, tuple(lines), bool(outputs_of(pin_of, circuits)), asked).found(others)


def known(row: Iterable[Relation]) -> Read:
    """A row with nothing in it that an ohmmeter does not read."""
    return tuple(one if one.path in READ else None for one in row)


class _Bench:
    """A part with its terminals, and the lines that are read there."""

    def __init__(
        self, part: Part, pin_of: PinOf, positions: tuple[str, ...], lines: tuple[Pair, ...], tied: bool, asked: Mapping[str, Read]
    ) -> None:
        self.part, self.pin_of, self.positions, self.lines = part, pin_of, positions, lines
        self.met = dict(met_pins(part, pin_of))
        self.powered = powered_pins(part)
        stated = bundles_of(part)
        self.of, self.listed = stated.of, stated.listed
        wanted = {a for a, b in lines if b == OTHERS}
        self.tied = {one: tied_to(part, self.met, one) for one in self.met if tied or one in wanted}
        self.pairs: dict[Pair, Read] = {}
        self.against: dict[str, Read] = {}
        self.raw = tuple(self.healthy(*line) for line in lines)
        self.good = tuple(asked.get(a, row) if b == OTHERS else row for (a, b), row in zip(lines, self.raw, strict=True))
        self.within: dict[int, list[int]] = {}
        self.across: dict[frozenset[object], list[int]] = {}
        self.ending: dict[tuple[str, ...], list[int]] = {}
        self.sort_lines()
        self.zones: dict[object, int] = {}
        bundles = list(dict.fromkeys(self.of.values()))
        self.places = {id(one): place for place, one in enumerate(one for bundle in bundles for one in bundle.contacts)}
        self.net = Net(
            positions,
            tuple(self.net_contact(number, one) for number, bundle in enumerate(bundles) for one in bundle.contacts),
            self.met,
            {a: self.tied[a] for a, b in lines if b == OTHERS and a in self.tied},
            frozenset(self.met.values()) - self.listed,
            frozenset(one for one, pin in self.met.items() if pin in self.powered),
            self.lines,
            self.good,
            self.raw,
            bool(part.signals),
        )

    def net_contact(self, bundle: int, one: Contact) -> NetContact:
        """A contact of a bundle, by its number, as plain data."""
        ohms = tuple(contact_ohms(one, position) for position in self.positions)
        return NetContact(one.a, one.b, bundle, one.ohms is not None, one.one_way, tolerance_of(one), ohms)

    def found(self, others: Sequence[Part]) -> Faults:
        if not self.lines:
            return Faults((), (), (), self.net, ())
        bundles = {id(self.of[pin]): self.of[pin] for pin in self.met.values() if pin in self.of}
        found = [one for bundle in bundles.values() for one in self.in_bundle(bundle)]
        found += [*self.opened(), *self.detents(), *self.swapped(), *self.shorted(), *self.mistaken(others), *self.leads()]
        found.sort(key=lambda one: KINDS.index(one.explanation.kind))
        zones = tuple(self.zone(*(self.met[one] for one in line if one in self.met)) for line in self.lines)
        return Faults(self.lines, self.good, tuple(found), self.net, zones)

    # What is read --------------------------------------------------------------------------------------------------------

    def healthy(self, a: str, b: str) -> Read:
        """What a good part reads between two terminals: a meter sees all that lies between its probes."""
        if b == OTHERS:
            if a not in self.against:
                self.against[a] = self.tied_row(a)
            return self.against[a]
        found = self.pairs.get((a, b))
        if found is None:
            one, other = self.met.get(a), self.met.get(b)
            bundle = self.of.get(one or "")
            found = self.pairs[a, b] = self.pairs[b, a] = (
                (OPEN,) * len(self.positions)
                if one is None or other is None
                else self.doubted(read_alone(bundle, (one, other), self.positions), one, other)
                if bundle is not None and bundle is self.of.get(other)
                else self.doubted((OPEN,) * len(self.positions), one, other)
            )
        return found

    def tied_row(self, a: str) -> Read:
        pin = self.met.get(a)
        if pin is None or pin in self.powered:
            return (None,) * len(self.positions)
        return known(read_against(self.part, pin, frozenset(self.met[one] for one in self.tied[a]), self.positions))

    def doubted(self, row: Iterable[Relation], *pins: str) -> Read:
        """A row of pins of which some may not be stated: such a one may be joined to any."""
        if self.listed.issuperset(pins):
            return known(row)
        return tuple(one if one == JOINED else None for one in row)

    def read(self, line: Pair, bundle: Bundle, positions: tuple[str, ...], lost: str = "") -> Read:
        """What is read on a line of one bundle when that is as given, and one pin lost."""
        a, b = line
        one = self.met[a]
        if b != OTHERS:
            return self.doubted(read_alone(bundle, (one, self.met[b]), positions), one, self.met[b])
        others = frozenset(self.met[other] for other in self.tied[a]) - {lost}
        row = read_in(bundle, one, others, positions)
        if self.part.signals:
            row = tuple(found if found.path is not PathKind.OHMS else Relation(PathKind.UNKNOWN) for found in row)
        return self.doubted(row, one, *others)

    def lines_in(self, bundle: Bundle) -> Sequence[int]:
        """The places of the lines that lie within a bundle: both ends, or the one end against all others."""
        return self.within.get(id(bundle), ())

    def side(self, pin: str) -> object:
        """What stands for the pins that some contact may bring together with a pin."""
        bundle = self.of.get(pin)
        return pin if bundle is None else id(bundle)

    def sort_lines(self) -> None:
        """Find once which lines lie within a bundle, which lead from one side to another, and which end on a terminal."""
        for at, (a, b) in enumerate(self.lines):
            if b == OTHERS:
                self.ending.setdefault((a,), []).append(at)
            else:
                for ends in dict.fromkeys(((a, b), (b, a))):
                    self.ending.setdefault(ends, []).append(at)
            if a not in self.met or (b != OTHERS and b not in self.met):
                continue
            sides = {self.side(self.met[one]) for one in (a, b) if one != OTHERS}
            if b != OTHERS:
                self.across.setdefault(frozenset(sides), []).append(at)
            if len(sides) == 1 and self.met[a] in self.of:
                self.within.setdefault(id(self.of[self.met[a]]), []).append(at)

    def zone(self, *pins: str | None) -> frozenset[int]:
        """The bundles of some pins, by number; a pin without a contact is one of its own."""
        keys = [id(self.of[pin]) if pin in self.of else pin for pin in pins if pin is not None]
        return frozenset(self.zones.setdefault(key, len(self.zones)) for key in keys)

    def fault(
        self,
        kind: str,
        about: tuple[str, ...],
        rows: Mapping[int, Row],
        zone: frozenset[int] | None,
        contact: Contact | None = None,
        acts: frozenset[int] | None = None,
    ) -> Iterator[Fault]:
        """The fault, whether one of the lines shows it or only with another fault."""
        changed = {at: row for at, row in rows.items() if row != self.raw[at]}
        if changed or kind not in ALONE:
            yield Fault(Explanation(kind, about), changed, zone, self.places[id(contact)] if contact else None, acts, bool(changed))

    # What can be wrong ---------------------------------------------------------------------------------------------------

    def in_bundle(self, bundle: Bundle) -> Iterator[Fault]:
        """Contacts and ladders."""
        lines = self.lines_in(bundle)
        zone = self.zone(bundle.nodes[0])
        every = self.positions

        def rows(low: Bundle, high: Bundle | None = None) -> dict[int, Row]:
            least = {at: self.read(self.lines[at], low, every) for at in lines}
            if high is None:
                return dict(least)
            return {at: tuple(map(spanned, row, self.read(self.lines[at], high, every))) for at, row in least.items()}

        def at_one(position: str, *bounds: Bundle) -> dict[int, Row]:
            column = every.index(position)
            made: dict[int, Row] = {}
            for at in lines:
                cells = [self.read(self.lines[at], one, (position,))[0] for one in bounds]
                made[at] = (*self.raw[at][:column], spanned(cells[0], cells[-1]), *self.raw[at][column + 1 :])
            return made

        for place, contact in enumerate(bundle.contacts):
            ends = (contact.a, contact.b)
            for closed, kind in ((False, "stuck_open"), (True, "stuck_closed")):
                flipped = stuck_in(bundle, place, closed)
                acts = self.acts(contact, dict.fromkeys(every, 0.0 if closed else inf))
                for found in self.fault(kind, ends, rows(flipped), zone, contact, acts):
                    yield found if found.shown else replace(found, shown=self.elsewhere(bundle, flipped))
            if isinstance(contact, Loop):
                continue
            ohms = {position: contact_ohms(contact, position) for position in every}
            conducts = [position for position, found in ohms.items() if found is not None and found != inf]
            ladder = contact.ohms is not None
            for position in conducts if len(conducts) > 1 else ():
                kind = "step_open" if ladder else "burnt"
                only = frozenset([every.index(position)])
                yield from self.fault(kind, (*ends, position), at_one(position, stuck_in(bundle, place, False)), zone, contact, only)
            if ladder:
                for position in every:
                    bounds = stuck_in(bundle, place, True), _resistor_in(bundle, place, (position,), OPEN_ABOVE_OHMS)
                    only = frozenset([every.index(position)])
                    yield from self.fault("step_wrong", (*ends, position), at_one(position, *bounds), zone, contact, only)
            elif conducts and not contact.one_way:
                worn = (_resistor_in(bundle, place, tuple(conducts), limit) for limit in (CLOSED_BELOW_OHMS, OPEN_ABOVE_OHMS))
                acts = frozenset(map(every.index, conducts))
                yield from self.fault("resistance", ends, rows(*worn), zone, contact, acts)
        yield from self.ladders(bundle, lines, zone)

    def acts(self, contact: Contact, values: Mapping[str, float]) -> frozenset[int]:
        """Where a contact that is set to some ohms would be otherwise than it is."""
        return frozenset(at for at, position in enumerate(self.positions) if values[position] != contact_ohms(contact, position))

    def elsewhere(self, bundle: Bundle, flipped: Bundle) -> bool:
        """Whether what none of the lines shows of a bundle something else between its terminals would."""
        here = [one for one, pin in self.met.items() if self.of.get(pin) is bundle]
        return any(self.read((a, b), flipped, self.positions) != self.healthy(a, b) for a, b in combinations(here, 2))

    def ladders(self, bundle: Bundle, lines: Sequence[int], zone: frozenset[int]) -> Iterator[Fault]:
        """All resistors of a bundle off by one factor, or something beside one of them."""
        ladders = [one for one in bundle.contacts if one.ohms is not None]
        if not ladders:
            return
        drifted = {at: tuple(map(times, self.raw[at])) for at in lines}
        yield from self.fault("drift", (ladders[0].a, ladders[0].b), drifted, zone, ladders[0])
        for ends in dict.fromkeys(tuple(sorted((one.a, one.b))) for one in ladders):
            yield from self.fault("shunted", ends, self.bridged(bundle, lines, ends, beside), zone)

    def bridged(self, bundle: Bundle, lines: Sequence[int], ends: Sequence[str], cell: Callable[[Relation | None], Cell]) -> dict[int, Row]:
        """The lines of a bundle with a resistance of 1 ohm to 1 megohm between two of its pins; ``cell`` tells what is read at these."""
        made: dict[int, Row] = {}
        bridges = [_bridged(bundle, None, *ends, self.positions, ohms) for ohms in (CLOSED_BELOW_OHMS, OPEN_ABOVE_OHMS)]
        for at in lines:
            a, b = self.lines[at]
            here = {self.met[a], self.met.get(b, "")}
            if here == set(ends) or (b == OTHERS and self.met[a] in ends):
                made[at] = tuple(map(cell, self.raw[at]))
            elif b != OTHERS:  # against all others only what ends on the one makes a difference
                made[at] = tuple(map(spanned, *(self.read((a, b), one, self.positions) for one in bridges)))
        return made

    def opened(self) -> Iterator[Fault]:
        """A pin or its wire open. With one contact on it that is the contact stuck open."""
        ending = Counter(end for one in self.part.contacts or () if one.a != one.b for end in (one.a, one.b))
        for terminal, pin in self.met.items():
            if terminal == CASE or ending[pin] < 2:
                continue
            rows: dict[int, Row] = {}
            for at in self.lines_in(self.of[pin]):
                a, b = self.lines[at]
                if terminal in (a, b):
                    rows[at] = tuple(one if one is None else OPEN for one in self.raw[at])
                elif b == OTHERS:
                    rows[at] = self.read((a, b), self.of[pin], self.positions, pin)
            yield from self.fault("open", (terminal,), rows, self.zone(pin))

    def detents(self) -> Iterator[Fault]:
        """One detent off. In the last position that way there is none beyond: the switch stays in it, or is out of all contacts."""
        for shift in (1, -1):
            rows: dict[int, Row] = {}
            for at, row in enumerate(self.raw):
                last = row[-1] if shift > 0 else row[0]
                end: Cell = last if last is None or last == OPEN else Either((last, OPEN))
                rows[at] = (*row[1:], end) if shift > 0 else (end, *row[:-1])
            yield from self.fault("detent", (str(shift),), rows, None)

    def swapped(self) -> Iterator[Fault]:
        """Two wires, or the count of two pins, changed about."""
        terminals = [terminal for terminal, _ in self.pin_of]
        pins = dict(self.pin_of)
        for one, other in combinations([terminal for terminal in terminals if terminal != CASE], 2):
            place = {one: other, other: one}

            def moved(a: str, b: str, place: Mapping[str, str] = place) -> Read:
                return self.healthy(place.get(a, a), place.get(b, b))

            rows: dict[int, Row] = {at: moved(a, b) for at, (a, b) in enumerate(self.lines) if a in place or b in place}
            zone = self.zone(pins[one], pins[other])
            for found in self.fault("swapped", (one, other), rows, zone):
                beyond = not found.shown and any(moved(a, b) != self.healthy(a, b) for a in place for b in terminals if b not in place)
                yield replace(found, shown=found.shown or beyond)

    def shorted(self) -> Iterator[Fault]:
        """Two pins with a path between them that no contact is: next to nothing, or water. A contact between the two that does not open is
        the same as a short of them."""
        joined = {frozenset((one.a, one.b)) for one in self.part.contacts or ()}
        resistive = {frozenset((one.a, one.b)) for one in self.part.contacts or () if one.ohms is not None}
        ends = [one for one, pin in self.met.items() if pin not in self.powered]
        for a, b in combinations(ends, 2):
            pins = (self.met[a], self.met[b])
            if pins[0] == pins[1]:
                continue
            zone, both = self.zone(*pins), frozenset(pins)
            if both not in joined:
                about = (a if b == CASE else b,) if CASE in (a, b) else (a, b)
                yield from self.fault("grounded" if CASE in (a, b) else "shorted", about, self.between(a, b, short=True), zone)
            if both not in resistive:
                yield from self.fault("leakage", (a, b), self.between(a, b, short=False), zone)

    def between(self, a: str, b: str, *, short: bool) -> dict[int, Row]:
        """The lines that a path between two terminals changes."""
        pins = (self.met[a], self.met[b])
        cell = _joined if short else _leaky
        touched = [*self.ending.get((a, b), ())]
        for one, other in ((a, b), (b, a)):
            if (against := self.ending.get((one,))) and other in self.tied.get(one, ()):
                touched += against
        rows: dict[int, Row] = {at: tuple(map(cell, self.raw[at])) for at in sorted(touched)}
        left, right = (self.of.get(pin) for pin in pins)
        # A path to another bundle changes nothing within its own: one way in and none out.
        concerned = [at for at in (self.lines_in(left) if left is right and left else self.crossing(pins)) if at not in rows]
        concerned = [at for at in concerned if self.lines[at][1] != OTHERS]
        if concerned:
            first, second = (left, right) if left is not None else (right, None)
            assert first is not None
            ohms = (0.0,) if short else (CLOSED_BELOW_OHMS, OPEN_ABOVE_OHMS)
            changed = [_bridged(first, None if second is first else second, *pins, self.positions, limit) for limit in ohms]
            for at in concerned:
                made = [self.read(self.lines[at], one, self.positions) for one in changed]
                rows[at] = tuple(map(spanned, made[0], made[-1]))
        return rows

    def crossing(self, pins: Sequence[str]) -> Sequence[int]:
        """The lines from the bundle of one pin to that of another."""
        if not any(pin in self.of for pin in pins):
            return ()
        return self.across.get(frozenset(map(self.side, pins)), ())

    def mistaken(self, others: Sequence[Part]) -> Iterator[Fault]:
        """Another part than it is taken for."""
        for other in others:
            bench = _Bench(other, self.pin_of, self.positions, self.lines, bool(self.tied), {})
            yield from self.fault("wrong", (other.number,), dict(enumerate(bench.raw)), None)

    def leads(self) -> Iterator[Fault]:
        """The meter's own leads: broken, or worn."""
        broken = {at: tuple(one if one is None else OPEN for one in row) for at, row in enumerate(self.raw)}
        yield from self.fault("leads_open", (), broken, None)
        through = {at: tuple(map(worn, row)) for at, row in enumerate(self.raw)}
        yield from self.fault("leads", (), through, None)


@lru_cache(maxsize=4_096)
def _resistor_in(bundle: Bundle, place: int, positions: tuple[str, ...], ohms: float) -> Bundle:
    """A bundle with one of its contacts a resistance in some positions, open in the others. The same one each time, as by ``stuck_in``."""
    contact = _resistor(bundle.contacts[place], positions, ohms)
    return Bundle(bundle.nodes, (*bundle.contacts[:place], contact, *bundle.contacts[place + 1 :]))


@lru_cache(maxsize=4_096)
def _bridged(bundle: Bundle, other: Bundle | None, a: str, b: str, positions: tuple[str, ...], ohms: float) -> Bundle:
    """A bundle, or two, with a path between two pins more."""
    like = bundle.contacts[0]
    path = replace(_resistor(like, positions, ohms), a=a, b=b) if ohms else replace(stuck(like, True), a=a, b=b, one_way=False)
    nodes = tuple(dict.fromkeys((*bundle.nodes, *(other.nodes if other else ()), a, b)))
    return Bundle(nodes, (*bundle.contacts, *(other.contacts if other else ()), path))


def _resistor(like: Contact, positions: tuple[str, ...], ohms: float) -> Contact:
    # What is asked for is the narrowest tolerance of a path: this one is never the narrowest.
    values = _OrOpen(dict.fromkeys(positions, ohms))
    return replace(like, closed=None, ohms=values, tolerance_percent=MAX_TOLERANCE_PERCENT, overlaps=(), one_way=False)


class _OrOpen(dict[str, float | None]):
    """Ohms by position, open in every other."""

    def __contains__(self, _: object) -> bool:
        return True

    def __missing__(self, _: str) -> None:
        return None


def _joined(_: Relation | None) -> Cell:
    return JOINED


def _leaky(found: Relation | None) -> Cell:
    """With 1 ohm to 1 megohm beside it."""
    if found is None or found == JOINED:
        return found
    ohms = inf if found == OPEN else (found.ohms or 0.0) * (1 + percent_of(found) / 100)
    least = 1 / (1 / CLOSED_BELOW_OHMS + 1 / (inf if found == OPEN else (found.ohms or inf) * (1 - percent_of(found) / 100)))
    return Between(least, 1 / (1 / OPEN_ABOVE_OHMS + 1 / ohms))
