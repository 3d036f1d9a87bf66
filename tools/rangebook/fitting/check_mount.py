"""The first check: whether it bolts on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from rangebook.book.book import Book
from rangebook.book.model import Mount, Part
from rangebook.fitting.mating import Way
from rangebook.fitting.on_lever import on_lever
from rangebook.fitting.seats import Seat, mount_of
from rangebook.fitting.together import owners
from rangebook.mounting.fit import fit_mounts, same_mount
from rangebook.reasons.codes import CompanionMountDiffers, CompanionMountNotStated, InsideDiffers, InsideNotStated, MountCameWith
from rangebook.reasons.reason import Of, Outcome, Reason, Side, Subject


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


def check_companions(book: Book, seat: Seat, whole: Part, way: Way | None) -> Iterator[Reason]:
    """The mounts of the parts that are judged as one with another, each against that of the one whose plugs it takes, where both are
    stated. What comes beside a part that did the work alone has no place on the gearbox that anybody knows of."""
    if way is None or seat.on_original is None or not whole.joined or not seat.original.joined:
        return
    before, now = owners(book, seat.original), owners(book, whole)
    was = {leg.plug.name: before.get(leg.housing.name) for leg in seat.on_original.legs}
    pairs = dict.fromkeys((was.get(leg.plug.name), now.get(leg.housing.name)) for leg in way.legs)
    for old, new in pairs:
        if old is None or new is None or old.key == new.key or new.key not in whole.joined or old.key not in seat.original.joined:
            continue
        seated, on = (on_lever(book, seat.positions, seat.family, one) for one in (old, new))
        if seated.mount is None or on.mount is None:
            continue
        same_name = new.family == old.family and new.mount == old.mount
        outcomes = {reason.outcome for reason in _reasons(seated.mount, on.mount, same_name, seat.positions)}
        if Outcome.AGAINST in outcomes:
            yield Reason(CompanionMountDiffers(new.number, old.number), Subject(Side.CANDIDATE, Of.MOUNT))
        elif Outcome.MISSING in outcomes:
            yield Reason(CompanionMountNotStated(new.number, old.number), Subject(Side.CANDIDATE, Of.MOUNT))


@lru_cache(maxsize=16_384)
def _reasons(seat: Mount | None, mount: Mount | None, same_name: bool, lever: tuple[str, ...]) -> tuple[Reason, ...]:
    """Mounts are a few, and many parts share each."""
    return fit_mounts(seat, mount, same_name, lever).reasons
