"""The table as JSON data, for the browser: it filters and asks by the same table, the same words and the same tolerance."""

from __future__ import annotations

from typing import Any

from rangebook.desk.identify.table import Table
from rangebook.desk.identify.words import words_data
from rangebook.mounting.fit import SHAFT_MM


def as_data(table: Table) -> dict[str, Any]:
    """Each list of the table under its name, its items as lists in the order of the fields of their class; ``words`` are those of
    :mod:`~rangebook.desk.identify.words`, ``shaft_mm`` is by how much two sizes of one shaft may differ."""
    return {
        "families": list(table.families),
        "faces": [[face.id, face.title, face.outline, [list(row) for row in face.rows]] for face in table.faces],
        "mountings": [list(one) for one in table.mountings],
        "marks": list(table.marks),
        "gearboxes": list(table.gearboxes),
        "vehicles": list(table.vehicles),
        "places": [[*place[:5], [[*ride[:3], list(ride.gearboxes)] for ride in place.rides], place.seat] for place in table.places],
        "rows": [[*row[:5], list(row.marks), list(row.places)] for row in table.rows],
        "words": words_data(),
        "shaft_mm": SHAFT_MM,
    }
