"""What a file says several times is written in it once: in ``same``, a list, and ``{"=": place in it}`` wherever it stands. What is in that
list may be said so too. ``client/shared/said_once.js`` puts it together again.
"""

from __future__ import annotations

from typing import Any

REF, SAME = "=", "same"

_WORTH = 20
"""So many signs of JSON are worth a place of their own."""

_PLAIN = frozenset({str, int, float, bool, type(None)})


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
        self.numbers: dict[Any, int] = {}
        self.what: list[Any] = []
        self.inside: list[tuple[int, ...]] = []
        self.long: list[int] = []
        self.times: list[int] = []
        self.places: dict[int, int] = {}
        self.same: list[Any] = []

    def take(self, node: Any) -> int:
        """The number of a piece, which is a new one where nothing like it was there."""
        if type(node) in _PLAIN:
            # Most pieces are these. To Python 1, 1.0 and True are one.
            number = self.numbers.get((type(node), node))
            if number is not None:
                return number
        if isinstance(node, dict):
            inside = tuple(map(self.take, node.values()))
            # Mappings that say the same in another order are not the same: readers go by it.
            return self._number(("{", *node, *inside), node, inside, sum(map(len, map(str, node))) + 4 * len(node))
        if isinstance(node, list | tuple):
            inside = tuple(map(self.take, node))
            return self._number(("[", inside), node, inside, len(inside))
        key = (str if isinstance(node, str) else type(node), node)
        number = self.numbers.get(key)
        return number if number is not None else self._number(key, node, (), len(node) + 2 if isinstance(node, str) else 4)

    def _number(self, key: Any, node: Any, inside: tuple[int, ...], signs: int) -> int:
        number = self.numbers.get(key)
        if number is None:
            number = self.numbers[key] = len(self.what)
            self.what.append(node)
            self.inside.append(inside)
            self.long.append(signs + 2 + sum(self.long[one] for one in inside))
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
            return [self.put(one) for one in inside]
        if not isinstance(node, dict):
            return node
        made = {key: self.put(one) for key, one in zip(node, inside, strict=True)}
        return {REF: -1, "of": made} if REF in made else made
