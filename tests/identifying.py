"""States to hold two ways of identifying against each other with: random walks along the questions, and a book with all that is odd."""

from __future__ import annotations

import random
from typing import Any

from rangebook.book.book import Book
from rangebook.desk.identify.narrow import OTHER, narrow
from rangebook.desk.identify.questions import next_question
from rangebook.desk.identify.table import Table
from tests.making import MOUNT, application, book, connector, family, part, plug


def states_of(table: Table, chance: random.Random, walks: int) -> list[tuple[dict[str, Any], bool]]:
    """Random walks along the questions, with answers true and false, patterns in part and in mirror image, and "can't tell"."""
    found: list[tuple[dict[str, Any], bool]] = []
    for _ in range(walks):
        state: dict[str, Any] = {}
        vehicle = chance.random() < 0.7
        while question := next_question(table, state, vehicle):
            found.append((dict(state), vehicle))
            if question.kind == "cavities":
                face = table.faces[table.face_at[question.face or ""]]
                marked = [(label, chance.choice(["yes", "no", ""])) for label in face.cavities]
                rows = [table.rows[at] for at in narrow(table, state).rows if table.rows[at].pins]
                if rows and chance.random() < 0.7:
                    row = chance.choice(rows)
                    pattern = row.pins or ""
                    if chance.random() < 0.5:
                        pattern = pattern[::-1]
                    marked = [(label, "yes" if has == "1" else "no") for label, has in zip(face.cavities, pattern, strict=False)]
                value: Any = {"face": face.id, **{side: [label for label, what in marked if what == side] for side in ("yes", "no")}}
            else:
                value = chance.choice([None, OTHER if question.kind == "choice" else None, *(value for value, _ in question.answers)])
                if question.id == "year" and isinstance(value, int) and chance.random() < 0.5:
                    value = [value, value + 30]
            state[question.id] = value
        found.append((dict(state), vehicle))
    return found


def seen_from_the_wrong_side(table: Table) -> list[tuple[dict[str, Any], bool]]:
    """Each part's pins as they look from the plug's side, where the rows of its face are as long as each other."""
    found: list[tuple[dict[str, Any], bool]] = []
    for row in table.rows:
        face = None if row.face is None else table.faces[row.face]
        if face is None or not row.pins or len({len(one) for one in face.rows}) > 1:
            continue
        has = dict(zip(face.cavities, row.pins, strict=True))
        over = {label: has.get(other or "", "0") for one in face.rows for label, other in zip(one, reversed(one), strict=True) if label}
        sides = {side: [label for label in face.cavities if over[label] == sign] for side, sign in (("yes", "1"), ("no", "0"))}
        found.append(({"pins": {"face": face.id, **sides}}, True))
    return found


def odd_book() -> Book:
    """Rows of unlike length, places without a cavity, optional wires, facts left out, marks, sizes within each other's tolerance."""
    odd = [["1", "2", "3", "4"], ["-", "A", "B"], ["5"]]
    shaft = {
        name: {**MOUNT, "shaft": {"shape": "square", "across_mm": size}} for name, size in (("a", 9.5), ("b", 9.6), ("c", 9.7), ("d", 14))
    }
    return book(
        {**connector("c", 1), "rows": odd},
        {**connector("cc", 1), "rows": odd},
        connector("q", 5),
        family(
            "f",
            [
                part("A-1", pins={"1": "ground", "A": "ground"}, mount="a", stamped=["{mark}", "äöü €"]),
                part("A-2", connector="cc", pins={"1": "ground", "B": "ground", "5": "ground"}, mount="b", stamped=["$& $1"]),
                part("A-3", connector="q", mount="c"),
                part("A-4", connector="q", pins={"2": "ground"}, mount="d"),
                part("A-5", connector=None, mount=None),
                part("A-6", connector="nowhere", mount="d", stamped=["äöü €"]),
            ],
            mounts={**shaft, "vague": {"note": "?"}},
            gearboxes=["Tamblin Short", "Tamblin Stage"],
            plugs={"p": plug("1234", of="c"), "s": plug(["1", "A", "B", "5", "3", "4"], of="c")},
            applications=[
                application("p", "A-1", optional_cavities=["3", "4"]),
                application("s", "A-2", vehicle="Corran Ünder", years="2010-", optional_cavities=["A", "B", "5", "3", "4"]),
                {"vehicle": "Corran Zug", "gearbox": "Tamblin Stage", "plug": "s", "came_with": "A-2"},
                {"vehicle": "Corran Yawl", "years": "1999", "plug": "s", "came_with": "A-2"},
            ],
        ),
        family("g", [part("G-1", connector="q", pins={"1": "ground", "2": "ground"}, mount=None)], gearboxes=["Åby 2"]),
    )
