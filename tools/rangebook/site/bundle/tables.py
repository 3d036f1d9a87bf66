"""The book as tables: what is stated of parts, kits and vehicles, and the answers that were computed. An empty cell is "not known"."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any, NamedTuple

from rangebook.book.laid_over import Owner, layers_at
from rangebook.book.model import KeyPath
from rangebook.desk.layers import goes_by, of_part
from rangebook.reasons.reason import Outcome
from rangebook.site.api.table import text
from rangebook.site.facts.computed import Computed

Cell = str | int | float | None


class Table(NamedTuple):
    """``fields`` are names with their types, ``string`` or ``number``; each row has a cell for each."""

    name: str
    title: str
    fields: tuple[tuple[str, str], ...]
    rows: tuple[tuple[Cell, ...], ...]


def tables(computed: Computed) -> list[Table]:
    """All tables, their rows in the order of the book; in a book of several layers each row ends with the layers that it goes by."""
    layered = _text("layers") if computed.book.layers else ()
    return [
        Table(
            "parts",
            "Every part number, with what is stated of it",
            (*_text("number", "family", "status", "connectors", "mount", "pins", "superseded_by"), *layered),
            tuple(_parts(computed)),
        ),
        Table(
            "vehicles",
            "Every vehicle, its plug and the part that it was built with",
            (*_text("vehicle", "years", "engine", "gearbox", "family", "plug", "came_with"), *layered),
            tuple(_vehicles(computed)),
        ),
        Table(
            "kits",
            "Every kit: the plugs that are cut off, the one in the bag, the holes of its seals",
            (*_text("number", "title", "from", "to", "seals"), ("blanks", "number"), *layered),
            tuple(_kits(computed)),
        ),
        Table(
            "answers",
            "For each seat, which parts can take the place of the one that the vehicle was built with. Computed; `unknown` is never a yes",
            (*_text("family", "plug", "came_with", "candidate", "verdict", "kits", "missing_or_against"), *layered),
            tuple(_answers(computed)),
        ),
    ]


def _text(*names: str) -> tuple[tuple[str, str], ...]:
    return tuple((name, "string") for name in names)


def _parts(computed: Computed) -> Iterator[tuple[Cell, ...]]:
    for part in computed.book.parts:
        pins = None if part.pins is None else " ".join(f"{pin}={circuit}" for pin, circuit in part.pins.items())
        connectors = " ".join(one.connector or "" for one in part.sockets) or None
        successors = " ".join(one.number for one in part.superseded_by) or None
        layer = _layers(computed, of_part(computed.book, part)[:2])
        yield part.number, part.family, part.status, connectors, part.mount, pins, successors, *layer


def _vehicles(computed: Computed) -> Iterator[tuple[Cell, ...]]:
    for family in computed.book.families.values():
        for one in family.applications:
            layer = _layers(computed, (family, one.path))
            yield one.vehicle, one.years, one.engine, one.gearbox, family.id, one.plug, one.came_with, *layer


def _kits(computed: Computed) -> Iterator[tuple[Cell, ...]]:
    for kit in computed.book.kits.values():
        seals = None if kit.seals is None else " ".join(map(str, kit.seals))
        yield kit.number, kit.title, " ".join(kit.olds), kit.new, seals, kit.blanks, *_layers(computed, (kit, ()))


def _answers(computed: Computed) -> Iterator[tuple[Cell, ...]]:
    known = computed.book.kits
    for seat in computed.fitter.seats:
        for one in computed.candidates(seat):
            kits = " ".join(known[need.kit].number if need.kit in known else need.kit for need in one.needs if need.kit) or None
            codes = " ".join(dict.fromkeys(reason.code for reason in one.reasons if reason.outcome is not Outcome.FOR)) or None
            layers = ("; ".join(goes_by(computed.book, seat, one.part)),) if computed.book.layers else ()
            yield seat.family.id, seat.plug.name, seat.original.number, one.part.number, str(one.kind), kits, codes, *layers


def _layers(computed: Computed, stated: tuple[Owner, KeyPath]) -> tuple[str, ...]:
    """The cell of a fact's layer; none in a book of one."""
    return ("; ".join(layers_at(computed.book, *stated)),) if computed.book.layers else ()


def as_csv(table: Table) -> str:
    """RFC 4180, with a heading; no cell can be taken for a formula."""
    return text([[name for name, _ in table.fields], *table.rows])


def description(name: str, made: list[Table]) -> str:
    """What the tables hold, for programs: the descriptor of a Data Package, version 1 (https://specs.frictionlessdata.io/data-package/)."""
    resources: list[dict[str, Any]] = [
        {
            "name": one.name,
            "title": one.title,
            "path": f"{one.name}.csv",
            "profile": "tabular-data-resource",
            "format": "csv",
            "mediatype": "text/csv",
            "encoding": "utf-8",
            "schema": {"fields": [{"name": field, "type": kind} for field, kind in one.fields], "missingValues": [""]},
        }
        for one in made
    ]
    return json.dumps({"name": "rangebook", "title": name, "profile": "tabular-data-package", "resources": resources}, indent=2) + "\n"
