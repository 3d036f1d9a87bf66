"""What a meter may show in one position: a relation, or a span where a fault leaves open how much it does.

The browser has the same comparisons in ``site/client/prove/match.js``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, sqrt

from rangebook.electrics.relation import JOINED, MAX_TOLERANCE_PERCENT, OPEN, PathKind, Relation, agree

CLOSED_BELOW_OHMS = 1.0
OPEN_ABOVE_OHMS = 1_000_000.0
"""Common practice, no source: a closed contact reads under 1 ohm, an open one over 1 megohm, with nothing else connected."""

WORN_LEADS_OHMS = (CLOSED_BELOW_OHMS, 10.0)
"""What a closed contact reads through bad leads, or a meter that was not set to zero. Common practice, no source."""

DRIFT = (0.2, 5.0)
"""By how much a ladder may have drifted; further off it is another fault."""

SHUNT_SIEMENS = (1 / OPEN_ABOVE_OHMS, 1 / CLOSED_BELOW_OHMS)

METER = 0.02
"""How far a meter may be off, as a part of what it shows, where two readings are compared. Common practice, no source: the ranges of a
hand-held meter for ohms are good to one or two percent."""

_ROUNDING = 1e-9

_STEPS = 60
"""Each leaves two thirds of where a factor is looked for."""


@dataclass(frozen=True, slots=True)
class Between:
    """Any resistance from ``low`` to ``high`` ohms, ``high`` infinite where it may be open."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Either:
    """One of several."""

    of: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Common:
    """A resistance from ``low`` to ``high`` ohms, infinite for no path: where ``times`` times a factor, where ``beside`` with another
    resistance beside it. The factor, and what lies beside, are the same for all readings."""

    low: float
    high: float
    times: bool
    beside: bool


Cell = Relation | Between | Either | Common | None
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


@dataclass(frozen=True, slots=True)
class Spans:
    """Between what the factor that is the same for all readings would have to be, and the siemens beside."""

    factor: tuple[float, float] = DRIFT
    beside: tuple[float, float] = SHUNT_SIEMENS


def spans_of(read: Sequence[tuple[Common, float]]) -> Spans | None:
    """The same from what was read, each beside what it is a reading of; ``None`` where no factor with no resistance beside makes all."""
    factor, beside = DRIFT, SHUNT_SIEMENS
    for cell, ohms in read:
        if not cell.beside:
            factor = _met(factor, (ohms / (cell.high * (1 + _ROUNDING)), ohms / (cell.low * (1 - _ROUNDING))))
        elif not cell.times:
            beside = _met(beside, _siemens_beside(cell, ohms, 1.0))
    if factor[0] > factor[1] or beside[0] > beside[1]:
        return None
    both = [one for one in read if one[0].times and one[0].beside]
    return Spans(factor, beside) if not both or _makes_all(both, factor, beside) else None


def _siemens_beside(cell: Common, ohms: float, by: float) -> tuple[float, float]:
    """From where to where the siemens beside would have to be for a reading, with the resistance itself divided ``by``."""
    if ohms <= 0:
        return inf, inf
    read = 1 / ohms
    least = inf if cell.low <= 0 else by / (cell.low * (1 - _ROUNDING))
    return read * (1 - METER) - least, read * (1 + METER) - by / (cell.high * (1 + _ROUNDING))


def _makes_all(read: Sequence[tuple[Common, float]], factor: tuple[float, float], beside: tuple[float, float]) -> bool:
    """Whether one factor with one resistance beside makes all readings. How much room it leaves to the other rises and falls once."""

    def room(by: float) -> float:
        low, high = beside
        for cell, ohms in read:
            low, high = _met((low, high), _siemens_beside(cell, ohms, by))
        return high - low if low < inf else -inf

    low, high = 1 / factor[1], 1 / factor[0]
    for _ in range(_STEPS):
        one, other = low + (high - low) / 3, high - (high - low) / 3
        if room(one) >= 0 or room(other) >= 0:
            return True
        low, high = (one, high) if room(one) < room(other) else (low, other)
    return False


def _met(one: tuple[float, float], other: tuple[float, float]) -> tuple[float, float]:
    return max(one[0], other[0]), min(one[1], other[1])


def settled(cell: Common, spans: Spans) -> Between:
    """What would be read with a factor, and siemens beside, that lie between two values."""
    low = cell.low * (spans.factor[0] if cell.times else 1)
    high = cell.high * (spans.factor[1] if cell.times else 1)
    if not cell.beside:
        return Between(low, high)
    return Between(1 / ((1 / low if low > 0 else inf) + spans.beside[1]), 1 / (1 / high + spans.beside[0]))


def reading_fits(cell: Cell, ohms: float) -> bool:
    """Whether a meter's reading can be what is expected; any can where that is not known."""
    if cell is None:
        return True
    if isinstance(cell, Between):
        return cell.low * (1 - _ROUNDING) <= ohms <= cell.high * (1 + _ROUNDING)
    if isinstance(cell, Either):
        return any(reading_fits(one, ohms) for one in cell.of)
    if isinstance(cell, Common):
        return spans_of([(cell, ohms)]) is not None
    return reading_agrees(cell, ohms)


def likely(cell: Cell) -> float | None:
    """A reading that stands for a cell, in ohms; ``None`` where it could be anything."""
    if isinstance(cell, Either):
        cell = cell.of[0]
    if isinstance(cell, Between):
        return sqrt(max(cell.low, CLOSED_BELOW_OHMS) * min(cell.high, OPEN_ABOVE_OHMS))
    if cell is None or isinstance(cell, (Common, Either)):
        return None  # what is common is settled before it is asked for
    return 0.1 if cell == JOINED else inf if cell == OPEN else cell.ohms


def percent_of(found: Relation) -> float:
    """How far a resistance may be off, in percent, as readings are judged."""
    return min(found.tolerance_percent or 0.0, MAX_TOLERANCE_PERCENT)


def ohms_of(found: Relation) -> tuple[float, float]:
    """The least and the most ohms of a resistance, by its tolerance."""
    slack = percent_of(found) / 100
    return (found.ohms or 0.0) * (1 - slack), (found.ohms or 0.0) * (1 + slack)


def spanned(low: Relation | None, high: Relation | None) -> Cell:
    """What lies between the least and the most that a fault can do (Rayleigh's law, see ``bundles.spans``)."""
    if low == high or low is None or high is None:
        return low if low == high else None
    least = 0.0 if low == JOINED else inf if low == OPEN else (low.ohms or 0.0) * (1 - percent_of(low) / 100)
    most = CLOSED_BELOW_OHMS if high == JOINED else inf if high == OPEN else (high.ohms or 0.0) * (1 + percent_of(high) / 100)
    return Between(least, most)


def times(found: Cell) -> Cell:
    """What is expected with a factor that is the same for all readings."""
    if not isinstance(found, Relation) or found.path is not PathKind.OHMS:
        return found
    return Common(*ohms_of(found), times=True, beside=False)


def beside(found: Cell) -> Cell:
    """What is expected with a resistance beside that is the same for all readings."""
    if found is None or found == JOINED or isinstance(found, Either):
        return found
    if isinstance(found, Common):
        return Common(found.low, found.high, found.times, beside=True)
    low, high = (found.low, found.high) if isinstance(found, Between) else (inf, inf) if found == OPEN else ohms_of(found)
    return Common(low, high, times=False, beside=True)
