"""What a range switch must never do, checked apart from all else.

Sources: 49 CFR 571.102 S3.1.3 (the starter is inoperative in the forward and reverse positions); 49 CFR 571.108 Table
I-a (the backup lamp is lit in reverse and not in forward motion).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from rangebook.book.model import CASE, Part
from rangebook.electrics.bundles import bundles_of, paths
from rangebook.reasons.codes import Danger

COMMON_FEED = "common_feed"
"""A feed that several contacts share: with a start or backup output beside it, it is that output's feed."""


class Guarded(NamedTuple):
    """A path between two circuits, and the only positions in which it may be there."""

    feed: str
    out: str
    allowed: frozenset[str]
    danger: Danger

    @property
    def feeds(self) -> tuple[str, str]:
        """The circuits that count as the feed of this path."""
        return self.feed, COMMON_FEED


GUARDED = (
    Guarded("start_feed", "start_out", frozenset({"P", "N"}), Danger.STARTER),
    Guarded("backup_feed", "backup_out", frozenset({"R"}), Danger.BACKUP),
)


@dataclass(frozen=True, slots=True)
class Hazard:
    """A guarded path between terminals ``a`` and ``b`` in ``positions`` where it must not be; not ``sure``: it may be there."""

    guard: Guarded
    a: str
    b: str
    positions: tuple[str, ...]
    sure: bool


def hazards(part: Part, pin_of: Mapping[str, str | None], circuits: Mapping[str, frozenset[str]], positions: Iterable[str]) -> list[Hazard]:
    """Guarded paths with ``part`` fitted, of whatever resistance and over whatever other terminals.

    ``pin_of`` maps terminals to pins, ``circuits`` terminals to every circuit that they are known as.
    """
    ends = [
        (guard, a, b)
        for guard in GUARDED
        for a in pin_of
        if not circuits.get(a, frozenset()).isdisjoint(guard.feeds)
        for b in pin_of
        if guard.out in circuits.get(b, ()) and a != b
    ]
    if not ends:
        return []
    found: dict[tuple[Guarded, str, str, bool], list[str]] = {}
    for position in positions:
        for guard, a, b in ends:
            if position in guard.allowed:
                continue
            conducts = conduct(part, pin_of[a], pin_of[b], position)
            if conducts is not False:
                found.setdefault((guard, a, b, conducts is True), []).append(position)
    return [Hazard(guard, a, b, tuple(where), sure) for (guard, a, b, sure), where in found.items()]


def conduct(part: Part, a: str | None, b: str | None, position: str) -> bool | None:
    """Whether there is any path between two pins, of whatever resistance and over whatever others; ``None``: not known."""
    for pin in (a, b):
        if pin is None or (pin != CASE and part.pins is not None and pin not in part.pins):
            return False
    listed = bundles_of(part).listed
    if a not in listed or b not in listed:
        return None
    here = paths(part, position)
    if here.sure.together(a, b):
        return True
    return None if here.reach.together(a, b) else False
