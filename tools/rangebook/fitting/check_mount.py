"""The first check: whether it bolts on."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from rangebook.book.book import Book
from rangebook.book.model import Mount, Part
from rangebook.fitting.on_lever import on_lever
from rangebook.fitting.seats import Seat, mount_of
from rangebook.mounting.fit import fit_mounts, same_mount
from rangebook.reasons.codes import InsideDiffers, MountCameWith
from rangebook.reasons.reason import Of, Reason, Side, Subject


def check_mount(book: Book, seat: Seat, part: Part) -> Sequence[Reason]:
    """Shaft, hub, bolts and spacers of ``part`` against those of the seat's original."""
    original, mount = seat.original, mount_of(book, part)
    if part is original:
        return same_mount(mount).reasons if mount else [Reason(MountCameWith(), Subject(Side.CANDIDATE, Of.MOUNT))]
    if original.inside is not None and part.inside is not None and original.inside != part.inside:
        return [Reason(InsideDiffers(part.inside), Subject(Side.CANDIDATE, Of.MOUNT))]
    same_name = part.family == original.family and part.mount is not None and part.mount == original.mount
    return _reasons(seat.mount, on_lever(book, seat.positions, seat.family, part).mount, same_name, seat.positions)


@lru_cache(maxsize=16_384)
def _reasons(seat: Mount | None, mount: Mount | None, same_name: bool, lever: tuple[str, ...]) -> tuple[Reason, ...]:
    """Mounts are a few, and many parts share each."""
    return fit_mounts(seat, mount, same_name, lever).reasons
