"""How a vehicle's plug gets onto a switch: as it is, or with its plug renewed by kits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rangebook.book.book import Book
from rangebook.book.model import Kit

MAX_KITS = 3
"""How many kits, one after the other, are tried."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way for a plug onto a switch. ``kits`` in the order in which they are fitted; none where the plug goes on as it is."""

    kits: tuple[Kit, ...]

    def cavity(self, old: str) -> str | None:
        """Where the wire from cavity ``old`` of the vehicle's plug ends up; ``None`` if some kit has no place for it."""
        here: str | None = old
        for kit in self.kits:
            if here is None:
                return None
            here = kit.moves.get(here)
        return here


def mates(book: Book, plug_connector: str, switch_connector: str) -> bool:
    """Whether a plug goes on a switch's housing as it is, by their connectors."""
    return plug_connector == switch_connector or switch_connector in book.switches_for_plug.get(plug_connector, ())


def ways(book: Book, plug_connector: str, switch_connector: str) -> list[Way]:
    """Every way from a plug onto a switch's housing, by their connectors; as it is first, then with fewest kits."""
    found = []
    for reached, way in _from(book, plug_connector):
        if mates(book, reached, switch_connector):
            found.append(way)
    return found


def reachable(book: Book, plug_connector: str) -> Mapping[str, None]:
    """The connectors of all switches that a plug can be brought onto, an ordered set."""
    return dict.fromkeys(
        switch for reached, _ in _from(book, plug_connector) for switch in (reached, *book.switches_for_plug.get(reached, ()))
    )


def _from(book: Book, plug_connector: str) -> Iterator[tuple[str, Way]]:
    """Plugs that a vehicle's plug can become, breadth first, each with the way; no plug is come back to on one way."""
    level: list[tuple[str, tuple[Kit, ...]]] = [(plug_connector, ())]
    for depth in range(MAX_KITS + 1):
        following = []
        for reached, kits in level:
            yield reached, Way(kits)
            if depth < MAX_KITS:
                been = {plug_connector, *(kit.new for kit in kits)}
                following += [
                    (kit.new, (*kits, kit))
                    for kit in book.kits_from.get(reached, ())
                    # A kit may renew a plug by one of the same kind, with its wires in other places.
                    if kit.new not in been or (kit.old == kit.new and kit not in kits)
                ]
        level = following
