"""A part as the vehicle's wires see it: between each two terminals, in each lever position.

A *terminal* is a cavity of the vehicle's plug that carries a wire, by its label there, or ``case`` for the housing. Which
pin of the part each terminal meets is given from outside, so that kits and moved wires need nothing of their own here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

from rangebook.book.model import CASE, NOT_CONNECTED, Part, Signal
from rangebook.electrics.bundles import NO_PIN, Bundle, Loop, bundle_relations, bundles_of
from rangebook.electrics.relation import JOINED, OPEN, UNKNOWN, PathKind, Relation, agree, turned

PinOf = tuple[tuple[str, str | None], ...]
"""Terminal and the pin that it meets, ``None`` where its cavity has none: one pair for each terminal, in a fixed order."""


@dataclass(frozen=True, slots=True, eq=False)
class Behaviour:
    """A part on given terminals in given positions.

    ``pairs`` holds, for two terminals in the order of ``terminals``, what is between them in each position; pairs that
    are left out are open throughout. ``unlisted`` are the terminals about whose pin nothing is stated: what is between
    one of them and any other terminal that meets a pin is not known. ``bare`` are those that meet no pin.
    """

    terminals: tuple[str, ...]
    positions: tuple[str, ...]
    pairs: Mapping[tuple[str, str], tuple[Relation, ...]]
    unlisted: frozenset[str]
    bare: frozenset[str]

    def between(self, a: str, b: str) -> tuple[Relation, ...]:
        """What is between two terminals, by position."""
        found = self.pairs.get((a, b))
        if found is None and (b, a) in self.pairs:
            found = turned(self.pairs[b, a])
        found = found or (OPEN,) * len(self.positions)
        if (a in self.unlisted or b in self.unlisted) and a not in self.bare and b not in self.bare:
            # A jumper joins them whatever else there is.
            return tuple(one if one is JOINED else UNKNOWN for one in found)
        return found


@lru_cache(maxsize=2_048)
def behaviour(part: Part, pin_of: PinOf, positions: tuple[str, ...]) -> Behaviour:
    """A part reduced to the terminals of ``pin_of`` in each of ``positions``.

    A pin that no contact and no signal mentions is not known, unless its circuit says that it is joined to nothing.
    Contacts that are listed are taken to be all there are between the pins that they mention.
    """
    bundles = bundles_of(part)
    met: dict[str, str] = {}
    bare, unlisted = [], []
    for terminal, pin in pin_of:
        if pin is None or (pin != CASE and part.pins is not None and pin not in part.pins):
            bare.append(terminal)
        else:
            met[pin] = terminal
            if pin not in bundles.listed:
                unlisted.append(terminal)
    reached: dict[int, tuple[Bundle, list[str]]] = {}
    for pin in met:
        bundle = bundles.of.get(pin)
        if bundle is not None:
            reached.setdefault(id(bundle), (bundle, []))[1].append(pin)
    pairs = {
        (met[a], met[b]): row
        for bundle, pins in reached.values()
        if len(pins) > 1
        for (a, b), row in bundle_relations(bundle, tuple(pins), positions).items()
    }
    return Behaviour(tuple(one for one, _ in pin_of), positions, pairs, frozenset(unlisted), frozenset(bare))


class Disagreement(NamedTuple):
    """Two parts compared between two terminals in one position. ``sure`` is false where one of the two is not known."""

    a: str
    b: str
    position: str
    original: Relation
    candidate: Relation
    sure: bool


def compare(original: Behaviour, candidate: Behaviour) -> list[Disagreement]:
    """Where two parts on the same terminals, in the same positions, do not certainly do the same.

    Resistances agree within the original's tolerance.
    """
    found: list[Disagreement] = []
    order = {terminal: place for place, terminal in enumerate(original.terminals)}
    wanted = {(a, b) if order[a] < order[b] else (b, a) for side in (original, candidate) for a, b in side.pairs}
    doubtful = original.unlisted | candidate.unlisted
    if doubtful:
        wanted |= {(a, b) if order[a] < order[b] else (b, a) for a in doubtful for b in original.terminals if a != b}
    for a, b in sorted(wanted, key=lambda pair: (order[pair[0]], order[pair[1]])):
        one, other = original.between(a, b), candidate.between(a, b)
        if one == other and UNKNOWN not in one:
            continue
        for position, left, right in zip(original.positions, one, other, strict=True):
            if left.path is PathKind.UNKNOWN or right.path is PathKind.UNKNOWN:
                found.append(Disagreement(a, b, position, left, right, sure=False))
            elif not agree(left, right):
                found.append(Disagreement(a, b, position, left, right, sure=True))
    return found


@lru_cache(maxsize=4_096)
def overlaps(part: Part) -> bool:
    """Whether any contact of a part overlaps into a neighbouring position."""
    return any(one.overlaps for one in part.contacts or ())


@lru_cache(maxsize=2_048)
def without_overlaps(part: Part) -> Part:
    """A part with its contacts open where they overlap into a neighbouring position."""
    return replace(part, contacts=tuple(replace(one, overlaps=()) for one in part.contacts or ())) if overlaps(part) else part


def signal_at(part: Part, pin: str | None) -> Signal | None:
    """The powered output on a pin, or ``None``; the first where more than one is stated."""
    return next((signal for signal in part.signals if signal.pin == pin), None) if pin else None


def is_powered(part: Part, pin: str | None) -> bool:
    """Whether a pin is an output, the supply or the ground of a part's electronics."""
    return any(pin in (one.pin, one.supply, one.ground) for one in part.signals)


@lru_cache(maxsize=4_096)
def inside_stated(part: Part, pin: str | None) -> bool:
    """Whether it is stated what a pin is to the inside of a part: that there is none, a contact, an output, or nothing."""
    if pin is None or pin == CASE:
        return True
    pins = part.pins
    if pins is not None and pins.get(pin, NO_PIN) in (NO_PIN, NOT_CONNECTED):
        return True
    return is_powered(part, pin) or any(pin in (one.a, one.b) for one in part.contacts or () if not isinstance(one, Loop))
