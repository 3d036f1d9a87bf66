"""The first check: whether it bolts on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from rangebook.book.book import Book
from rangebook.book.model import Mount, Part
from rangebook.book.numbers import normalise
from rangebook.fitting.mating import Way
from rangebook.fitting.on_lever import on_lever
from rangebook.fitting.seats import Seat, mount_of
from rangebook.fitting.together import owners, with_joined
from rangebook.mounting.fit import fit_mounts, same_mount
from rangebook.reasons.codes import (
    CompanionMountDiffers,
    CompanionMountFits,
    CompanionMountNotStated,
    InsideDiffers,
    InsideNotStated,
    MountCameWith,
    TakenPlaceDiffers,
    TakenPlaceNotStated,
)
from rangebook.reasons.reason import Of, Outcome, Reason, Side, Subject


def check_mount(book: Book, seat: Seat, part: Part) -> Sequence[Reason]:
    """Shaft, hub, bolts and spacers of ``part`` against those of the seat's original."""
    original, mount = seat.original, mount_of(book, part)
    if part.key == original.key:
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


def check_mounts(book: Book, seat: Seat, whole: Part, way: Way | None) -> Sequence[Reason]:
    """The same of a part and all that is judged as one with it: each sits where the one sat whose plugs it takes.

    What takes the plugs of the original itself sits in its place. Where one part did the work of several, one of these does, the part that
    is asked about or what goes with it: a part that says so of the other one, or whose mount is stated. Of the others nobody knows their
    place on the gearbox. Of what takes the plugs of a companion the mounts are compared where both are stated.
    """
    part = with_joined(book, whole)[0]
    if way is None or not whole.joined:
        return check_mount(book, seat, part)
    before, now = owners(book, seat.original), owners(book, whole)
    was = {leg.plug.name: before[leg.housing.name] for leg in seat.on_original.legs} if seat.on_original and before else {}
    pairs = [(was.get(leg.plug.name, seat.original), now[leg.housing.name]) for leg in way.legs]
    in_place = dict.fromkeys(new for old, new in pairs if old.key not in seat.original.joined)
    may = [one for one in in_place if one.key == part.key or seat.original.joined or one.mount or part.key in map(normalise, one.goes_with)]
    found = {one: check_mount(book, seat, one) for one in sorted(may, key=lambda one: one.key != part.key)}
    best = min(found, key=lambda one: worst(found[one]), default=part)
    if best.key == part.key:
        reasons = [*(found.get(best) or check_mount(book, seat, part))]
    else:
        reasons = [_of_companion(seat, best, worst(found[best]))]
    for old, new in dict.fromkeys(pairs):
        if old.key in seat.original.joined and new not in in_place and old.key != new.key:
            reasons += _beside(book, seat, part, old, new)
    return reasons


def worst(reasons: Iterable[Reason]) -> int:
    """How far reasons speak against a part: 0 where they do not, 1 where something is missing, 2 where they do."""
    outcomes = {reason.outcome for reason in reasons}
    return 2 if Outcome.AGAINST in outcomes else 1 if Outcome.MISSING in outcomes else 0


def _of_companion(seat: Seat, other: Part, far: int) -> Reason:
    code = (CompanionMountFits, CompanionMountNotStated, CompanionMountDiffers)[far]
    return Reason(code(other.number, seat.original.number), Subject(Side.CANDIDATE, Of.MOUNT))


def _beside(book: Book, seat: Seat, part: Part, old: Part, new: Part) -> Iterator[Reason]:
    """The mount of what takes the plugs of a companion of the original, against the companion's, where both are stated."""
    seated, on = (on_lever(book, seat.positions, seat.family, one) for one in (old, new))
    if seated.mount is None or on.mount is None:
        return
    far = worst(_reasons(seated.mount, on.mount, new.family == old.family and new.mount == old.mount, seat.positions))
    if far and new.key == part.key:
        yield Reason((TakenPlaceNotStated, TakenPlaceDiffers)[far - 1](old.number), Subject(Side.CANDIDATE, Of.MOUNT))
    elif far:
        code = (CompanionMountNotStated, CompanionMountDiffers)[far - 1]
        yield Reason(code(new.number, old.number), Subject(Side.CANDIDATE, Of.MOUNT))


@lru_cache(maxsize=16_384)
def _reasons(seat: Mount | None, mount: Mount | None, same_name: bool, lever: tuple[str, ...]) -> tuple[Reason, ...]:
    """Mounts are a few, and many parts share each."""
    return fit_mounts(seat, mount, same_name, lever).reasons
