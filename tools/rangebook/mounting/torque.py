"""Which torques a bolt of a size can have been meant for."""

from __future__ import annotations

import math

from rangebook.book.model import Family

PITCH_MM = {3: 0.5, 3.5: 0.6, 4: 0.7, 5: 0.8, 6: 1.0, 7: 1.0, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2.0, 16: 2.0}
"""Bolt -> pitch of its thread: ISO 261, coarse; from memory."""

PROOF_MPA = 830.0
"""Proof stress of a bolt of class 10.9: ISO 898-1, from memory."""

FRICTION = 0.2
"""Torque over force times diameter, of dry steel. Seen in a table of torques that cites ISO 898-1 for the force."""

LEAST = 0.1
"""With less than this part of what the strongest bolt bears nothing is held. Common practice, no source."""


def plausible_nm(bolt_mm: float) -> tuple[float, float]:
    """The least and the most newton metres for a bolt: the most brings one of class 10.9 to its proof load.

    What is meant in inch-pounds is 8.85 times as much in figures, and so beyond it for all that is usual.
    """
    pitch = PITCH_MM[min(PITCH_MM, key=lambda size: abs(size - bolt_mm))]
    stressed_mm2 = math.pi / 4 * (bolt_mm - 0.9382 * pitch) ** 2
    most = FRICTION * PROOF_MPA * stressed_mm2 * bolt_mm / 1000
    return most * LEAST, most


def bolts_differ(family: Family) -> bool:
    """Whether a family has two mounts with bolts of different sizes, so that one torque cannot be for both."""
    sizes = (frozenset(bolt.bolt_mm for bolt in mount.bolts if bolt.bolt_mm is not None) for mount in family.mounts.values())
    return len({found for found in sizes if found}) > 1
