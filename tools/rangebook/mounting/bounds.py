"""How wide a hole and how long a slot can be, before one of the figures must be wrong."""

from __future__ import annotations

import math
from bisect import bisect_left

from rangebook.book.model import Bolt, Mount
from rangebook.mounting.hub import smallest_step

COARSE_MM = {1.6: 2.0, 2: 2.6, 2.5: 3.1, 3: 3.6, 3.5: 4.2, 4: 4.8, 5: 5.8, 6: 7.0, 7: 8.0, 8: 10.0, 10: 12.0, 12: 14.5, 14: 16.5, 16: 18.5}
"""Bolt -> the widest clearance hole, in millimetres: ISO 273:1979, coarse series, seen in a table that cites it."""

ROUNDING_MM = 1e-9
"""What adding up lengths in millimetres may be off by."""

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


def half_travel(bolt: Bolt, hole: Bolt) -> float | None:
    """How far, in degrees either way about the shaft, a hole may be off a bolt and still take it; ``None``: not at all.

    Both must have their sizes stated.
    """
    assert bolt.bolt_mm is not None and hole.hole_mm is not None
    clearance = (hole.hole_mm - bolt.bolt_mm) / 2
    off = abs(bolt.at_mm - hole.at_mm)
    if clearance < -ROUNDING_MM or off > clearance + ROUNDING_MM:
        return None
    # The round end of the slot: the bolt's middle is no farther than the clearance from the end of the middle line.
    product = 2 * bolt.at_mm * hole.at_mm
    if product == 0:
        return 180.0
    cosine = (bolt.at_mm**2 + hole.at_mm**2 - max(clearance, 0.0) ** 2) / product
    end = math.degrees(math.acos(min(1.0, max(-1.0, cosine))))
    return hole.slot_deg / 2 + end


def slot_limit_deg(*mounts: Mount) -> float:
    """What the travel of a switch must stay below: the smallest step from detent to detent, where one of the mounts states it."""
    step = smallest_step(*mounts)
    return SLOT_DEG if step is None else step


def longest_slot_deg(bolt: Bolt, hole: Bolt, limit_deg: float) -> float:
    """What a slot must stay below so that its travel stays below ``limit_deg``: the play of the bolt in its hole is travel too. Without
    sizes the play is not known, and left out."""
    half = half_travel(bolt, hole) if bolt.bolt_mm is not None and hole.hole_mm is not None else None
    return limit_deg if half is None else limit_deg - (2 * half - hole.slot_deg)
