"""Which mounts of a book might take a given one, without trying each of them."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import replace
from typing import NamedTuple

from rangebook.book.model import Bolt, Hub, Mount, Shaft
from rangebook.mounting.fit import SHAFT_MM, fit_mounts

_ROUNDING_MM = 1e-6


class Geometry(NamedTuple):
    """What of a mount decides whether it fits. Mounts of one geometry are one and the same here, whatever they are called."""

    shaft: Shaft | None
    bolts: tuple[Bolt, ...]
    hub: Hub | None = None
    positions: tuple[str, ...] = ()
    motion: str | None = None

    def as_mount(self) -> Mount:
        """A mount of this geometry, without a name."""
        return Mount("", self.shaft, self.bolts, None, (), self.hub, self.positions, motion=self.motion)


def geometry_of(mount: Mount | None) -> Geometry | None:
    """The geometry of a mount; ``None`` where how a part bolts on is not stated."""
    if mount is None:
        return None
    bolts = mount.bolts
    if any(bolt.torque_nm is not None for bolt in bolts):  # how tight a bolt is done up says nothing about where it goes
        bolts = tuple(replace(bolt, torque_nm=None) for bolt in bolts)
    return Geometry(mount.shaft, bolts, mount.hub, mount.positions, mount.motion)


class MountIndex:
    """Geometries by the shape and size of their shaft and by where their holes are. Those that are not stated in full are
    never left out."""

    def __init__(self, geometries: Iterable[Geometry]) -> None:
        listed = list(dict.fromkeys(geometries))
        self._smallest_bolt = min((bolt.bolt_mm for one in listed for bolt in one.bolts if bolt.bolt_mm), default=0.0)
        self._vague = [one for one in listed if not _is_full(one)]
        by_hole: dict[tuple[str, int], list[tuple[float, int, Geometry]]] = {}
        for number, one in enumerate(listed):
            if _is_full(one):
                for key in self._holes(one):
                    by_hole.setdefault(key, []).append((one.shaft.across_mm, number, one))  # type: ignore[union-attr,arg-type]
        self._by_hole = {key: sorted(found, key=lambda item: item[:2]) for key, found in by_hole.items()}
        self._sizes = {key: [item[0] for item in found] for key, found in self._by_hole.items()}
        self._full = [one for one in listed if _is_full(one)]

    def _holes(self, one: Geometry) -> set[tuple[str, int]]:
        """Shape of the shaft with every millimetre from the shaft at which some hole may take a bolt."""
        found: set[tuple[str, int]] = set()
        for hole in one.bolts:
            assert hole.hole_mm is not None and one.shaft is not None and one.shaft.shape is not None
            clearance = max(0.0, (hole.hole_mm - self._smallest_bolt) / 2) + _ROUNDING_MM
            low, high = math.floor(hole.at_mm - clearance), math.floor(hole.at_mm + clearance)
            found.update((one.shaft.shape, place) for place in range(low, high + 1))
        return found

    def takers(self, seat: Geometry) -> list[Geometry]:
        """The geometries that are not surely refused on a seat of the given one."""
        bolted = seat.as_mount()
        return [one for one in self._near(seat) if fit_mounts(bolted, one.as_mount()).fits is not False]

    def _near(self, seat: Geometry) -> Iterable[Geometry]:
        """The geometries whose shaft may be the seat's, with a hole that may take its first bolt."""
        shaft = seat.shaft
        if shaft is None or shaft.shape is None or shaft.across_mm is None or not seat.bolts:
            return [*self._vague, *self._full]
        key = (shaft.shape, math.floor(seat.bolts[0].at_mm))
        sizes = self._sizes.get(key, [])
        low = bisect_left(sizes, shaft.across_mm - SHAFT_MM - _ROUNDING_MM)
        high = bisect_right(sizes, shaft.across_mm + SHAFT_MM + _ROUNDING_MM)
        return [*self._vague, *(item[2] for item in self._by_hole.get(key, [])[low:high])]


def _is_full(one: Geometry) -> bool:
    shaft = one.shaft
    return (
        shaft is not None
        and shaft.shape is not None
        and shaft.across_mm is not None
        and bool(one.bolts)
        and all(hole.hole_mm is not None for hole in one.bolts)
    )
