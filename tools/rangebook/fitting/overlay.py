"""Parts laid over each other on one vehicle's wires: which pin of each part every wire meets, and what is then between each two wires.

Between two wires is what a meter would read there with the far ends unplugged. The verdicts go by the network that all wires see at once;
two parts that agree in the one agree in the other, and the readings are what can be checked at the plug.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from rangebook.book.book import Book
from rangebook.book.model import CASE, Kit
from rangebook.electrics.meter import contact_rows
from rangebook.electrics.relation import JOINED, OPEN, UNKNOWN, PathKind, Relation, agree, turned
from rangebook.fitting.check_mating import loops_on, place_of, ways_onto
from rangebook.fitting.check_needs import together
from rangebook.fitting.on_lever import on_lever, with_loops
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import Verdict

Pair = tuple[str, str]
Row = tuple[Relation | None, ...]
"""What is between two terminals by position of the seat's lever; ``None`` where the part has no such position."""

SAME, DIFFERENT, NOT_KNOWN = "=", "!", "?"


@dataclass(frozen=True, slots=True)
class Laid:
    """A part with the wires of a seat on it.

    ``place`` maps each wire's cavity of the vehicle's plug to the cavity of the part's housing that it ends up in, ``None`` in it for a
    wire that a kit has no place for; ``None`` altogether where the plug is not known to go on. ``kits`` are those that it takes for that.
    ``positions`` are those that it has itself, ``rows`` what a meter reads between its ``pins``, open where none names a pair.
    """

    verdict: Verdict
    place: Mapping[str, str | None] | None
    kits: tuple[Kit, ...]
    positions: tuple[str, ...] = ()
    rows: Mapping[Pair, tuple[Relation, ...]] = field(default_factory=dict)
    pins: Mapping[str, str] | None = None

    def row(self, pair: Pair, positions: Sequence[str]) -> Row | None:
        """What is between two terminals, by position; ``None`` where the part is not laid over."""
        if self.place is None:
            return None
        found = dict(zip(self.positions, self._between(*({**self.place, CASE: CASE}[end] for end in pair)), strict=True))
        return tuple(found.get(position) for position in positions)

    def _between(self, a: str | None, b: str | None) -> tuple[Relation, ...]:
        """What is between two cavities of the part's housing, or one and the metal of it."""
        pins = self.pins
        nothing = (OPEN,) * len(self.positions)
        if a is None or b is None:
            return nothing
        if a == b:
            return (JOINED,) * len(self.positions)  # a kit that sends two wires to one cavity
        if pins is None:
            return (UNKNOWN,) * len(self.positions)
        return self.rows.get((a, b)) or turned(self.rows.get((b, a), nothing))


def lay(book: Book, seat: Seat, verdict: Verdict) -> Laid:
    """One part on a seat's wires: moved as its verdict says where it fits, else each where the plug, or the first kit, takes it."""
    part = together(book, seat, verdict.part)
    place = place_of(book, seat, verdict)
    if place is None:
        return Laid(verdict, None, ())
    way = verdict.way if verdict.way and verdict.goes_on else ways_onto(book, seat, part)[0]
    own = on_lever(book, seat.positions, seat.family, part)
    positions = tuple(position for position in seat.positions if position in own.positions)
    inside = with_loops(own.part, loops_on(seat, way), positions)
    return Laid(verdict, place, way.kits, positions, contact_rows(inside, positions), part.pins)


def pairs_of(seat: Seat, laid: Iterable[Laid]) -> list[Pair]:
    """The pairs of terminals that are not open throughout in every part, in the order of the plug."""
    found = [one for one in laid if one.place is not None]
    return [
        pair
        for pair in combinations(seat.terminals, 2)
        if any(two is None or two.path is not PathKind.OPEN for one in found for two in one.row(pair, seat.positions) or ())
    ]


def marks(original: Row, other: Row) -> str:
    """Position by position ``=``, ``!`` or ``?``: whether two rows agree, resistances within the first one's tolerance."""
    return "".join(_mark(one, two) for one, two in zip(original, other, strict=True))


def _mark(one: Relation | None, two: Relation | None) -> str:
    if one is None or two is None:
        return SAME if one is two else DIFFERENT
    if PathKind.UNKNOWN in (one.path, two.path):
        return NOT_KNOWN
    return SAME if agree(one, two) else DIFFERENT
