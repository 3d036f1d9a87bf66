"""The first check: whether it bolts on."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from rangebook.book.book import Book
from rangebook.book.model import Mount, Part
from rangebook.fitting.on_lever import on_lever
from rangebook.fitting.seats import Seat, mount_of
from rangebook.mounting.fit import fit_mounts, same_mount
from rangebook.reasons.codes import InsideDiffers, InsideNotStated, MountCameWith
from rangebook.reasons.reason import Of, Reason, Side, Subject


def check_mount(book: Book, seat: Seat, part: Part) -> Sequence[Reason]:
    """Shaft, hub, bolts and spacers of ``part`` against those of the seat's original."""
    original, mount = seat.original, mount_of(book, part)
    if part is original:
        return same_mount(mount).reasons if mount else [Reason(MountCameWith(), Subject(Side.CANDIDATE, Of.MOUNT))]
    if original.inside is not None and part.inside is not None and original.inside != part.inside:
        return [Reason(InsideDiffers(part.inside), Subject(Side.CANDIDATE, Of.MOUNT))]
    same_name = part.family == original.family and part.mount is not None and part.mount == original.mount
    asked: list[Reason] = []
    # Outside is where most sit, and nobody says so; parts on one mount of a family sit alike.
    if (part.inside or original.inside) and not same_name:
        sides = ((Side.ORIGINAL, original), (Side.CANDIDATE, part))
        asked = [Reason(InsideNotStated(), Subject(side, Of.MOUNT)) for side, one in sides if one.inside is None]
    on = on_lever(book, seat.positions, seat.family, part)
    return (*_reasons(seat.mount, on.mount, same_name, seat.positions), *asked)


@lru_cache(maxsize=16_384)
def _reasons(seat: Mount | None, mount: Mount | None, same_name: bool, lever: tuple[str, ...]) -> tuple[Reason, ...]:
    """Mounts are a few, and many parts share each."""
    return fit_mounts(seat, mount, same_name, lever).reasons
