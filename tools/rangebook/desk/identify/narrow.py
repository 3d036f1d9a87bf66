"""What the known facts leave of the table.

A fact that an entry does not state never excludes a part. What is stated as a list (marks, gearboxes, vehicles) is taken as whole:
a part with other marks on it is set aside, one with none stated is not.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rangebook.desk.identify.table import Face, Place, Ride, Row, Table
from rangebook.mounting.fit import SHAFT_MM

OTHER = "other"
"""The answer "none of these"."""

STAMPED = "stamped:"
"""What the ids of questions about marks begin with."""

PART_FACTS = ("outline", "cavities", "face", "pins", "bolts", "shaft", "across_mm")
"""Facts of the part itself."""

PLUG_FACTS = ("wires", "wired")
PATTERNS = ("pins", "wired")
"""Facts that say which cavities have something in them."""

VEHICLE_FACTS = ("gearbox", "vehicle", "year")
"""Facts of what it was taken off: its plug, and the vehicle."""

TOGETHER = "together"
"""Why a part is set aside when no fact of its vehicle does so alone: no vehicle of the book has all of them."""

_ROUNDING_MM = 1e-6

State = Mapping[str, Any]


class NotUnderstoodError(ValueError):
    """A state holds something that is not an answer; the message says what was expected."""


@dataclass(frozen=True, slots=True)
class Mirrored:
    """A pattern that fits nothing as it was given, and fits in mirror image: ``state`` is the whole state with it turned over,
    ``rows`` the parts that then agree and state their pattern."""

    id: str
    state: State
    rows: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Narrowed:
    """What is left. ``rows`` are the parts, ``places`` for each of them what it may have been taken off, both by their places in the
    table; ``aside`` maps every other part to the id of the first fact that excludes it, or to :data:`TOGETHER`."""

    rows: tuple[int, ...]
    places: Mapping[int, tuple[int, ...]]
    aside: Mapping[int, str]


def narrow(table: Table, state: State) -> Narrowed:
    """The parts that agree with every fact of ``state``. Raises :class:`NotUnderstoodError`."""
    known = check(state)
    of_part = [(name, value) for name, value in known.items() if name in PART_FACTS or name.startswith(STAMPED)]
    of_plug = [(name, value) for name, value in known.items() if name in PLUG_FACTS]
    of_vehicle = {name: value for name, value in known.items() if name in VEHICLE_FACTS}
    alive = {
        at
        for at, place in enumerate(table.places)
        if all(plug_agrees(table, place, name, value) for name, value in of_plug)
        and any(ride_agrees(table, ride, of_vehicle) for ride in place.rides)
    }
    rows, places, aside = [], {}, {}
    for at, row in enumerate(table.rows):
        against = next((name for name, value in of_part if not part_agrees(table, row, name, value)), None)
        left = tuple(place for place in row.places if place in alive)
        if against is None and not left:
            against = _against(table, row, of_plug, of_vehicle)
        if against is None:
            rows.append(at)
            places[at] = left
        else:
            aside[at] = against
    return Narrowed(tuple(rows), places, aside)


def families_of(table: Table, narrowed: Narrowed) -> tuple[str, ...]:
    """The families that are left, in the order of the book."""
    left = {table.rows[at].family for at in narrowed.rows}
    return tuple(family for at, family in enumerate(table.families) if at in left)


def _against(table: Table, row: Row, of_plug: list[tuple[str, Any]], of_vehicle: State) -> str:
    """Why none of a part's places is left."""
    places = [table.places[at] for at in row.places]
    for name, value in of_plug:
        if not any(plug_agrees(table, place, name, value) for place in places):
            return name
    for name, value in of_vehicle.items():
        if not any(ride_agrees(table, ride, {name: value}) for place in places for ride in place.rides):
            return name
    return TOGETHER


def check(state: State) -> dict[str, Any]:
    """The facts of a state, what cannot be told left out. Raises :class:`NotUnderstoodError`."""
    known = {}
    for name, value in state.items():
        if name.startswith(STAMPED):
            fine, wanted = isinstance(value, bool), "yes or no"
        elif name in PATTERNS:
            fine = isinstance(value, Mapping) and isinstance(value.get("face"), str) and not set(value) - {"face", "yes", "no"}
            fine = fine and all(isinstance(value.get(side, []), (list, tuple)) for side in ("yes", "no"))
            wanted = "a face with the cavities that have one and those that have none"
        elif name in ("cavities", "wires", "bolts"):
            fine, wanted = isinstance(value, int) and not isinstance(value, bool), "a whole number"
        elif name == "across_mm":
            fine, wanted = isinstance(value, (int, float)) and not isinstance(value, bool), "a size in millimetres"
        elif name == "year":
            fine, wanted = (
                all(isinstance(one, int) for one in (value if isinstance(value, (list, tuple)) else [value])),
                "a year or several",
            )
        elif name in PART_FACTS + VEHICLE_FACTS:
            fine, wanted = isinstance(value, str), "a name"
        else:
            raise NotUnderstoodError(f"there is no question {name}")
        if value is not None and not fine and not (value == OTHER and name not in PATTERNS):
            raise NotUnderstoodError(f"{name}: the answer is {wanted}, or nothing where it cannot be told; this is {value!r}")
        if value is not None:
            known[name] = value
    return known


def part_agrees(table: Table, row: Row, name: str, value: Any) -> bool:
    """Whether a part may have one fact of :data:`PART_FACTS`, or a mark."""
    if name.startswith(STAMPED):
        return not row.marks or any(table.marks[mark] == name.removeprefix(STAMPED) for mark in row.marks) == value
    if name in ("outline", "cavities", "face", "pins"):
        if row.face is None:
            return True
        face = table.faces[row.face]
        if name == "pins":
            return face.id == value["face"] and (row.pins is None or pattern_agrees(face, row.pins, row.pins, value))
        return bool(value == (len(face.cavities) if name == "cavities" else getattr(face, "id" if name == "face" else name)))
    stated = None if row.mounting is None else getattr(table.mountings[row.mounting], name)
    if stated is None:
        return True
    if name == "across_mm":
        return value != OTHER and same_size(stated, value)
    return bool(value == stated)


def same_size(one: float, other: float) -> bool:
    """Whether two sizes in millimetres may be one and the same, as a calliper reads them."""
    return abs(one - other) <= SHAFT_MM + _ROUNDING_MM


def plug_agrees(table: Table, place: Place, name: str, value: Any) -> bool:
    """Whether a plug may have one fact of :data:`PLUG_FACTS`."""
    if name == "wires":
        return place.fewest is None or place.most is None or (value != OTHER and place.fewest <= value <= place.most)
    if place.face is None or place.must is None or place.may is None:
        return True
    face = table.faces[place.face]
    return face.id == value["face"] and pattern_agrees(face, place.must, place.may, value)


def pattern_agrees(face: Face, must: str, may: str, value: Mapping[str, Any]) -> bool:
    """Whether something is, or may be, in every cavity of ``value["yes"]``, and is not surely in one of ``value["no"]``."""
    sure = {label for label, has in zip(face.cavities, must, strict=True) if has == "1"}
    maybe = {label for label, has in zip(face.cavities, may, strict=True) if has == "1"}
    return maybe.issuperset(value.get("yes", ())) and sure.isdisjoint(value.get("no", ()))


def ride_agrees(table: Table, ride: Ride, facts: State) -> bool:
    """Whether a vehicle may have all the given facts of :data:`VEHICLE_FACTS`."""
    if "gearbox" in facts and ride.gearboxes and not any(table.gearboxes[at] == facts["gearbox"] for at in ride.gearboxes):
        return False
    if "vehicle" in facts and ride.vehicle is not None and table.vehicles[ride.vehicle] != facts["vehicle"]:
        return False
    if "year" not in facts or ride.first is None:
        return True
    years = facts["year"] if isinstance(facts["year"], (list, tuple)) else [facts["year"]]
    return any(year != OTHER and ride.first <= year and (ride.last is None or year <= ride.last) for year in years)


def mirrored(table: Table, state: State, narrowed: Narrowed) -> tuple[Mirrored, ...]:
    """Patterns of ``state`` that no part is stated to have, and that some part has in mirror image, left and right changed."""
    found = []
    for name in PATTERNS:
        value = state.get(name)
        if not value or not value.get("yes") or value["face"] not in table.face_at or _stating(table, name, narrowed):
            continue
        turned = turn(table.faces[table.face_at[value["face"]]], value)
        if turned is None:
            continue
        other = {**state, name: turned}
        rows = _stating(table, name, narrow(table, other))
        if rows:
            found.append(Mirrored(name, other, rows))
    return tuple(found)


def _stating(table: Table, name: str, narrowed: Narrowed) -> tuple[int, ...]:
    """Of what is left, the parts that state the pattern at all."""
    if name == "pins":
        return tuple(at for at in narrowed.rows if table.rows[at].pins is not None)
    return tuple(at for at in narrowed.rows if any(table.places[place].must is not None for place in narrowed.places[at]))


def turn(face: Face, value: Mapping[str, Any]) -> dict[str, Any] | None:
    """A pattern on ``face`` in mirror image; ``None`` where the mirror image of something in it is no cavity."""
    columns = max(len(row) for row in face.rows)
    across: dict[str, str] = {}
    for row in face.rows:
        whole = (*row, *[None] * (columns - len(row)))
        across |= {label: other for label, other in zip(whole, reversed(whole), strict=True) if label is not None and other is not None}
    yes = [across.get(label) for label in value.get("yes", ())]
    if None in yes:
        return None
    return {"face": value["face"], "yes": yes, "no": [across[label] for label in value.get("no", ()) if label in across]}
