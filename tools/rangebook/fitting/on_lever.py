"""A switch as a vehicle's lever and plug have it: its positions by the lever's names, and the plug's jumpers as contacts of it.

A jumper in the shell of a plug is a contact of 0 ohm between the cavities that it joins, closed in every position, whatever sits on the
plug. So parts with it are compared, and looked at for what can hurt someone, as if it were their own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from types import MappingProxyType

from rangebook.book.book import Book
from rangebook.book.model import Contact, Family, Mount, Part
from rangebook.electrics.bundles import INFINITE, NO_PIN, Loop
from rangebook.electrics.meaning import Aligned, Means, align, means_of

Names = tuple[tuple[str, str], ...]
Loops = tuple[tuple[str, str], ...]
"""Cavities of a housing that jumpers of the plug on it join, two by two."""


@dataclass(frozen=True, slots=True, eq=False)
class OnLever:
    """A part and its mount with the positions by the lever's names; ``positions`` are all its own so, ``means`` what those mean that
    the lever has not; ``lacking`` are positions of the lever that it has not, ``unclear`` those that may be one or another of its own."""

    part: Part
    mount: Mount | None
    positions: tuple[str, ...]
    means: Means
    lacking: tuple[str, ...]
    unclear: tuple[str, ...]


def on_lever(book: Book, lever: tuple[str, ...], family: Family, part: Part) -> OnLever:
    """A part on the lever of a vehicle, whose positions go by the names of ``family``."""
    own = book.family_of(part)
    mount = own.mounts.get(part.mount) if part.mount else None
    return _on_lever(lever, family, own, part, mount)


@lru_cache(maxsize=16_384)
def _on_lever(lever: tuple[str, ...], family: Family, own: Family, part: Part, mount: Mount | None) -> OnLever:
    same = own.id == family.id
    every = same or not (family.means or own.means)
    if every and not own.means:
        return OnLever(part, mount, own.positions, (), tuple(one for one in lever if one not in own.positions), ())
    if same:
        found = Aligned(dict(zip(own.positions, own.positions, strict=True)), tuple(one for one in lever if one not in own.positions), ())
    else:
        found = align(lever, means_of(family), own.positions, means_of(own))
    taken = {*lever, *family.positions}
    # A position that the lever has not keeps its own name; where the lever has another of that name it gets a mark.
    names = {one: found.names.get(one) or (one if same or one not in taken else f"{one}'") for one in own.positions}
    changed = tuple((one, name) for one, name in names.items() if one != name)
    means = tuple((names[one], meaning) for one, meaning in means_of(own) if one not in found.names)
    return OnLever(
        renamed(part, changed) if changed else part,
        renamed_mount(mount, changed) if mount and changed else mount,
        tuple(names.values()),
        means,
        found.lacking,
        found.unclear,
    )


@lru_cache(maxsize=4_096)
def renamed(part: Part, names: Names) -> Part:
    """A part with its positions by other names."""
    by = dict(names)
    contacts = None if part.contacts is None else tuple(_renamed(one, by) for one in part.contacts)
    signals = tuple(
        replace(one, values=MappingProxyType({by.get(at, at): value for at, value in one.values.items()})) for one in part.signals
    )
    return replace(part, contacts=contacts, signals=signals)


def _renamed(one: Contact, by: Mapping[str, str]) -> Contact:
    return replace(
        one,
        closed=None if one.closed is None else frozenset(by.get(at, at) for at in one.closed),
        listed=None if one.listed is None else tuple(by.get(at, at) for at in one.listed),
        ohms=None if one.ohms is None else MappingProxyType({by.get(at, at): ohms for at, ohms in one.ohms.items()}),
        overlaps=tuple(by.get(at, at) for at in one.overlaps),
    )


@lru_cache(maxsize=4_096)
def renamed_mount(mount: Mount, names: Names) -> Mount:
    """A mount with its lever's positions by other names."""
    by = dict(names)
    hub = mount.hub and replace(mount.hub, position=by.get(mount.hub.position or "", mount.hub.position))
    return replace(mount, hub=hub, positions=tuple(by.get(one, one) for one in mount.positions))


def joined_cavities(loops: Iterable[Iterable[str]], met: Callable[[str], str | None]) -> Loops:
    """The cavities of a housing that the jumpers of a plug join; ``met`` gives the cavity of the housing for one of the plug. Ends of
    which it is not stated what they meet keep the label of the plug with a mark, so that they still join what else ends there."""
    return tuple((met(a) or f"{a}*", met(b) or f"{b}*") for loop in loops for a, b in pairwise(loop))


@lru_cache(maxsize=4_096)
def with_loops(part: Part, loops: Loops, positions: tuple[str, ...]) -> Part:
    """A part with the jumpers of the plug that is on it, closed in all of ``positions``. A cavity in which one ends has a pin then."""
    if not loops:
        return part
    always = frozenset(positions)
    jumpers = tuple(Loop(a, b, always, None, None, ("loops", index), positions, INFINITE) for index, (a, b) in enumerate(loops) if a != b)
    pins = part.pins
    if pins is not None:
        pins = MappingProxyType({**pins, **{end: NO_PIN for pair in loops for end in pair if end not in pins}})
    return replace(part, pins=pins, contacts=(*(part.contacts or ()), *jumpers))
