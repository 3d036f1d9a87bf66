"""Sets of angles as closed intervals on the circle, exact but for rounding. Angles in degrees."""

from __future__ import annotations

from collections.abc import Iterable

FULL = 360.0
_ROUNDING = 1e-9

Intervals = tuple[tuple[float, float], ...]
"""Closed intervals ``(low, high)`` with ``0 <= low <= high <= 360``, in order and apart."""

EVERYWHERE: Intervals = ((0.0, FULL),)


def around(middle: float, half: float) -> Intervals:
    """All angles within ``half`` degrees of ``middle``."""
    if half >= FULL / 2:
        return EVERYWHERE
    low, high = (middle - half) % FULL, (middle - half) % FULL + 2 * half
    return ((low, high),) if high <= FULL else ((0.0, high - FULL), (low, FULL))


def both(one: Intervals, other: Intervals) -> Intervals:
    """The angles that are in both sets. Intervals that meet in one angle share it, rounding allowed for."""
    found = []
    for low, high in one:
        for from_, to in other:
            start, end = max(low, from_), min(high, to)
            if start <= end + _ROUNDING:
                found.append((min(start, end), max(start, end)))
            elif start - end >= FULL - _ROUNDING:  # 0 and 360 are one angle
                found.append((end, end))
    found.sort()
    return tuple(found)


def width(intervals: Iterable[tuple[float, float]]) -> float:
    """Degrees of the widest run of angles, running on over 0 where it does."""
    listed = list(intervals)
    if not listed:
        return 0.0
    runs = [high - low for low, high in listed]
    if len(listed) > 1 and listed[0][0] <= _ROUNDING and listed[-1][1] >= FULL - _ROUNDING:
        runs.append(runs[0] + runs[-1])
    return max(runs)
