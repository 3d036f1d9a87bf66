"""Two faults at once: what is read with both of them, reckoned anew from the contacts.

Most pairs of faults lie apart, and then each line reads as with the one or the other. Where they do not, each is taken as what it makes of
the part: contacts set to other ohms, a path laid between two terminals, wires changed about or lost, all resistors of a ladder off by one
factor. The faults are made one after the other, and what a meter then sees is reckoned as on a good part.

The browser has the same in ``site/client/prove/together.js``, over :meth:`Net.contacts` and its like as they are sent.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from math import inf
from typing import Any, NamedTuple, Protocol

from rangebook.book.model import CASE
from rangebook.electrics.bundles import Link, Paths, Seen
from rangebook.electrics.cells import (
    CLOSED_BELOW_OHMS,
    DRIFT,
    OPEN_ABOVE_OHMS,
    WORN_LEADS_OHMS,
    Between,
    Cell,
    Common,
    Either,
    Spans,
    beside,
    ohms_of,
    settled,
    spanned,
    times,
)
from rangebook.electrics.insulation import OTHERS
from rangebook.electrics.proof import READ
from rangebook.electrics.relation import JOINED, MAX_TOLERANCE_PERCENT, OPEN, PathKind, Relation

Read = tuple[Relation | None, ...]
"""What is read on a part with stated contacts, by position."""


class NetContact(NamedTuple):
    """A contact between two pins: ``ohms`` by position, 0 closed, infinite open, ``None`` not known. ``ladder`` are resistors, ``percent``
    how far they may be off; ``bundle`` is the number of those that it hangs together with."""

    a: str
    b: str
    bundle: int
    ladder: bool
    one_way: bool
    percent: float
    ohms: tuple[float | None, ...]


class Known(Protocol):
    """A fault as it is told, with the place of the contact that it is of, if it is of one."""

    @property
    def kind(self) -> str: ...  # noqa: D102
    @property
    def about(self) -> tuple[str, ...]: ...  # noqa: D102
    @property
    def contact(self) -> int | None: ...  # noqa: D102


Effect = tuple[Any, ...]
"""What a fault makes of a part in one position: ``set`` a contact, by its place, to ohms from the least to the most; lay a ``path`` between
two terminals with such ohms; ``lost`` and ``swap`` of terminals; ``drift`` of a bundle, by its number; something ``beside`` two pins;
``worn`` leads. Empty where it makes nothing of it."""

SETS = {
    "stuck_open": (inf, inf),
    "stuck_closed": (0.0, 0.0),
    "burnt": (inf, inf),
    "resistance": (CLOSED_BELOW_OHMS, OPEN_ABOVE_OHMS),
    "step_open": (inf, inf),
    "step_wrong": (0.0, OPEN_ABOVE_OHMS),
}
"""The faults of one contact, to how many ohms each sets it: at the least and at the most."""

PATHS = {"shorted": (0.0, 0.0), "grounded": (0.0, 0.0), "leakage": (CLOSED_BELOW_OHMS, OPEN_ABOVE_OHMS)}
"""The same of those that lay a path between two terminals."""

NAMES = {"open": "lost", "swapped": "swap", "shunted": "beside", "leads": "worn"}

MOVED = frozenset({"open", "swapped"})
"""Where two faults share a terminal, and one of them is one of these, it matters which came first."""

ALONE = frozenset({"wrong", "leads_open"})
"""Not told together with another fault: the one is another part, the other leaves nothing to be seen."""


@dataclass(frozen=True, slots=True, eq=False)
class Net:
    """A part between its terminals. ``pins`` are the terminals that meet one, ``tied`` for each terminal that is read against all others
    those that are tied together; of ``loose`` pins nothing is stated, ``powered`` are terminals with electronics behind them, which a part
    with ``electronics`` has. ``good`` is what is to be read on each line, ``raw`` what the contacts alone would make of it."""

    positions: tuple[str, ...]
    contacts: tuple[NetContact, ...]
    pins: Mapping[str, str]
    tied: Mapping[str, tuple[str, ...]]
    loose: frozenset[str]
    powered: frozenset[str]
    lines: tuple[tuple[str, str], ...]
    good: tuple[Read, ...]
    raw: tuple[Read, ...]
    electronics: bool
    done: dict[tuple[int, int, tuple[Effect, ...]], Cell] = field(default_factory=dict, repr=False)

    def cell(self, faults: Sequence[Known], line: int, at: int) -> Cell:
        """What is read on a line in a position with some faults, each made of what those before it left."""
        moved = at + sum(int(one.about[0]) for one in faults if one.kind == "detent")
        if 0 <= moved < len(self.positions):
            found = self._at(faults, line, moved)
        else:
            # There is no position beyond the last: the switch stays in it, or is out of all contacts.
            own = self._at(faults, line, at)
            found = own if own is None or own == OPEN else Either((own, OPEN))
        return self.good[line][at] if found == self.raw[line][at] else found

    def _at(self, faults: Sequence[Known], line: int, at: int) -> Cell:
        effects = tuple(found for one in faults if (found := self._effect(one, at)))
        if not effects:
            return self.raw[line][at]
        key = (line, at, effects)
        if key not in self.done:
            self.done[key] = self._reckoned(*key)
        return self.done[key]

    def _effect(self, one: Known, at: int) -> Effect:
        kind, about = one.kind, one.about
        if one.contact is not None and kind != "drift":
            least, most = SETS[kind]
            now = self.contacts[one.contact].ohms[at]
            elsewhere = len(about) > 2 and about[2] != self.positions[at]
            no_path = kind == "resistance" and (now is None or now == inf)
            return () if elsewhere or no_path or now == least == most else ("set", one.contact, least, most)
        if kind == "drift":
            return ("drift", self.contacts[one.contact or 0].bundle)
        if kind in PATHS:
            return ("path", *about, *PATHS[kind]) if kind != "grounded" else ("path", *about, CASE, *PATHS[kind])
        return () if kind not in NAMES else (NAMES[kind], *about)

    def _reckoned(self, line: int, at: int, effects: Sequence[Effect]) -> Cell:
        meets = dict(self.pins)
        sets: dict[int, tuple[float, float]] = {}
        paths: list[tuple[str, str, float, float]] = []
        drifting = -1
        shunts: list[tuple[str, str]] = []
        for name, *what in effects:
            match name:
                case "set":
                    sets[what[0]] = (what[1], what[2])
                case "path":
                    # A terminal that meets no pin is a node of its own, from which a path may still lead on.
                    paths.append((meets.setdefault(what[0], _off(what[0])), meets.setdefault(what[1], _off(what[1])), what[2], what[3]))
                case "lost":
                    meets[what[0]] = _off(what[0])
                case "swap":
                    for terminal, pin in ((what[0], meets.get(what[1])), (what[1], meets.get(what[0]))):
                        if pin is None:
                            meets.pop(terminal, None)
                        else:
                            meets[terminal] = pin
                case "drift":
                    drifting = what[0]
                case "beside":
                    shunts.append((what[0], what[1]))
        a, b = self.lines[line]
        start = meets.get(a)
        ends = [meets[one] for one in (self.tied.get(a, ()) if b == OTHERS else (b,)) if one in meets]
        if b == OTHERS and (start is None or a in self.powered):
            return None
        # No path leads to a terminal that is lost, whatever else may not be known.
        reached = {*self.pins.values(), *(end for path in paths for end in path[:2])}
        if start not in reached or reached.isdisjoint(ends):
            return OPEN
        probe = _Probe(self, start, tuple(dict.fromkeys(ends)), b == OTHERS, at, sets, paths, drifting)
        found = probe.read()
        if shunts:
            # The same for all readings is what lies beside where the meter sees the two ends of one such path, and no other.
            exact = len(shunts) == 1 and any({start, end} == {*shunts[0]} for end in probe.ends)
            found = beside(found) if exact else probe.read(shunts)
        if any(name == "worn" for name, *_ in effects):
            found = worn(found)
        return found


def _off(terminal: str) -> str:
    """The node of a terminal that meets no pin. No pin has a blank in its label."""
    return f"off {terminal}"


def _reached(links: Iterable[tuple[str, str]], start: str) -> set[str]:
    """The nodes that links lead to from one."""
    links, been, grown = list(links), {start}, True
    while grown:
        grown = False
        for a, b in links:
            if (a in been) != (b in been):
                been.update((a, b))
                grown = True
    return been


def worn(found: Cell) -> Cell:
    """What is read through bad leads: some ohms more, which is nothing beside a path that is open."""
    least, most = WORN_LEADS_OHMS
    match found:
        case Between(low, high):
            return Between(low + least, high + most)
        case Common(low, high, _, False):
            # Whatever the factor is: with the ohms of the leads divided by the least of it.
            return Common(low, high + most / DRIFT[0], times=True, beside=False)
        case Common():
            return worn(settled(found, Spans()))
        case Either(of):
            return Either(tuple(map(worn, of)))
        case Relation(path=PathKind.OHMS):
            low, high = ohms_of(found)
            return Between(low + least, high + most)
    return Between(least, most) if found == JOINED else found


@dataclass(slots=True)
class _Probe:
    """A meter on a part that some faults have made another one."""

    net: Net
    start: str
    ends: tuple[str, ...]
    tied: bool
    at: int
    sets: Mapping[int, tuple[float, float]]
    paths: Sequence[tuple[str, str, float, float]]
    drifting: int

    def read(self, shunts: Sequence[tuple[str, str]] = ()) -> Cell:
        """What it shows, with some resistance between each two pins of ``shunts`` beside."""
        found, alone = self._once(0, 1.0, shunts)
        soft = shunts or any(low != high for low, high in (*self.sets.values(), *(path[2:] for path in self.paths)))
        high = self._once(1, 1.0, shunts)[0] if soft else found
        if self.drifting < 0:
            return spanned(found, high)
        if found == high and (alone or found is None or found.path is not PathKind.OHMS):
            return times(found)
        # Not all that is read has drifted: it lies between what the least and the most would make (Rayleigh's law, see ``bundles.spans``).
        return spanned(self._once(0, DRIFT[0], shunts)[0], self._once(1, DRIFT[1], shunts)[0])

    def _once(self, most: int, factor: float, shunts: Sequence[tuple[str, str]]) -> tuple[Relation | None, bool]:
        """With all at the least or at the most that it can be; and whether all resistances of the path are those that have drifted."""
        links: list[Link] = []
        drifted: list[bool] = []
        for place, one in enumerate(self.net.contacts):
            if self.tied and one.a in self.ends and one.b in self.ends:
                continue  # the tie bridges it
            ohms = self.sets[place][most] if place in self.sets else one.ohms[self.at]
            if ohms == inf:
                continue
            percent = one.percent if one.ladder or place not in self.sets else MAX_TOLERANCE_PERCENT
            drifts = one.ladder and one.bundle == self.drifting and place not in self.sets
            links.append((one.a, one.b, ohms * factor if drifts and ohms else ohms, percent, one.one_way))
            drifted.append(drifts)
        added = [(a, b, low_high[most]) for a, b, *low_high in self.paths]
        added += [(a, b, (CLOSED_BELOW_OHMS, OPEN_ABOVE_OHMS)[most]) for a, b in shunts]
        added += [(self.ends[0], end, 0.0) for end in self.ends[1:]]
        links += [(a, b, ohms, MAX_TOLERANCE_PERCENT, False) for a, b, ohms in added]
        drifted += [False] * len(added)
        near = _reached(((a, b) for a, b, *_ in links), self.start)
        if self.ends[0] not in near:
            return self._known(OPEN), False
        if self.ends[0] in _reached(((a, b) for a, b, ohms, _, one_way in links if ohms == 0 and not one_way), self.start):
            return JOINED, False
        here = [(link, drifts) for link, drifts in zip(links, drifted, strict=True) if link[0] in near]
        found = Seen(Paths(link for link, _ in here), (self.start, self.ends[0])).between(self.start, self.ends[0])
        return self._known(found), all(drifts for link, drifts in here if link[2] != 0)

    def _known(self, found: Relation) -> Relation | None:
        """A reading with nothing in it that an ohmmeter does not read, or that is not stated: such a pin may be joined to any."""
        if found == JOINED:
            return found
        if found.path not in READ or (self.tied and self.net.electronics and found.path is PathKind.OHMS):
            return None
        return None if not self.net.loose.isdisjoint((self.start, *self.ends)) else found
