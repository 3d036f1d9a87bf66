"""Mappings and lists that remember where each of their values stood in the file.

They are plain ``dict`` and ``list`` to everyone who does not ask, so a schema validator takes them as they are.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple, Protocol

LAYER = 10_000_000
"""So much is added to the lines of a file for each layer that lies below its own: more than any file has. What an entry has from several
layers so has its places in one order, and each of them tells its layer."""


class Mark(NamedTuple):
    """A place in one file: line and column, both counted from 1, columns in characters. In a book of several layers ``line`` tells the
    layer too (:data:`LAYER`)."""

    line: int
    column: int

    @property
    def layer(self) -> int:
        """The layer whose file it is in, 0 for the lowest."""
        return self.line // LAYER

    @property
    def in_file(self) -> Mark:
        """The place as the file has it."""
        return Mark(self.line % LAYER, self.column) if self.line >= LAYER else self


class Place(Protocol):
    """A place as a YAML parser tells it: line and column counted from 0, from where the text that it was given begins.

    Places are kept as they come and made into marks only when one is asked for, which is seldom.
    """

    line: int
    column: int


@dataclass(slots=True)
class At:
    """A :class:`Place` that is made here."""

    line: int
    column: int


class Map(dict[str, Any]):
    """A mapping with the place where it begins and, for each key, those of the key and of its value, which count from the file's line
    ``first_line``."""

    __slots__ = ("first_line", "key_places", "place", "value_places")

    def __init__(self, place: Place, first_line: int = 1) -> None:
        self.place = place
        self.first_line = first_line
        self.key_places: dict[str, Place] = {}
        self.value_places: dict[str, Place] = {}

    @property
    def mark(self) -> Mark:
        """Where it begins."""
        return Mark(self.place.line + self.first_line, self.place.column + 1)

    def key_mark(self, key: str) -> Mark:
        """Where ``key`` stands; where the mapping begins if it has no such key."""
        return _mark(self.key_places.get(key), self)

    def value_mark(self, key: str) -> Mark:
        """Where the value of ``key`` begins; where the mapping begins if it has no such key."""
        return _mark(self.value_places.get(key), self)

    def take(self, key: str, value: Any, other: Map, named: str | None = None) -> None:
        """Have a value under ``key`` that stands in another mapping, under ``named`` where that is another key."""
        named = key if named is None else named
        self[key] = value
        self.key_places[key], self.value_places[key] = (
            _moved(places.get(named), other, self) for places in (other.key_places, other.value_places)
        )

    def only(self, keys: Iterable[str]) -> Map:
        """A mapping of some of the keys, each where it stands."""
        some = Map(self.place, self.first_line)
        for key in keys:
            if key in self:
                some[key] = self[key]
                some.key_places[key], some.value_places[key] = self.key_places[key], self.value_places[key]
        return some


class Seq(list[Any]):
    """A list with the place where it begins and that of each of its items."""

    __slots__ = ("first_line", "item_places", "place")

    def __init__(self, place: Place, first_line: int = 1) -> None:
        self.place = place
        self.first_line = first_line
        self.item_places: list[Place] = []

    @property
    def mark(self) -> Mark:
        """Where it begins."""
        return Mark(self.place.line + self.first_line, self.place.column + 1)

    def take(self, value: Any, other: Seq, index: int) -> None:
        """Have one more item, which stands in another list."""
        self.append(value)
        self.item_places.append(_moved(other.item_places[index] if index < len(other.item_places) else None, other, self))

    def item_mark(self, index: int) -> Mark:
        """Where item ``index`` begins; where the list begins if it has no such item."""
        return _mark(self.item_places[index] if 0 <= index < len(self.item_places) else None, self)


def plain(value: Any) -> Any:
    """The same in mappings and lists of one's own, which remember no places and can be changed."""
    if isinstance(value, dict):
        return {key: plain(inner) for key, inner in value.items()}
    return [plain(inner) for inner in value] if isinstance(value, list) else value


def steps(node: Map | Seq) -> Iterator[tuple[str | int, Any, tuple[Mark, ...]]]:
    """Each key or index of a node with its value and where it begins; of a key also where its value does."""
    if isinstance(node, Map):
        yield from ((key, value, (node.key_mark(key), node.value_mark(key))) for key, value in node.items())
    else:
        yield from ((index, value, (node.item_mark(index),)) for index, value in enumerate(node))


def _moved(place: Place | None, within: Map | Seq, into: Map | Seq) -> Place:
    mark = _mark(place, within)
    return At(mark.line - into.first_line, mark.column - 1)


def _mark(place: Place | None, within: Map | Seq) -> Mark:
    return within.mark if place is None else Mark(place.line + within.first_line, place.column + 1)


def mark_at(root: Map | Seq, path: Sequence[str | int], *, key: bool = False) -> Mark:
    """The mark of the value that ``path`` leads to, from ``root`` down.

    With ``key`` the mark of the last key itself is given, not of its value. A path that leaves the tree gives the last
    place that is still in it, so that a message about something missing points at where it is missing.
    """
    here: Any = root
    mark = root.mark
    last = len(path) - 1
    for depth, step in enumerate(path):
        if isinstance(here, Map):
            if not isinstance(step, str) or step not in here:
                return mark
            mark = here.key_mark(step) if key and depth == last else here.value_mark(step)
        elif isinstance(here, Seq):
            if not isinstance(step, int) or not 0 <= step < len(here):
                return mark
            mark = here.item_mark(step)
        else:
            return mark
        here = here[step]
    return mark
