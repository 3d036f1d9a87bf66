"""What a meter may show in one position: a relation, or a span where a fault leaves open how much it does.

The browser has the same comparisons in ``site/client/prove/match.js``.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, sqrt

from rangebook.electrics.relation import JOINED, MAX_TOLERANCE_PERCENT, OPEN, PathKind, Relation, agree

CLOSED_BELOW_OHMS = 1.0
OPEN_ABOVE_OHMS = 1_000_000.0
"""Common practice, no source: a closed contact reads under 1 ohm, an open one over 1 megohm, with nothing else connected."""

DRIFT = (0.2, 5.0)
"""By how much a ladder may have drifted; further off it is another fault."""

SHUNT_SIEMENS = (1 / OPEN_ABOVE_OHMS, 1 / CLOSED_BELOW_OHMS)

METER = 0.02
"""How far a meter may be off, as a part of what it shows, where two readings are compared. Common practice, no source: the ranges of a
hand-held meter for ohms are good to one or two percent."""

_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Between:
    """Any resistance from ``low`` to ``high`` ohms, ``high`` infinite where it may be open."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Either:
    """One of several relations."""

    of: tuple[Relation, ...]


@dataclass(frozen=True, slots=True)
class Times:
    """A resistance with its tolerance in percent, times a factor that is the same all over."""

    ohms: float
    percent: float


@dataclass(frozen=True, slots=True)
class Beside:
    """A resistance, infinite for no path, with another beside it that is the same all over."""

    ohms: float
    percent: float


Cell = Relation | Between | Either | Times | Beside | None
"""``None`` where it is not known: any reading can be that."""

Row = tuple[Cell, ...]
"""What is read between two terminals, by position."""


def reading_agrees(expected: Relation, ohms: float) -> bool:
    """Whether a meter's reading is what is expected. Between a good contact and no path there is neither."""
    if expected.path is PathKind.OHMS:
        return agree(expected, Relation(PathKind.OHMS, ohms)) or (expected.ohms or 0) < CLOSED_BELOW_OHMS > ohms
    if expected == JOINED:
        return ohms < CLOSED_BELOW_OHMS
    return ohms > OPEN_ABOVE_OHMS


def window(cell: Times | Beside, ohms: float) -> tuple[float, float]:
    """From where to where the factor, or the siemens beside, would have to be for a reading."""
    slack = cell.percent / 100 + _ROUNDING
    if isinstance(cell, Times):
        return ohms / (cell.ohms * (1 + slack)), ohms / (cell.ohms * (1 - slack))
    read = 1 / ohms if ohms > 0 else inf
    low, high = read - 1 / (cell.ohms * (1 - slack)), read - 1 / (cell.ohms * (1 + slack))
    return low - METER * read, high + METER * read


def limits(cell: Times | Beside) -> tuple[float, float]:
    """Within which the factor, or the siemens beside, is looked for."""
    return DRIFT if isinstance(cell, Times) else SHUNT_SIEMENS


def settled(cell: Times | Beside, low: float, high: float) -> Between:
    """What would be read with a factor, or siemens beside, that lies between two values."""
    slack = cell.percent / 100
    if isinstance(cell, Times):
        return Between(cell.ohms * (1 - slack) * low, cell.ohms * (1 + slack) * high)
    return Between(1 / (1 / (cell.ohms * (1 - slack)) + high), 1 / (1 / (cell.ohms * (1 + slack)) + low))


def reading_fits(cell: Cell, ohms: float) -> bool:
    """Whether a meter's reading can be what is expected; any can where that is not known."""
    if cell is None:
        return True
    if isinstance(cell, Between):
        return cell.low * (1 - _ROUNDING) <= ohms <= cell.high * (1 + _ROUNDING)
    if isinstance(cell, Either):
        return any(reading_agrees(one, ohms) for one in cell.of)
    if isinstance(cell, (Times, Beside)):
        low, high = window(cell, ohms)
        least, most = limits(cell)
        return max(low, least) <= min(high, most)
    return reading_agrees(cell, ohms)


def likely(cell: Cell) -> float | None:
    """A reading that stands for a cell, in ohms; ``None`` where it could be anything."""
    if isinstance(cell, Either):
        cell = cell.of[0]
    if isinstance(cell, Between):
        return sqrt(max(cell.low, CLOSED_BELOW_OHMS) * min(cell.high, OPEN_ABOVE_OHMS))
    if cell is None or isinstance(cell, (Times, Beside)):
        return None  # these are settled before they are asked for
    return 0.1 if cell == JOINED else inf if cell == OPEN else cell.ohms


def percent_of(found: Relation) -> float:
    """How far a resistance may be off, in percent, as readings are judged."""
    return min(found.tolerance_percent or 0.0, MAX_TOLERANCE_PERCENT)


def spanned(low: Relation | None, high: Relation | None) -> Cell:
    """What lies between the least and the most that a fault can do (Rayleigh's law, see ``bundles.spans``)."""
    if low == high or low is None or high is None:
        return low if low == high else None
    least = 0.0 if low == JOINED else inf if low == OPEN else (low.ohms or 0.0) * (1 - percent_of(low) / 100)
    most = CLOSED_BELOW_OHMS if high == JOINED else inf if high == OPEN else (high.ohms or 0.0) * (1 + percent_of(high) / 100)
    return Between(least, most)
