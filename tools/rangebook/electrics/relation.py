"""What there can be between two terminals."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

DEFAULT_TOLERANCE_PERCENT = 10.0
"""Where an entry states no tolerance. Common practice, no source: a ladder reads within 5 to 10 percent of its nominal."""


MAX_TOLERANCE_PERCENT = 20.0
"""A tolerance wider than this says nothing of what is read. IEC 60063, from memory: the widest series of resistors, E6, is made
to 20 percent."""

CLOSED_OHMS = 1.0
"""What is under this is closed, however it is written. Common practice, no source."""


class PathKind(StrEnum):
    """The kinds of path between two terminals in one position."""

    JOINED = "joined"
    OPEN = "open"
    OHMS = "ohms"
    UNKNOWN = "unknown"
    ONE_WAY = "one_way"
    """A diode that lets current through from the first of the two to the second."""
    ONE_WAY_BACK = "one_way_back"
    """From the second to the first."""


class Relation(NamedTuple):
    """What is between two terminals; ``ohms`` and ``tolerance_percent`` only where ``path`` is ``OHMS``."""

    path: PathKind
    ohms: float | None = None
    tolerance_percent: float | None = None


JOINED = Relation(PathKind.JOINED)
OPEN = Relation(PathKind.OPEN)
UNKNOWN = Relation(PathKind.UNKNOWN)
ONE_WAY = Relation(PathKind.ONE_WAY)
ONE_WAY_BACK = Relation(PathKind.ONE_WAY_BACK)

CONDUCTS = frozenset({PathKind.JOINED, PathKind.ONE_WAY, PathKind.ONE_WAY_BACK})
"""Paths without resistance, one way at the least."""

_TURNED = {PathKind.ONE_WAY: ONE_WAY_BACK, PathKind.ONE_WAY_BACK: ONE_WAY}


def turned(row: tuple[Relation, ...]) -> tuple[Relation, ...]:
    """Relations between two terminals as they are seen from the second to the first."""
    if any(one.path in _TURNED for one in row):
        return tuple(_TURNED.get(one.path, one) for one in row)
    return row


def agree(original: Relation, candidate: Relation) -> bool:
    """Whether two known relations are the same, resistances within the original's tolerance, its bounds included; within
    :data:`MAX_TOLERANCE_PERCENT` where it is said to be wider."""
    if original.path is not candidate.path:
        return False
    if original.path is not PathKind.OHMS:
        return True
    assert original.ohms is not None and candidate.ohms is not None and original.tolerance_percent is not None
    slack = original.ohms * (min(original.tolerance_percent, MAX_TOLERANCE_PERCENT) / 100 + 1e-9)
    return abs(candidate.ohms - original.ohms) <= slack
