"""The bytes of one file as several layers of a book have it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Self

Piece = tuple[int, str, bytes | OSError]
"""The number of a layer, its name, and the file's bytes there or why they could not be read."""


class Stacked(bytes):
    """What a file of a layer above the lowest is read as: the bytes of each layer that has it, the lowest first. They are alike where all
    of that is."""

    pieces: tuple[Piece, ...]

    @classmethod
    def of(cls, pieces: Iterable[Piece]) -> Self:
        """The pieces as one."""
        kept = tuple(pieces)
        words = []
        for layer, name, data in kept:
            told = data if isinstance(data, bytes) else f"{type(data).__name__} {data.errno}".encode()
            words += [f"{layer} {len(told)} {name}\n".encode(), told]
        made = cls(b"".join(words))
        made.pieces = kept
        return made
