"""What a column of a spreadsheet can be: the keys that can be taken from cells, each by the name that a mapping has for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from rangebook.schema.errors import SchemaError
from rangebook.schema.fields import Field, fields_at
from rangebook.schema.store import Schemas

FAMILY = "family"
"""A column that is no key: what the list calls the family of the row's part."""

HUB_TURNS = "hub_turns"
"""Another: which way the hub of the part's mount turns from the first position of the lever to the last, one of :data:`WAYS`."""

LOOPS = "loops"
"""A third: the jumpers in the row's plug, as in ``5+6``; ``none`` where somebody looked and there is none."""

CONTACTS = "contacts"
"""A fourth: in which positions which two pins are joined, as in ``1-2 P,N; 3-4 R``."""

FITTED = "fitted"
"""The key of what was tried of a part in the bay: each row that says some of it is one record more."""

IN_PART = ("tail", "sold_as", FITTED)
"""Keys of a part of which each key within has a column of its own."""

_NOT_IN_A_CELL = ("superseded_by", "photos", "sources")
"""The link to a successor has columns of its own; pictures are files, and the mapping says what the source is."""

BESIDE = (FAMILY, HUB_TURNS, LOOPS, CONTACTS)

WAYS = ("anticlockwise", "clockwise")


@dataclass(frozen=True)
class Condition:
    """One key of a condition: where it stands in it, and what it may hold."""

    way: tuple[str, ...]
    field: Field


@dataclass(frozen=True)
class Columns:
    """Name in a mapping -> key: of a part, of its tail, of what it is sold in and of what was tried of it (by the key that they stand
    in), of the hub of its mount, of the link to its successor, of a vehicle, of where its engine cranks; of the condition that tells a
    vehicle from others of its name, and of that on which a number takes another's place."""

    schemas: Schemas
    part: Mapping[str, Field]
    in_part: Mapping[str, Mapping[str, Field]]
    hub: Mapping[str, Field]
    link: Mapping[str, Field]
    vehicle: Mapping[str, Field]
    cranks: Mapping[str, Field]
    condition: Mapping[str, Condition]
    link_condition: Mapping[str, Condition]
    written: Mapping[str, Field]
    """Those of a part of which a cell holds what stands in an entry, in its own form: lists of several facts, as signals are."""

    @cached_property
    def by_name(self) -> dict[str, Field]:
        """All of them. Raises :class:`SchemaError` where two have one name."""
        conditions = [{name: one.field for name, one in of.items()} for of in (self.condition, self.link_condition)]
        listed = (self.part, *self.in_part.values(), self.hub, self.link, self.vehicle, self.cranks, *conditions)
        found = {name: one for of in listed for name, one in of.items()}
        if len(found) < sum(map(len, listed)) or not found.keys().isdisjoint(BESIDE):
            raise SchemaError("switch.json: two keys have one name in an import: give one of them another with `x-import`")
        return found

    @property
    def names(self) -> tuple[str, ...]:
        """Every name that a column may have in a mapping."""
        return (*self.by_name, *self.written, *BESIDE)

    @property
    def several(self) -> tuple[str, ...]:
        """Those of which one cell may hold several: lists, and what there may be several of beside a part."""
        return tuple(name for name, one in self.by_name.items() if one in (self.successor, self.of_vehicle) or (one.several and one.plain))

    @property
    def successor(self) -> Field:
        """The number that takes a part's place, which makes a link."""
        return next(iter(self.link.values()))

    @property
    def of_vehicle(self) -> Field:
        """The vehicle's name, which makes an application."""
        return next(iter(self.vehicle.values()))


def columns_of(schemas: Schemas) -> Columns:
    """What the schema says, by ``x-import`` where it is stated, else of every plain key; of a part every other key as it is written."""
    of_part = fields_at(schemas, "switch", "parts")
    part = _taken(of_part)
    elsewhere = {*(one.key for one in part.values()), *IN_PART, *_NOT_IN_A_CELL}
    return Columns(
        schemas,
        part,
        {key: _taken(fields_at(schemas, "switch", "parts", key)) for key in IN_PART},
        _taken(fields_at(schemas, "switch", "mounts", "hub")),
        _taken(fields_at(schemas, "switch", "parts", "superseded_by")),
        _taken(fields_at(schemas, "switch", "applications")),
        _taken(fields_at(schemas, "switch", "applications", "cranks")),
        _condition(schemas, ("applications", "when"), "", ("built",)),  # months of a vehicle are its `from` and `to`
        _condition(schemas, ("parts", "superseded_by", "when"), "successor_", ()),
        {f"{key}_as_written": one for key, one in of_part.items() if key not in elsewhere},
    )


def _condition(schemas: Schemas, way: tuple[str, ...], before: str, leave: tuple[str, ...]) -> dict[str, Condition]:
    """The keys of a condition, those of a range apart: ``vin_from`` and ``vin_to``."""
    found = {}
    for key, one in fields_at(schemas, "switch", *way).items():
        if one.plain:
            found[before + key] = Condition((key,), one)
        elif key not in leave:
            ends = fields_at(schemas, "switch", *way, key)
            found |= {f"{before}{key}_{end}": Condition((key, end), inner) for end, inner in ends.items()}
    return found


def _taken(fields: Mapping[str, Field]) -> dict[str, Field]:
    return {one.column: one for one in fields.values() if one.column}
