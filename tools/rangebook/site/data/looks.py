"""What identifies a switch in a large book, in two halves: what can be seen of every part, small enough for a phone, and blocks of families
with the rest (numbers, vehicles, seats), of which only those are loaded that are left or shown.

All questions that are asked of what is in the hand go by the first half alone. ``client/identify/looks.js`` makes the table of
:mod:`rangebook.desk.identify` of the two again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from rangebook.desk.identify.narrow import narrow
from rangebook.desk.identify.questions import ABOUT_THE_VEHICLE, ask
from rangebook.desk.identify.table import Table
from rangebook.site.shared.compact import compact

LOOKS_URL = "data/identify/looks.json"
BLOCK = 16
"""Families to a block."""

_WHOLE = 2**52
"""Up to here a number is whole in JavaScript, and so is what it is less another one."""


def block_url(at: int) -> str:
    """Where a block of families is."""
    return f"data/identify/block/{at}.json"


def files(table: Table, data: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Address and text of both halves. ``data`` is the table as the whole file has it, with its titles."""
    rows: list[list[Any]] = [[] for _ in table.families]
    for row in data["rows"]:
        rows[row[1]].append(row)
    yield LOOKS_URL, compact(_looks(table, data, rows))
    for first in range(0, len(rows), BLOCK):
        yield block_url(first // BLOCK), compact(_block(data, first, rows[first : first + BLOCK]))


def _looks(table: Table, data: Mapping[str, Any], rows: Sequence[Sequence[Any]]) -> dict[str, Any]:
    """Families whose parts differ from each other in the same way have one shape."""
    shapes: dict[str, int] = {}
    listed, families, mounted = [], [], list[int]()
    patterns: list[int | str] = []
    for own in rows:
        seen = _Places()
        mounts = _Places()
        shape = [
            [face, seen.of(pins), mounts.of(mounting), marks, _once(_place(seen, data["places"][at]) for at in places)]
            for _, _, face, pins, mounting, marks, places in own
        ]
        text = compact(shape)
        if text not in shapes:
            shapes[text] = len(shapes)
            listed.append(shape)
        families.append(shapes[text])
        patterns += _steps(seen.listed)
        mounted += mounts.listed
    whole = narrow(table, {})
    return {
        **{key: data[key] for key in ("edition", "faces", "mountings", "marks", "words", "shaft_mm")},
        "newest": table.newest,
        "asks": [name for name in ABOUT_THE_VEHICLE if ask(table, {}, whole, name)],
        "block": BLOCK,
        "shapes": listed,
        "families": families,
        "patterns": patterns,
        "mounted": mounted,
    }


class _Places:
    """Different values in the order in which they came."""

    def __init__(self) -> None:
        self.listed: list[Any] = []

    def of(self, value: Any) -> int | None:
        """The place of a value; ``None`` stays."""
        if value is None:
            return None
        if value not in self.listed:
            self.listed.append(value)
        return self.listed.index(value)


def _place(seen: _Places, place: Sequence[Any]) -> list[Any]:
    face, must, may, fewest, most = place[:5]
    return [face, seen.of(must), seen.of(may), _count(fewest, must), _count(most, may)]


def _count(stated: int | None, pattern: str | None) -> int | None:
    return -1 if pattern is not None and stated == pattern.count("1") else stated


def _once(places: Iterator[list[Any]]) -> list[list[Any]]:
    return list({compact(one): one for one in places}.values())


def _steps(patterns: Sequence[str]) -> Iterator[int | str]:
    """Patterns as numbers, with a 1 in front that keeps their zeros, each less the one before; one that is too long for that as it is."""
    before = 0
    for pattern in patterns:
        value = int(f"1{pattern}", 2)
        if value > _WHOLE:
            yield pattern
            continue
        yield value - before
        before = value


def _block(data: Mapping[str, Any], first: int, rows: Sequence[Sequence[Any]]) -> dict[str, Any]:
    """The rest of some families; gearboxes and vehicles with their places in the whole table."""
    places = {at: place for place, at in enumerate(dict.fromkeys(at for own in rows for row in own for at in row[6]))}
    listed = [data["places"][at] for at in places]
    rides = [ride for place in listed for ride in place[5]]
    return {
        "first": first,
        "families": [[data["families"][first + at], data["titles"][first + at]] for at in range(len(rows))],
        "gearboxes": [[at, data["gearboxes"][at]] for at in sorted({at for ride in rides for at in ride[3]})],
        "vehicles": [[at, data["vehicles"][at]] for at in sorted({ride[0] for ride in rides if ride[0] is not None})],
        "places": listed,
        "rows": [[[row[0], [places[at] for at in row[6]]] for row in own] for own in rows],
    }
