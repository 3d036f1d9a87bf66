"""A part as the vehicle's wires see it: between each two terminals, in each lever position.

A *terminal* is a cavity of the vehicle's plug that carries a wire, by its label there, or ``case`` for the housing. Which
pin of the part each terminal meets is given from outside, so that kits and moved wires need nothing of their own here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations
from typing import NamedTuple

from rangebook.book.model import CASE, NOT_CONNECTED, Contact, Part, Signal
from rangebook.electrics.network import Groups, Reduced, reduce_network

DEFAULT_TOLERANCE_PERCENT = 10.0
"""Where an entry states no tolerance. Common practice, no source: a ladder reads within 5 to 10 percent of its nominal."""


class Path(StrEnum):
    """What there is between two terminals in one position."""

    JOINED = "joined"
    OPEN = "open"
    OHMS = "ohms"
    UNKNOWN = "unknown"


class Relation(NamedTuple):
    """What is between two terminals; ``ohms`` and ``tolerance_percent`` only where ``path`` is ``OHMS``."""

    path: Path
    ohms: float | None = None
    tolerance_percent: float | None = None


JOINED = Relation(Path.JOINED)
OPEN = Relation(Path.OPEN)
UNKNOWN = Relation(Path.UNKNOWN)


class Doubt(NamedTuple):
    """Something about a part that is not stated: ``pin`` without any contact, or a ``contact`` whose state is not given."""

    pin: str | None
    contact: tuple[str, str] | None


@dataclass(frozen=True)
class Snapshot:
    """A part in one position, reduced to the terminals.

    ``pin_of`` maps each terminal to its pin, ``None`` where there is no pin. ``unlisted`` are the terminals about whose
    pin nothing is stated; ``murky`` the sets of nodes (by ``reach``) that hold a contact whose state is not stated.
    Nodes are together in ``sure`` where a path between them is certain, in ``reach`` where one is possible.
    """

    pin_of: Mapping[str, str | None]
    reduced: Reduced
    reach: Groups
    unlisted: frozenset[str]
    murky: frozenset
    tolerance: Mapping[object, float]
    sure: Groups

    def between(self, a: str, b: str) -> Relation:
        """What is between two terminals."""
        pin_a, pin_b = self.pin_of[a], self.pin_of[b]
        if a in self.unlisted or b in self.unlisted:
            # A cavity without a pin is joined to nothing, whatever the other one may do.
            return OPEN if pin_a is None or pin_b is None else UNKNOWN
        if pin_a is None or pin_b is None:
            return OPEN
        if self.reduced.joined.together(pin_a, pin_b):
            return JOINED
        if not self.reach.together(pin_a, pin_b):
            return OPEN
        at = self.reach.of(pin_a)
        if at in self.murky:
            return UNKNOWN
        siemens = self.reduced.conductance(pin_a, pin_b)
        return Relation(Path.OHMS, 1.0 / siemens, self.tolerance[at]) if siemens else OPEN

    def may_conduct(self, a: str, b: str) -> bool | None:
        """Whether there is any path at all between two terminals, over other terminals too; ``None`` where not known."""
        pin_a, pin_b = self.pin_of[a], self.pin_of[b]
        if pin_a is None or pin_b is None:
            return False
        if a in self.unlisted or b in self.unlisted:
            return None
        if self.sure.together(pin_a, pin_b):
            return True
        return None if self.reach.together(pin_a, pin_b) else False



def snapshot(part: Part, position: str, pin_of: Mapping[str, str | None]) -> Snapshot:
    """Reduce one part in one lever position to the terminals of ``pin_of`` (terminal -> pin).

    A pin that no contact and no signal mentions is not known, unless its circuit says that it is joined to nothing.
    Contacts that are listed are taken to be all there are between the pins that they mention.
    """
    joins: list[tuple[str, str]] = []
    resistors: list[tuple[str, str, float]] = []
    doubtful: list[tuple[str, str]] = []
    tolerances: list[tuple[str, float]] = []
    for contact in part.contacts or ():
        ohms = contact_ohms(contact, position)
        if ohms is None:
            doubtful.append((contact.a, contact.b))
        elif ohms == 0:
            joins.append((contact.a, contact.b))
        elif ohms != float("inf"):
            resistors.append((contact.a, contact.b, ohms))
            stated = contact.tolerance_percent
            tolerances.append((contact.a, DEFAULT_TOLERANCE_PERCENT if stated is None else stated))
    sure = Groups([*joins, *((a, b) for a, b, _ in resistors)])
    reach = Groups([*joins, *((a, b) for a, b, _ in resistors), *doubtful])
    tolerance: dict[object, float] = {}
    for node, percent in tolerances:
        at = reach.of(node)
        tolerance[at] = min(percent, tolerance.get(at, percent))
    present = {terminal: _pin(part, pin) for terminal, pin in pin_of.items()}
    listed = listed_pins(part)
    unlisted = frozenset(
        terminal for terminal, pin in present.items() if pin is not None and not _is_listed(part, pin, listed)
    )
    return Snapshot(
        present,
        reduce_network(joins, resistors, [pin for pin in present.values() if pin is not None]),
        reach,
        unlisted,
        frozenset(reach.of(a) for a, _ in doubtful),
        tolerance,
        sure,
    )


def contact_ohms(contact: Contact, position: str) -> float | None:
    """Ohms of a contact in a position: 0 closed, infinite open, ``None`` where the entry does not say."""
    if contact.closed is not None:
        return 0.0 if position in contact.closed else float("inf")
    if contact.ohms is None or position not in contact.ohms:
        return None
    ohms = contact.ohms[position]
    return float("inf") if ohms is None else float(ohms)


def listed_pins(part: Part) -> frozenset[str]:
    """The pins that some contact or signal of the part mentions."""
    ends = [end for contact in part.contacts or () for end in (contact.a, contact.b)]
    powered = [pin for signal in part.signals for pin in (signal.pin, signal.supply, signal.ground) if pin]
    return frozenset(ends) | frozenset(powered)


def _is_listed(part: Part, pin: str, listed: frozenset[str]) -> bool:
    if pin in listed:
        return True
    if pin == CASE:
        return part.contacts is not None
    return part.pins is not None and part.pins.get(pin) == NOT_CONNECTED


def _pin(part: Part, pin: str | None) -> str | None:
    """The pin, or ``None`` where it is known that the part has none in this cavity."""
    if pin is None or pin == CASE or part.pins is None:
        return pin
    return pin if pin in part.pins else None


@dataclass(frozen=True, slots=True)
class Disagreement:
    """Two parts compared between two terminals in one position. ``sure`` is false where one of the two is not known."""

    a: str
    b: str
    position: str
    original: Relation
    candidate: Relation
    sure: bool


def compare(
    original: Part,
    original_pins: Mapping[str, str | None],
    candidate: Part,
    candidate_pins: Mapping[str, str | None],
    positions: Iterable[str],
) -> list[Disagreement]:
    """Where two parts do not certainly do the same, terminals and positions in the order given.

    Both mappings have the same keys, the terminals. Resistances agree within the original's tolerance.
    """
    found = []
    pairs = list(combinations(original_pins, 2))
    for position in positions:
        one, other = snapshot(original, position, original_pins), snapshot(candidate, position, candidate_pins)
        for a, b in pairs:
            left, right = one.between(a, b), other.between(a, b)
            if left.path is Path.UNKNOWN or right.path is Path.UNKNOWN:
                found.append(Disagreement(a, b, position, left, right, sure=False))
            elif not agree(left, right):
                found.append(Disagreement(a, b, position, left, right, sure=True))
    return found


def agree(original: Relation, candidate: Relation) -> bool:
    """Whether two known relations are the same, resistances within the original's tolerance, its bounds included."""
    if original.path is not candidate.path:
        return False
    if original.path is not Path.OHMS:
        return True
    assert original.ohms is not None and candidate.ohms is not None and original.tolerance_percent is not None
    slack = original.ohms * (original.tolerance_percent / 100 + 1e-9)
    return abs(candidate.ohms - original.ohms) <= slack


def signal_at(part: Part, pin: str | None) -> Signal | None:
    """The powered output on a pin, or ``None``."""
    return next((signal for signal in part.signals if signal.pin == pin), None) if pin else None
