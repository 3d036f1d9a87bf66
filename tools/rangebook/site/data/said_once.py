"""What a file says several times is written in it once: in ``same``, a list, and ``{"=": place in it}`` wherever it stands. What is in that
list may be said so too. ``client/shared/said_once.js`` puts it together again.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

REF, SAME = "=", "same"

_WORTH = 20
"""So many signs of JSON are worth a place of their own."""

_TEXT, _NUMBER = 4, 6
"""So many signs count for a text beside its own, and for whatever is no text, mapping or list."""

_NUMBERS = frozenset({int, float, type(None)})


def said_once(data: dict[str, Any]) -> dict[str, Any]:
    """A file's data, a mapping with text for keys, in that form; as it is where nothing in it stands twice. A mapping that has a key ``=``
    of its own stands under ``of``, beside ``{"=": -1}``."""
    pieces = _Pieces()
    top = {key: pieces.take(one) for key, one in data.items()}
    for one in top.values():
        pieces.times[one] += 1
    made = {key: pieces.put(one) for key, one in top.items()}
    return {**made, SAME: pieces.same} if pieces.same else made


class _Pieces:
    """Everything that a file says, each piece once by a number: what it is, the numbers of those in it, how long it is in signs, and in how
    many other pieces it stands."""

    def __init__(self) -> None:
        self.texts: dict[str, int] = {}
        self.numbers: dict[int | None, int] = {}
        self.others: dict[tuple[type, Any], int] = {}
        self.mappings: dict[tuple[Any, ...], int] = {}
        self.lists: dict[tuple[int, ...], int] = {}
        self.flat: dict[tuple[Any, ...], int] = {}
        self.what: list[Any] = []
        self.inside: list[tuple[int, ...]] = []
        self.long: list[int] = []
        self.times: list[int] = []
        self.places: dict[int, int] = {}
        self.same: list[Any] = []

    def take(self, node: Any) -> int:
        """The number of a piece, which is a new one where nothing like it was there."""
        kind = type(node)
        if kind is str:
            # Most pieces are these.
            number = self.texts.get(node)
            return self._new(self.texts, node, node, (), len(node) + _TEXT) if number is None else number
        if kind is int or node is None:
            number = self.numbers.get(node)
            return self._new(self.numbers, node, node, (), _NUMBER) if number is None else number
        if kind is dict:
            return self._mapping(node)
        if kind is list or kind is tuple:
            return self._list(node)
        alike = next((one for one in (str, dict, list, tuple) if isinstance(node, one)), None)
        if alike is not None:
            return self.take(alike(node))
        # To Python 1.0 and True are one, too.
        number = self.others.get((kind, node))
        return self._new(self.others, (kind, node), node, (), _NUMBER) if number is None else number

    def _mapping(self, node: dict[Any, Any]) -> int:
        inside = tuple(map(self.take, node.values()))
        # Mappings that say the same in another order are not the same: readers go by it.
        key = (*node, *inside)
        number = self.mappings.get(key)
        if number is not None:
            return number
        return self._new(self.mappings, key, node, inside, sum(map(len, map(str, node))) + 4 * len(node) + 2)

    def _list(self, node: Sequence[Any]) -> int:
        kinds = set(map(type, node))
        if kinds <= _NUMBERS or (len(kinds) == 1 and str in kinds and max(map(len, node)) < _WORTH - _TEXT):
            # Nothing in it is worth a place. To Python 1 and 1.0 are one.
            flat = (*node, *map(type, node)) if float in kinds else tuple(node)
            number = self.flat.get(flat)
            if number is not None:
                return number
            signs = sum(map(len, node)) + _TEXT * len(node) if str in kinds else _NUMBER * len(node)
            return self._new(self.flat, flat, node, (), len(node) + 2 + signs)
        inside = tuple(map(self.take, node))
        number = self.lists.get(inside)
        return self._new(self.lists, inside, node, inside, len(inside) + 2) if number is None else number

    def _new(self, numbers: dict[Any, int], key: Any, node: Any, inside: tuple[int, ...], signs: int) -> int:
        number = numbers[key] = len(self.what)
        self.what.append(node)
        self.inside.append(inside)
        self.long.append(signs + sum([self.long[one] for one in inside]))
        self.times.append(0)
        for one in inside:
            self.times[one] += 1
        return number

    def put(self, number: int) -> Any:
        """A piece as it is written where it stands."""
        if self.times[number] < 2 or self.long[number] < _WORTH:
            return self._written(number)
        if number not in self.places:
            self.places[number] = len(self.same)
            self.same.append(None)
            self.same[self.places[number]] = self._written(number)
        return {REF: self.places[number]}

    def _written(self, number: int) -> Any:
        node, inside = self.what[number], self.inside[number]
        if isinstance(node, list | tuple):
            return [self.put(one) for one in inside] if inside else node
        if not isinstance(node, dict):
            return node
        made = {key: self.put(one) for key, one in zip(node, inside, strict=True)}
        return {REF: -1, "of": made} if REF in made else made
