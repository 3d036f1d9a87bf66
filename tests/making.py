"""Makes parts, plugs and small books for tests, with nothing in them but what a test names."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from rangebook.book.book import Book, build_book
from rangebook.book.model import Part
from rangebook.fitting.seats import Seat, find_seats
from rangebook.reading.entry import read_all
from rangebook.schema.check import Checker
from rangebook.schema.store import Schemas, load_schemas

MOUNT = {
    "shaft": {"shape": "double-flat", "across_mm": 9.5},
    "hub": {"position": "N", "at_deg": 35, "steps_deg": [16, 16, 16]},
    "bolts": [
        {"at_mm": 38, "at_deg": 0, "bolt_mm": 6, "hole_mm": 6.6, "slot_deg": 14, "spacer_mm": 4},
        {"at_mm": 38, "at_deg": 150, "bolt_mm": 6, "hole_mm": 6.6, "slot_deg": 14, "spacer_mm": 4},
    ],
}
"""A mount with two slots, of a lever with four positions."""


def mount_for(positions: Sequence[str]) -> dict[str, Any]:
    """The same mount for another lever: the same hub, which stands at 35 degrees in N and turns by 16 from detent to detent."""
    named = "N" if "N" in positions else positions[0]
    return {**MOUNT, "hub": {"position": named, "at_deg": 35, "steps_deg": [16] * (len(positions) - 1)}}


def rows(count: int) -> list[list[str]]:
    """One row of ``count`` cavities, labelled from 1."""
    return [[str(number) for number in range(1, count + 1)]]


def connector(name: str, count: int, **more: Any) -> dict[str, Any]:
    """A connector's front matter."""
    return {"kind": "connector", "id": name, "title": name, "outline": "oval", "rows": rows(count), **more}


def family(name: str, parts: Sequence[Mapping[str, Any]], **more: Any) -> dict[str, Any]:
    """A switch family's front matter."""
    positions = more.get("positions", ["P", "R", "N", "D"])
    return {
        "kind": "switch",
        "id": name,
        "title": name,
        "gearboxes": ["Tamblin Short"],
        "positions": positions,
        "mounts": {"boss": mount_for(positions)},
        "parts": list(parts),
        **more,
    }


def part(number: str, **facts: Any) -> dict[str, Any]:
    """A part's node, on connector ``c`` and mount ``boss`` unless said otherwise; ``None`` leaves a fact out."""
    return {key: value for key, value in {"number": number, "connector": "c", "mount": "boss", **facts}.items() if value is not None}


def plug(cavities: Mapping[str, str | None] | Sequence[str], of: str = "c", **more: Any) -> dict[str, Any]:
    """A plug's node: cavity -> circuit, or only the cavities."""
    named = cavities if isinstance(cavities, Mapping) else dict.fromkeys(cavities)
    return {"connector": of, "wires": {cavity: {"circuit": name} if name else {} for cavity, name in named.items()}, **more}


def application(plug_name: str, came_with: str, **more: Any) -> dict[str, Any]:
    """An application's node."""
    return {"vehicle": "Corran Delver", "years": "2007-2012", "gearbox": "Tamblin Short", "plug": plug_name, "came_with": came_with, **more}


def texts(*entries: Mapping[str, Any]) -> dict[str, bytes]:
    """Entries as files. JSON is YAML, so the reader takes it; numbers are typed as text there as everywhere."""
    folders = {"switch": "switches", "connector": "connectors", "kit": "kits"}
    return {f"entries/{folders[one['kind']]}/{one['id']}.md": f"---\n{json.dumps(one)}\n---\n".encode() for one in entries}


def book(*entries: Mapping[str, Any]) -> Book:
    """A book of the given entries, none of them with a problem."""
    read = read_all(texts(*entries).items())
    problems = [problem for entry in read for problem in (*entry.problems, *_checker().check(entry))]
    assert problems == [], problems
    return build_book(read, _schemas().circuits)


@cache
def _schemas() -> Schemas:
    return load_schemas()


@cache
def _checker() -> Checker:
    return Checker(_schemas())


def seat_and_parts(*entries: Mapping[str, Any]) -> tuple[Book, Seat, dict[str, Part]]:
    """A book with one seat, that seat, and the parts by number."""
    made = book(*entries)
    (seat,) = find_seats(made)
    return made, seat, {one.number: one for one in made.parts}
