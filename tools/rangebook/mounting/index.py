"""Which mounts of a book might take a given one, without trying each of them."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from typing import NamedTuple

from rangebook.book.model import Bolt, Mount, Shaft
from rangebook.mounting.fit import SHAFT_MM, fit_mounts

_ROUNDING_MM = 1e-6


class Geometry(NamedTuple):
    """What of a mount decides whether it fits. Mounts of one geometry are one and the same here, whatever they are called."""

    shaft: Shaft | None
    bolts: tuple[Bolt, ...]

    def as_mount(self) -> Mount:
        """A mount of this geometry, without a name."""
        return Mount("", self.shaft, self.bolts, None, ())


def geometry_of(mount: Mount | None) -> Geometry | None:
    """The geometry of a mount; ``None`` where how a part bolts on is not stated."""
    return None if mount is None else Geometry(mount.shaft, mount.bolts)


class MountIndex:
    """Geometries by their shaft. Those that are not stated in full are never left out."""

    def __init__(self, geometries: Iterable[Geometry]) -> None:
        self._vague: list[Geometry] = []
        by_shape: dict[str, list[tuple[float, int, Geometry]]] = {}
        for number, one in enumerate(dict.fromkeys(geometries)):
            if one.shaft is None or one.shaft.shape is None or one.shaft.across_mm is None or not one.bolts:
                self._vague.append(one)
            else:
                by_shape.setdefault(one.shaft.shape, []).append((one.shaft.across_mm, number, one))
        self._by_shape = {shape: sorted(listed, key=lambda item: item[:2]) for shape, listed in by_shape.items()}
        self._sizes = {shape: [item[0] for item in listed] for shape, listed in self._by_shape.items()}

    def _near(self, wanted: Geometry) -> Iterable[Geometry]:
        """The geometries whose shaft may be the wanted one."""
        yield from self._vague
        shaft = wanted.shaft
        if shaft is None or shaft.shape is None or shaft.across_mm is None:
            for listed in self._by_shape.values():
                yield from (item[2] for item in listed)
            return
        sizes = self._sizes.get(shaft.shape, [])
        low = bisect_left(sizes, shaft.across_mm - SHAFT_MM - _ROUNDING_MM)
        high = bisect_right(sizes, shaft.across_mm + SHAFT_MM + _ROUNDING_MM)
        yield from (item[2] for item in self._by_shape.get(shaft.shape, [])[low:high])

    def takers(self, seat: Geometry) -> list[Geometry]:
        """The geometries that are not surely refused on a seat of the given one."""
        bolted = seat.as_mount()
        return [one for one in self._near(seat) if fit_mounts(bolted, one.as_mount()).fits is not False]

    def taken_by(self, candidate: Geometry) -> list[Geometry]:
        """The geometries, taken as those of seats, on which the given one surely fits."""
        bolted = candidate.as_mount()
        return [one for one in self._near(candidate) if fit_mounts(one.as_mount(), bolted).fits is True]
