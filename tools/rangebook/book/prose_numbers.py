"""What in an entry's prose may be a part number."""

from __future__ import annotations

import re
from collections.abc import Iterator

SHORTEST = 5
"""A number in the prose with fewer characters than this may be anything."""

LONGEST = 4
"""A number in the prose is made of so many pieces at most, with one space, hyphen, dot or slash between them."""

_PIECE = re.compile(r"([A-Za-z]*[0-9][0-9A-Za-z]*)|[A-Za-z]+")
"""A piece of a number or a word; with a group where there is a figure in it."""


def numbers_in(prose: str) -> Iterator[tuple[int, int, str]]:
    """Where whatever can be a number begins and ends, and the number as it is compared."""
    pieces = list(_PIECE.finditer(prose))
    for index, piece in enumerate(pieces):
        if piece.lastindex is None:
            continue
        # Every run of pieces in which this is the first one with a figure.
        first = index
        while True:
            key = ""
            for last in range(first, min(first + LONGEST, len(pieces))):
                if last > first and not _joined(prose, pieces[last - 1], pieces[last]):
                    break
                key += pieces[last].group().upper()
                if last >= index and len(key) >= SHORTEST:
                    yield pieces[first].start(), pieces[last].end(), key
            first -= 1
            if first <= index - LONGEST or first < 0 or pieces[first].lastindex or not _joined(prose, pieces[first], pieces[first + 1]):
                break


def _joined(prose: str, left: re.Match[str], right: re.Match[str]) -> bool:
    return right.start() - left.end() == 1 and prose[left.end()] in " -./\n"
