"""A part's contacts in bundles: sets of pins that some contact, in whatever position, may bring together.

Between pins of two bundles there is never anything. Most bundles are a single contact, and what that does in each
position can be read off; only bundles with resistors between three pins and more have to be reduced.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from rangebook.book.model import CASE, NOT_CONNECTED, Contact, Part
from rangebook.electrics.network import Groups, Reduced, reduce_network
from rangebook.electrics.relation import (
    CLOSED_OHMS,
    DEFAULT_TOLERANCE_PERCENT,
    JOINED,
    ONE_WAY,
    ONE_WAY_BACK,
    OPEN,
    UNKNOWN,
    PathKind,
    Relation,
)

INFINITE = float("inf")

NO_PIN = ""
"""What a cavity without a pin is for, where a jumper of the plug ends in it."""


class Loop(Contact):
    """A jumper in the shell of a plug, as a contact that is closed in every position."""

    __slots__ = ()


@dataclass(frozen=True, slots=True, eq=False)
class Bundle:
    """Contacts that share pins, directly or over others. ``nodes`` are their ends, in the order in which they are listed."""

    nodes: tuple[str, ...]
    contacts: tuple[Contact, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Bundles:
    """All bundles of a part: ``of`` maps each end of a contact to its bundle; ``listed`` are the pins that some contact,
    signal or the circuit ``not_connected`` says something about."""

    of: Mapping[str, Bundle]
    listed: frozenset[str]


def contact_ohms(contact: Contact, position: str) -> float | None:
    """Ohms of a contact in a position: 0 closed, infinite open, ``None`` where the entry does not say. What is under
    :data:`CLOSED_OHMS` is closed; so is a contact in a position that it overlaps into, and what a resistance does there is not known. One
    with a diode is closed in the way that this lets current through."""
    if position in contact.overlaps:
        return 0.0 if contact.ohms is None else None
    if contact.closed is not None:
        return 0.0 if position in contact.closed else INFINITE
    if contact.ohms is None or position not in contact.ohms:
        return None
    ohms = contact.ohms[position]
    return INFINITE if ohms is None else 0.0 if ohms < CLOSED_OHMS else float(ohms)


def contacts_stated(part: Part) -> bool:
    """Whether it is stated what closes inside a part; the jumpers of a plug are not inside it."""
    return part.contacts is not None and (not part.contacts or any(not isinstance(one, Loop) for one in part.contacts))


@lru_cache(maxsize=2_048)
def bundles_of(part: Part) -> Bundles:
    """Sort a part's contacts into bundles. A contact from a pin to itself is left out: it does nothing."""
    contacts = [one for one in part.contacts or () if one.a != one.b]
    groups = Groups((one.a, one.b) for one in contacts)
    sorted_in: dict[object, list[Contact]] = {}
    for one in contacts:
        sorted_in.setdefault(groups.of(one.a), []).append(one)
    of = {}
    for members in sorted_in.values():
        bundle = _bundle(_Alike(tuple(members)))
        of.update(dict.fromkeys(bundle.nodes, bundle))
    listed = {end for one in contacts if not isinstance(one, Loop) for end in (one.a, one.b)}
    listed.update(pin for signal in part.signals for pin in (signal.pin, signal.supply, signal.ground) if pin)
    listed.update(pin for pin, circuit in (part.pins or {}).items() if circuit == NOT_CONNECTED)
    if contacts_stated(part):
        listed.add(CASE)
    # A jumper says nothing of what is inside a pin that it ends on; so what is joined to such a pin is not known either.
    loose = {end for one in contacts if isinstance(one, Loop) for end in (one.a, one.b)}
    listed.update(pin for pin in loose if part.pins is not None and part.pins.get(pin) == NO_PIN)
    for pin in loose - listed:
        listed.difference_update(of[pin].nodes)
    return Bundles(of, frozenset(listed))


class _Alike:
    """Contacts, alike where they do the same, wherever they are stated."""

    __slots__ = ("_facts", "contacts")

    def __init__(self, contacts: tuple[Contact, ...]) -> None:
        self.contacts = contacts
        self._facts = tuple(map(_facts_of, contacts))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Alike) and self._facts == other._facts

    def __hash__(self) -> int:
        return hash(self._facts)


def _facts_of(one: Contact) -> tuple[object, ...]:
    ohms = None if one.ohms is None else tuple(one.ohms.items())
    return (type(one), one.a, one.b, one.closed, ohms, one.tolerance_percent, one.rated_a, one.overlaps, one.one_way)


@lru_cache(maxsize=2_048)
def _bundle(of: _Alike) -> Bundle:
    """The bundle of some contacts. The same one for parts that have it alike, as most of a family do, so that what it reads is computed
    once."""
    return Bundle(tuple(dict.fromkeys(end for one in of.contacts for end in (one.a, one.b))), of.contacts)


@lru_cache(maxsize=2_048)
def bundle_relations(
    bundle: Bundle, reached: tuple[str, ...], positions: tuple[str, ...]
) -> Mapping[tuple[str, str], tuple[Relation, ...]]:
    """What is between each two of the ``reached`` nodes of a bundle, by position; the other nodes carry no wire.

    Pairs are in the order of ``reached``. Two between which the path is open throughout are left out.
    """
    if len(reached) < 2:
        return {}
    found: dict[tuple[str, str], list[Relation]] = {}
    if len(bundle.contacts) == 1:
        contact = bundle.contacts[0]
        found[reached[0], reached[1]] = [_of_contact(contact, reached[0], position) for position in positions]
    else:
        pairs = [(a, b) for index, a in enumerate(reached) for b in reached[index + 1 :]]
        for position in positions:
            seen = Seen(_paths_of(bundle, position), reached)
            for a, b in pairs:
                found.setdefault((a, b), []).append(seen.between(a, b))
    return {pair: tuple(row) for pair, row in found.items() if any(one is not OPEN for one in row)}


def _of_contact(contact: Contact, first: str, position: str) -> Relation:
    ohms = contact_ohms(contact, position)
    if ohms is None:
        return UNKNOWN
    if contact.one_way and ohms == 0:
        return ONE_WAY if first == contact.a else ONE_WAY_BACK
    return JOINED if ohms == 0 else OPEN if ohms == INFINITE else Relation(PathKind.OHMS, ohms, tolerance_of(contact))


def tolerance_of(contact: Contact) -> float:
    """How far a contact's resistances may be off, in percent."""
    return DEFAULT_TOLERANCE_PERCENT if contact.tolerance_percent is None else contact.tolerance_percent


Link = tuple[str, str, float | None, float, bool]
"""A contact in one position: its two ends, ohms as by ``contact_ohms``, how far these may be off in percent, and whether it has a diode."""


def links_in(contacts: Iterable[Contact], position: str) -> Iterator[Link]:
    """Contacts as they are in one position."""
    return ((one.a, one.b, contact_ohms(one, position), tolerance_of(one), one.one_way) for one in contacts)


class Paths:
    """Contacts in one position: ``joined`` without resistance, ``sure`` with a certain path, ``reach`` with a possible one; a path through
    ``diodes``, each from its first node to its second, is one whichever way they let current through."""

    __slots__ = ("diodes", "doubtful", "joined", "joins", "murky", "reach", "resistors", "sure", "tolerance")

    def __init__(self, links: Iterable[Link]) -> None:
        self.diodes: list[tuple[str, str]] = []
        self.joins: list[tuple[str, str]] = []
        self.resistors: list[tuple[str, str, float]] = []
        self.doubtful: list[tuple[str, str]] = []
        tolerances = []
        for a, b, ohms, percent, one_way in links:
            if ohms is None:
                self.doubtful.append((a, b))
            elif ohms == 0:
                (self.diodes if one_way else self.joins).append((a, b))
            elif ohms != INFINITE:
                self.resistors.append((a, b, ohms))
                tolerances.append((a, percent))
        self.joined = Groups(self.joins)
        resistive = [(a, b) for a, b, _ in self.resistors]
        self.sure = Groups([*self.joins, *self.diodes, *resistive])
        self.reach = Groups([*self.joins, *self.diodes, *resistive, *self.doubtful])
        self.murky = {self.reach.of(a) for a, _ in self.doubtful}
        # Where several contacts make one path, the narrowest of their tolerances is asked for.
        self.tolerance: dict[object, float] = {}
        for node, percent in tolerances:
            at = self.reach.of(node)
            self.tolerance[at] = min(percent, self.tolerance.get(at, percent))


@lru_cache(maxsize=2_048)
def _paths_of(bundle: Bundle, position: str) -> Paths:
    return Paths(links_in(bundle.contacts, position))


class Seen:
    """Contacts in one position, reduced to the nodes that can be reached where there are resistors between some of them."""

    __slots__ = ("paths", "reached", "reduced", "shorted")

    def __init__(self, paths: Paths, reached: Sequence[str]) -> None:
        self.paths = paths
        self.reached = reached
        self.reduced: Reduced | None = None
        self.shorted: Reduced | None = None

    def between(self, a: str, b: str) -> Relation:
        """What is between two of the nodes that can be reached."""
        paths = self.paths
        if paths.joined.together(a, b):
            return JOINED
        if not paths.reach.together(a, b):
            return OPEN
        at = paths.reach.of(a)
        if at in paths.murky:
            return UNKNOWN
        if self.reduced is None:
            self.reduced = reduce_network(paths.joins, paths.resistors, self.reached)
        siemens = self.reduced.conductance(a, b)
        if paths.diodes:
            if self.shorted is None:
                self.shorted = reduce_network([*paths.joins, *paths.diodes], paths.resistors, self.reached)
            # A diode is somewhere between open and closed; where neither makes a difference it has no part in what is between the two.
            if not same_siemens(siemens, self.shorted.conductance(a, b)):
                return _through_diodes(paths, a, b)
        if not siemens:
            return OPEN
        return Relation(PathKind.OHMS, 1.0 / siemens, paths.tolerance[at]) if siemens * CLOSED_OHMS <= 1.0 else JOINED


def same_siemens(one: float, other: float) -> bool:
    """Whether two conductances are the same but for what a computer loses in adding up."""
    return one == other or (INFINITE not in (one, other) and abs(one - other) <= 1e-9 * max(one, other))


def _through_diodes(paths: Paths, a: str, b: str) -> Relation:
    """Between two nodes that diodes have a part in: one way where contacts and diodes alone lead from the one to the other and nothing
    leads back. With resistors on the way it goes by what drives it, and is not known."""
    free = [*paths.joins, *((one, other) for one, other, _ in paths.resistors)]
    forth, back = (_leads(one, other, free, paths.diodes) for one, other in ((a, b), (b, a)))
    if not forth and not back:
        return OPEN
    if forth and not back and _leads(a, b, paths.joins, paths.diodes):
        return ONE_WAY
    if back and not forth and _leads(b, a, paths.joins, paths.diodes):
        return ONE_WAY_BACK
    return UNKNOWN


def _leads(start: str, end: str, free: Iterable[tuple[str, str]], diodes: Iterable[tuple[str, str]]) -> bool:
    """Whether current gets from one node to another."""
    onward: dict[str, set[str]] = {}
    for one, other in free:
        onward.setdefault(one, set()).add(other)
        onward.setdefault(other, set()).add(one)
    for one, other in diodes:
        onward.setdefault(one, set()).add(other)
    been, todo = {start}, [start]
    while todo:
        new = onward.get(todo.pop(), set()) - been
        been |= new
        todo += new
    return end in been


class Span(NamedTuple):
    """Ohms between two pins with nothing else connected: nominal, and the lowest and highest that the tolerances allow."""

    nominal: float
    low: float
    high: float


@lru_cache(maxsize=4_096)
def spans(part: Part, a: str, b: str, positions: tuple[str, ...]) -> tuple[Span | None, ...]:
    """What is between two pins by position: 0 joined, infinite open, ``None`` where it is not known.

    The resistance between two ends of a network never falls when one of its resistors rises (Rayleigh's law: Doyle and Snell,
    Random Walks and Electric Networks (1984), from memory), so all of them at their low ends give the lowest, at their high ends the
    highest.
    """
    bundles = bundles_of(part)
    if a not in bundles.listed or b not in bundles.listed:
        return (None,) * len(positions)
    bundle = bundles.of.get(a)
    if bundle is None or bundle is not bundles.of.get(b):
        return (Span(INFINITE, INFINITE, INFINITE),) * len(positions)
    return tuple(_span(bundle, a, b, position) for position in positions)


def _span(bundle: Bundle, a: str, b: str, position: str) -> Span | None:
    if len(bundle.contacts) == 1 and not bundle.contacts[0].one_way:
        (contact,) = bundle.contacts
        ohms = contact_ohms(contact, position)
        if ohms is None:
            return None
        return Span(*(ohms if ohms in (0.0, INFINITE) else _at_end(contact, ohms, sign) for sign in (0, -1, 1)))
    found = _paths_of(bundle, position)
    if found.joined.together(a, b):
        return Span(0.0, 0.0, 0.0)
    if not found.reach.together(a, b):
        return Span(INFINITE, INFINITE, INFINITE)
    if found.reach.of(a) in found.murky:
        return None
    made = Span(*(_ohms(bundle, a, b, position, sign, found.joins) for sign in (0, -1, 1)))
    if found.diodes and not same_siemens(1 / made.nominal, 1 / (_ohms(bundle, a, b, position, 0, [*found.joins, *found.diodes]) or 1e-9)):
        return None  # how far a diode lets current through goes by what reads it
    return made


def _ohms(bundle: Bundle, a: str, b: str, position: str, sign: int, joins: Sequence[tuple[str, str]]) -> float:
    """Between two nodes with every resistor at its nominal value (``sign`` 0) or at one end of its tolerance (-1, 1)."""
    resistors = []
    for one in bundle.contacts:
        ohms = contact_ohms(one, position)
        if ohms and ohms != INFINITE:
            resistors.append((one.a, one.b, _at_end(one, ohms, sign)))
    siemens = reduce_network(joins, resistors, (a, b)).conductance(a, b)
    return 1.0 / siemens if siemens else INFINITE


def _at_end(contact: Contact, ohms: float, sign: int) -> float:
    """A resistance at its nominal value (``sign`` 0) or at one end of its tolerance (-1, 1)."""
    return max(CLOSED_OHMS * 1e-3, ohms * (1 + sign * tolerance_of(contact) / 100))


@lru_cache(maxsize=2_048)
def paths(part: Part, position: str) -> Paths:
    """All contacts of a part in one position."""
    return Paths(links_in((one for one in part.contacts or () if one.a != one.b), position))
