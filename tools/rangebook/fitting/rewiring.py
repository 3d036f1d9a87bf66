"""Moving wires between the cavities of a plug so that a part does what the original did.

What is looked for is an assignment of the wires to cavities, fewest moved first, under which the behaviour agrees. The
effective resistance between two pins does not depend on which others carry a wire (Kron reduction keeps it: Klein and
Randic, J. Math. Chem. 12 (1993) 81-95, for the distance; that reduction keeps it, from memory), so wires can be placed one by
one and each new one tested against those that have their place.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import combinations

from rangebook.book.model import CASE, Part, socket_and_cavity
from rangebook.electrics.behaviour import behaviour, inside_stated, is_powered, signal_at
from rangebook.electrics.bundles import bundles_of
from rangebook.electrics.network import Groups
from rangebook.electrics.relation import OPEN, UNKNOWN, PathKind, Relation, agree

MAX_TERMINALS = 16
"""Plugs with more wires than this are not searched."""

MAX_STEPS = 200_000
"""So many placements are tried at the most."""

JUDGED_AS = 50
"""Judging a whole assignment takes as long as trying so many placements, and counts as so many."""

MAX_EQUAL = 1_000
"""So many equally good answers are counted at the most."""

Row = tuple[Relation, ...]


@dataclass(frozen=True, slots=True)
class Rewiring:
    """The outcome of a search. ``place`` maps each wire's cavity to the one that it goes to, ``None`` if there is no way.

    ``moved`` is how many leave their place, ``equal`` how many ways there are with so few moves; ``steps`` placements
    were tried, and ``complete`` is false if they did not suffice.
    """

    place: Mapping[str, str] | None
    moved: int
    equal: int
    steps: int
    complete: bool


@dataclass(frozen=True)
class Task:
    """What is to be placed where.

    ``natural`` maps each wire (by its cavity at the vehicle) to the cavity in which it needs no move; ``slots`` are the
    cavities of the plug that goes on the part; ``free_pair`` are two wires whose resistance need not agree (the module's
    reading is judged instead); ``accept`` judges a complete assignment.
    """

    original: Part
    part: Part
    natural: Mapping[str, str]
    slots: Sequence[str]
    positions: tuple[str, ...]
    circuits: Mapping[str, frozenset[str]]
    free_pair: frozenset[str]
    accept: Callable[[Mapping[str, str]], bool]


def search(task: Task) -> Rewiring:
    """The assignments with fewest moves, circuits of the same name preferred among them."""
    if len(task.natural) > MAX_TERMINALS:
        return Rewiring(None, 0, 0, 0, complete=False)
    return _Search(task).run()


@lru_cache(maxsize=200_000)
def _row(part: Part, a: str, b: str, positions: tuple[str, ...]) -> Row | None:
    """Effective resistance between two pins with no wire anywhere else, by position; ``None`` where it is open throughout."""
    bundles = bundles_of(part)
    own = bundles.of.get(a)
    if (own is None or own is not bundles.of.get(b)) and a in bundles.listed and b in bundles.listed:
        return None  # no contact leads from the one to the other
    row = behaviour(part, ((a, a), (b, b)), positions).between(a, b)
    return None if all(one is OPEN for one in row) else row


class _Search:
    def __init__(self, task: Task) -> None:
        self.task = task
        self.wires = list(task.natural)
        # Where it is not stated which cavities carry a pin, each of them may.
        self.pins: Mapping[str, str | None] = dict.fromkeys(task.slots) if task.part.pins is None else task.part.pins
        live = [slot for slot in task.slots if slot in self.pins and self._partners(task.part, slot, self.pins)]
        self.dead = [slot for slot in task.slots if slot not in live and not is_powered(task.part, slot)]
        powered = [slot for slot in task.slots if slot not in live and slot not in self.dead]
        self.live = live + powered
        self.steps = 0
        self._agreeing: dict[tuple[str, str, str, str], bool] = {}
        self._from: dict[str, tuple[Counter[tuple[PathKind, ...]], int]] = {}
        self.idle = {wire for wire in self.wires if self._is_idle(wire)}
        self.homes = {task.natural[wire] for wire in self.idle}
        self.domains = {wire: self._domain(wire) for wire in self.wires}
        self.order, self.least = self._order()
        self.best: tuple[int, dict[str, str]] | None = None
        self.equal = 0
        self.scarce = False

    def _partners(self, part: Part, slot: str, pins: Mapping[str, str | None]) -> bool:
        return any(_row(part, slot, other, self.task.positions) for other in (*pins, CASE) if other != slot)

    def _is_idle(self, wire: str) -> bool:
        """Whether the original joins this wire to no other one and not to the housing."""
        original = self.task.original
        others = (*self.wires, CASE)
        return not is_powered(original, wire) and not any(
            _row(original, wire, other, self.task.positions) for other in others if other != wire
        )

    def _domain(self, wire: str) -> list[str]:
        """The cavities that a wire might go to by what they are to the housing, by their outputs, and by the paths that
        start from them: a pin must have each kind of path at least as often as the wire needs it."""
        if wire in self.idle:
            return list(dict.fromkeys([self.task.natural[wire], *self._of_one_plug(wire, (*self.dead, *self.live))]))
        task = self.task
        wanted = Counter(
            _kinds(row)
            for other in (*self.wires, CASE)
            if other != wire
            and {wire, other} != task.free_pair
            and (row := _row(task.original, wire, other, task.positions))
            and UNKNOWN not in row
        )
        domain = []
        for slot in self._of_one_plug(wire, self.live):
            if not self._consistent(wire, slot, CASE, CASE) or not self._same_output(wire, slot):
                continue
            there, doubtful = self._from_pin(slot)
            if sum(max(0, count - there[kind]) for kind, count in wanted.items()) <= doubtful:
                domain.append(slot)
        natural = task.natural[wire]
        named = task.circuits.get(wire, frozenset())
        return sorted(domain, key=lambda slot: (slot != natural, self.pins.get(slot) not in named, task.slots.index(slot)))

    def _from_pin(self, slot: str) -> tuple[Counter[tuple[PathKind, ...]], int]:
        """The paths that start from a pin, by their kinds, and how many more may turn out to be of any kind."""
        found = self._from.get(slot)
        if found is None:
            others = (other for other in (*self.pins, CASE) if other != slot)
            rows = [row for other in others if (row := _row(self.task.part, slot, other, self.task.positions))]
            known = [row for row in rows if UNKNOWN not in row]
            found = self._from[slot] = Counter(map(_kinds, known)), len(rows) - len(known)
        return found

    def _of_one_plug(self, wire: str, slots: Sequence[str]) -> list[str]:
        """The cavities of the plug that a wire is in: no wire is moved from one plug to another."""
        plug = socket_and_cavity(self.task.natural[wire])[0]
        return [slot for slot in slots if socket_and_cavity(slot)[0] == plug]

    @cached_property
    def _few_dead(self) -> bool:
        """Whether some plug has more idle wires than cavities with nothing behind them."""
        left = Counter(socket_and_cavity(self.task.natural[wire])[0] for wire in self.idle)
        left.subtract(socket_and_cavity(slot)[0] for slot in self.dead)
        return any(count > 0 for count in left.values())

    def _same_output(self, wire: str, slot: str) -> bool:
        one, other = signal_at(self.task.original, wire), signal_at(self.task.part, slot)
        if one and other:
            return one.kind is None or other.kind is None or one.kind == other.kind
        if one or other:
            return not (inside_stated(self.task.part, slot) if one else inside_stated(self.task.original, wire))
        return True

    def _consistent(self, wire: str, slot: str, other: str, other_slot: str) -> bool:
        """Whether what is between two wires may be between two cavities."""
        key = (wire, slot, other, other_slot)
        found = self._agreeing.get(key)
        if found is None:
            found = self._agreeing[key] = self._agree(*key)
        return found

    def _agree(self, wire: str, slot: str, other: str, other_slot: str) -> bool:
        if {wire, other} == self.task.free_pair:
            return True
        one = _row(self.task.original, wire, other, self.task.positions)
        two = _row(self.task.part, slot, other_slot, self.task.positions)
        if one is two:
            return True
        count = len(self.task.positions)
        pairs = zip(one or (OPEN,) * count, two or (OPEN,) * count, strict=True)
        # What is not stated may turn out to agree; the complete assignment is judged by `accept`.
        return all(left is UNKNOWN or right is UNKNOWN or agree(left, right) for left, right in pairs)

    def _order(self) -> tuple[list[str], list[int]]:
        """The wires in the order in which they are placed: those that the original joins stand together, so that one of
        them soon settles the others; those with fewest places first. With it, for each place in the order, how many of
        the wires from there on must move at the least."""
        groups = Groups((a, b) for a, b in combinations(self.wires, 2) if _row(self.task.original, a, b, self.task.positions))
        together: dict[object, list[str]] = {}
        for wire in self.wires:
            together.setdefault(groups.of(wire), []).append(wire)
        sets = [sorted(one, key=lambda wire: len(self.domains[wire])) for one in together.values()]
        sets.sort(key=lambda one: (one[0] in self.idle, len(self.domains[one[0]])))
        order, least = [], []
        for one in sets:
            order += one
            moves = self._least_moves(one)
            # Within a set only its first place knows the bound; it has been paid, or not, once the set is begun.
            least += [moves] + [0] * (len(one) - 1)
        after = [sum(least[place:]) for place in range(len(order) + 1)]
        return order, after

    def _least_moves(self, wires: list[str]) -> int:
        """How many wires of a set that the original joins must move at the least."""
        natural = self.task.natural
        stay = [wire for wire in wires if natural[wire] in self.domains[wire]]
        if len(wires) == 2 and len(stay) == 2 and not self._consistent(wires[0], natural[wires[0]], wires[1], natural[wires[1]]):
            return 1
        return len(wires) - len(stay)

    def run(self) -> Rewiring:
        for moves in range(self.least[0], len(self.wires) + 1):
            # An idle wire goes to a cavity without anything behind it; where these do not suffice, to a pin whose partners have no wire.
            self.scarce = False
            self._place(0, {}, moves)
            if not self.best and self._few_dead:
                self.scarce = True
                self._place(0, {}, moves)
            if self.best or self.steps > MAX_STEPS:
                break
        complete = self.steps <= MAX_STEPS
        if self.best is None:
            return Rewiring(None, 0, 0, self.steps, complete)
        place = {wire: self.best[1][wire] for wire in self.wires}
        moved = sum(place[wire] != self.task.natural[wire] for wire in self.wires)
        return Rewiring(place, moved, self.equal, self.steps, complete)

    def _place(self, index: int, placed: dict[str, str], moves: int) -> None:
        """Place the wires from ``index`` on with exactly ``moves`` moves."""
        if self.steps > MAX_STEPS or self.equal >= MAX_EQUAL:
            return
        if index == len(self.order):
            if moves:
                return
            self.steps += JUDGED_AS
            if self.task.accept(placed):
                self.equal += 1
                same = sum(self.pins.get(slot) in self.task.circuits.get(wire, ()) for wire, slot in placed.items())
                if self.best is None or same > self.best[0]:
                    self.best = (same, dict(placed))
            return
        wire = self.order[index]
        natural = self.task.natural[wire]
        taken = set(placed.values())
        spare = False
        for slot in self.domains[wire]:
            cost = slot != natural
            left = moves - cost
            if slot in taken or left < self.least[index + 1] or left > len(self.order) - index - 1:
                continue
            if cost and slot in self.dead and slot not in self.homes:
                # One empty cavity is as good as another, where no other idle wire stays in it: the first that is free stands for all.
                if spare:
                    continue
                spare = True
            elif cost and wire in self.idle and slot not in self.dead and not self.scarce:
                continue
            self.steps += 1
            if all(self._consistent(wire, slot, other, at) for other, at in placed.items()):
                placed[wire] = slot
                self._place(index + 1, placed, left)
                del placed[wire]


def _kinds(row: Row) -> tuple[PathKind, ...]:
    return tuple(one.path for one in row)
