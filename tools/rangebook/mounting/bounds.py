"""How wide a hole and how long a slot can be, before one of the figures must be wrong."""

from __future__ import annotations

from bisect import bisect_left

from rangebook.book.model import Mount
from rangebook.mounting.hub import smallest_step

COARSE_MM = {1.6: 2.0, 2: 2.6, 2.5: 3.1, 3: 3.6, 3.5: 4.2, 4: 4.8, 5: 5.8, 6: 7.0, 7: 8.0, 8: 10.0, 10: 12.0, 12: 14.5, 14: 16.5, 16: 18.5}
"""Bolt -> the widest clearance hole, in millimetres: ISO 273:1979, coarse series, seen in a table that cites it."""

SLOT_DEG = 30.0
"""Where the detents are not stated, a slot as long as this would let the switch be set a detent off. Common practice, no source: the
detents of a lever stand less than this apart."""


def widest_hole_mm(bolt_mm: float) -> float:
    """The widest hole for a bolt. Between two sizes of the standard it lies between their holes, beyond them in proportion."""
    sizes = list(COARSE_MM)
    if not sizes[0] < bolt_mm < sizes[-1]:
        near = sizes[0] if bolt_mm <= sizes[0] else sizes[-1]
        return bolt_mm * COARSE_MM[near] / near
    above = sizes[bisect_left(sizes, bolt_mm)]
    below = max(size for size in sizes if size < above)
    return COARSE_MM[below] + (bolt_mm - below) / (above - below) * (COARSE_MM[above] - COARSE_MM[below])


def slot_limit_deg(*mounts: Mount) -> float:
    """What a slot must stay below: the smallest step from detent to detent, where one of the mounts states it."""
    step = smallest_step(*mounts)
    return SLOT_DEG if step is None else step
