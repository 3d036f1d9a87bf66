"""What current the contacts between two pins are made for.

Contacts one after the other are made for what the weakest of them is. Of contacts side by side the strongest counts and not their
sum: one of them closes first and opens last, and carries everything then (common practice, no source).
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from rangebook.book.model import Contact, Part
from rangebook.electrics.bundles import INFINITE, Bundle, bundles_of, contact_ohms
from rangebook.electrics.network import Groups


class Rating(NamedTuple):
    """Amperes: the contacts are made for ``low`` at the least and ``high`` at the most, 0 and infinite where nothing is stated."""

    low: float
    high: float

    @property
    def stated(self) -> float | None:
        """The rating, where it is known."""
        return self.low if self.low == self.high < INFINITE else None


NOT_STATED = Rating(0.0, INFINITE)


@lru_cache(maxsize=4_096)
def is_rated(part: Part) -> bool:
    """Whether any contact of a part says what it is made for."""
    return any(one.rated_a not in (None, INFINITE) for one in part.contacts or ())


def rating(part: Part, a: str, b: str, positions: tuple[str, ...]) -> Rating:
    """What the closed paths between two pins are made for, in the position in which that is least."""
    if not is_rated(part):
        return NOT_STATED
    bundle = bundles_of(part).of.get(a)
    return NOT_STATED if bundle is None else _rating(bundle, a, b, positions)


@lru_cache(maxsize=4_096)
def _rating(bundle: Bundle, a: str, b: str, positions: tuple[str, ...]) -> Rating:
    lows, highs = [], []
    for position in positions:
        closed = [one for one in bundle.contacts if contact_ohms(one, position) == 0]
        if Groups((one.a, one.b) for one in closed).together(a, b):
            lows.append(_widest(closed, a, b, 0.0))
            highs.append(_widest(closed, a, b, INFINITE))
    return Rating(min(lows), min(highs)) if lows else NOT_STATED


def _widest(closed: list[Contact], a: str, b: str, unstated: float) -> float:
    """The weakest contact on the strongest way from ``a`` to ``b``; there is one."""
    rated = [(unstated if one.rated_a is None else one.rated_a, one) for one in closed]
    groups = Groups()
    for amps, one in sorted(rated, key=lambda pair: -pair[0]):
        groups.join(one.a, one.b)
        if groups.together(a, b):
            return amps
    raise ValueError("no way between the two")
