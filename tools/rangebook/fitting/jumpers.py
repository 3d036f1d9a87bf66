"""The jumpers that plugs on a housing may have: of vehicles, out of kits, and led through adapter leads."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from types import MappingProxyType

from rangebook.book.book import Book
from rangebook.book.model import Kit, Part, Plug, Socket, socket_and_cavity
from rangebook.fitting.mating import BY_LABEL, MAX_KITS, PLUG_IN, mated
from rangebook.fitting.on_lever import Loops, joined_cavities

Jumpers = Mapping[str, Collection[Loops]]
"""Connector of a housing -> the jumpers of each plug that goes on it, by the cavities that they meet there."""

_KEY = "jumpers"


def jumpers_in(book: Book) -> Jumpers:
    """The jumpers of all plugs of a book; the same object each time."""
    found: Jumpers | None = book.kept.get(_KEY)
    if found is None:
        found = book.kept[_KEY] = MappingProxyType(_on_housings(book, _of_plugs(book)))
    return found


def jumpers_on(part: Part, jumpers: Jumpers) -> list[Loops]:
    """The jumpers that plugs on a part may have, by its pins."""
    if not jumpers:
        return []
    return [
        tuple((socket.label(a), socket.label(b)) for a, b in one)
        for socket in part.sockets
        for one in sorted(jumpers.get(socket.connector, ()))
    ]


def _of_plugs(book: Book) -> dict[str, set[Loops]]:
    """Connector of a plug -> the jumpers in plugs of it."""
    found: dict[str, set[Loops]] = {}
    for family in book.families.values():
        for plug in family.plugs.values():
            _add(found, plug.sockets, plug)
    for kit in book.kits.values():
        _add(found, (Socket("", kit.new),), kit)
    if found:
        leads = [kit for kit in book.kits.values() if kit.joins == PLUG_IN]
        for _ in range(MAX_KITS):
            for kit in leads:
                for old in kit.olds:
                    led = {now for one in found.get(old, ()) if (now := tuple(_led(one, kit)))}
                    if led:
                        found.setdefault(kit.new, set()).update(led)
    return found


def _add(found: dict[str, set[Loops]], sockets: Iterable[Socket], one: Plug | Kit) -> None:
    for socket in sockets if one.loops else ():
        own = [[socket_and_cavity(end)[1] for end in loop] for loop in one.loops if socket_and_cavity(loop[0])[0] == socket.name]
        if own:
            found.setdefault(socket.connector, set()).add(joined_cavities(own, str))


def _led(one: Loops, lead: Kit) -> Iterator[tuple[str, str]]:
    """The old plug stays with an adapter lead, and what joins two of its cavities joins those that they are led to."""
    yield from ((lead.moves[a], lead.moves[b]) for a, b in one if a in lead.moves and b in lead.moves)


def _on_housings(book: Book, of_plugs: Mapping[str, Collection[Loops]]) -> dict[str, set[Loops]]:
    found: dict[str, set[Loops]] = {}
    for name, loops in of_plugs.items():
        for housing in dict.fromkeys((name, *book.switches_for_plug.get(name, ()))):
            on = mated(book, name, housing) if housing in book.connectors else BY_LABEL
            if on.clear:
                met = {tuple((on.cavity(a) or a, on.cavity(b) or b) for a, b in one) for one in loops}
                found.setdefault(housing, set()).update(met)
    return found
