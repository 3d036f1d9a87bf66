"""A plain key that is declared in the schema, and kept in the model, is everywhere else by itself: tried with keys that nobody knows yet.

The same is tried in the browser, for the form, in ``tests/site/test_write.py``.
"""

from __future__ import annotations

import copy
import json
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from rangebook.book.load import load_texts
from rangebook.book.model import Part
from rangebook.desk.importing.columns import columns_of
from rangebook.desk.importing.mapping import read_mapping
from rangebook.desk.importing.rows import facts_of
from rangebook.desk.new.compose import Draft, compose
from rangebook.desk.new.fields import fields
from rangebook.desk.new.values import value_from
from rangebook.lint.examples import base_book
from rangebook.reading.table import read_table
from rangebook.schema.editor import editor_schemas
from rangebook.schema.store import Schemas, load_schemas
from rangebook.site.api import facts
from rangebook.site.data import write
from rangebook.site.facts.computed import Computed
from rangebook.site.model.said import said
from rangebook.site.pages.format import format_data

NEW = {
    "tried_weight_g": {
        "type": "number",
        "minimum": 0,
        "x-label": "Tried weight, g",
        "description": "What it weighs.",
        "x-expected": "`210`",
    },
    "tried_made_in": {"type": "array", "items": {"type": "string", "minLength": 1}, "x-label": "Tried made in", "x-how": "ask the box"},
    "tried_rebuilt": {"type": "boolean", "x-label": "Tried rebuilt", "x-expected": "`yes` or `no`"},
    "tried_finish": {"enum": ["plain", "painted"], "x-label": "Tried finish", "x-seldom": True},
}


@dataclass(frozen=True, slots=True, eq=False)
class LongerPart(Part):
    """A part that keeps the keys too, as the model would once they are in it."""

    tried_weight_g: float | None = None
    tried_made_in: tuple[str, ...] = ()
    tried_rebuilt: bool | None = None
    tried_finish: str | None = None


@pytest.fixture(scope="module")
def schemas() -> Schemas:
    """The schema with the new keys on a part, put in before ``pins``."""
    files = copy.deepcopy(dict(load_schemas().files))
    part = files["switch"]["properties"]["parts"]["items"]
    known = part["properties"]
    part["properties"] = {}
    for key, node in known.items():
        part["properties"] |= {**NEW, key: node} if key == "pins" else {key: node}
    return Schemas(MappingProxyType(files))


def test_the_command_that_begins_an_entry_asks_for_it(schemas: Schemas) -> None:
    found = {one.key: one for one in fields(schemas, "switch")}
    typed = {"tried_weight_g": "210", "tried_made_in": "Corran, Ostrand", "tried_rebuilt": "yes", "tried_finish": "plain"}
    values = {key: value_from(text, found[key], schemas) for key, text in typed.items()}
    text = compose(Draft("switch", {"title": "One", "number": "X-1", **values}), schemas)
    assert "    tried_weight_g: 210\n" in text and "    tried_made_in: [Corran, Ostrand]\n" in text and "    tried_rebuilt: yes\n" in text
    asked = compose(Draft("switch", {"title": "One", "number": "X-1"}), schemas)
    assert "TODO tried_weight_g: What it weighs." in asked and "how: ask the box" in asked
    assert "tried_finish" not in asked, "what is seldom stated is not asked for"


def test_a_spreadsheet_can_have_a_column_of_it(schemas: Schemas) -> None:
    listed = "number: No, " + ", ".join(f"{key}: {key}" for key in NEW)
    mapping = read_mapping("map.yaml", f"columns: {{{listed}}}\nsplit: {{tried_made_in: /}}\n".encode(), columns_of(schemas))
    table = read_table(
        b"No,tried_weight_g,tried_made_in,tried_rebuilt,tried_finish\nX-1,210.5,Corran/Ostrand,no,plain\nX-2,,,,\n", mapping.wanted
    )
    full, empty = (facts_of(row, table, mapping) for row in table.rows)
    assert full.part == {
        "number": "X-1",
        "tried_weight_g": 210.5,
        "tried_made_in": ["Corran", "Ostrand"],
        "tried_rebuilt": False,
        "tried_finish": "plain",
    }
    assert empty.part == {"number": "X-2"}


def test_editor_and_format_page_know_it(schemas: Schemas) -> None:
    made = editor_schemas(schemas)["switch.json"]["properties"]["parts"]["items"]["properties"]
    assert made["tried_weight_g"]["description"] == "What it weighs." and made["tried_rebuilt"]["enum"]
    (parts,) = [one for one in format_data(schemas, "switch")["keys"] if one["name"] == "parts"]
    assert {"tried_weight_g", "tried_made_in", "tried_rebuilt", "tried_finish"} <= {one["name"] for one in parts["keys"]}


@pytest.fixture
def part() -> LongerPart:
    """A part that states all of them."""
    (found, *_) = load_texts({file: text.encode() for file, text in base_book().items()}).book.parts
    stated = {name: getattr(found, name) for name in Part.__dataclass_fields__}
    return LongerPart(**stated, tried_weight_g=210.5, tried_made_in=("Corran", "Ostrand"), tried_rebuilt=False, tried_finish="plain")


def test_its_page_shows_it(schemas: Schemas, part: LongerPart) -> None:
    lines = {one["label"]: one["text"] for one in said(schemas, "switch", ("parts",), part, ())}
    assert lines | {"Tried weight, g": "210.5", "Tried made in": "Corran; Ostrand", "Tried rebuilt": "no", "Tried finish": "plain"} == lines


def test_other_programs_get_it_and_the_schema_says_so(schemas: Schemas, part: LongerPart, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(facts._OF, "part", (LongerPart, "switch", ("parts",)))
    schema = facts.published(schemas)["family"]["$defs"]["part"]
    assert set(NEW) <= set(schema["required"])
    given = facts.facts(schemas, "part", part)
    assert json.loads(json.dumps({key: given[key] for key in NEW})) == {
        "tried_weight_g": 210.5,
        "tried_made_in": ["Corran", "Ostrand"],
        "tried_rebuilt": False,
        "tried_finish": "plain",
    }
    alone = {**schema, "required": list(NEW), "properties": {key: schema["properties"][key] for key in NEW}}
    check = Draft202012Validator(alone)
    assert check.is_valid({key: given[key] for key in NEW})
    assert check.is_valid({"tried_weight_g": None, "tried_made_in": [], "tried_rebuilt": None, "tried_finish": None}), "null is not known"
    for key, wrong in (("tried_weight_g", "210"), ("tried_made_in", None), ("tried_rebuilt", 1), ("tried_finish", "rusty")):
        assert not check.is_valid({**{one: given[one] for one in NEW}, key: wrong}), key


def test_the_form_is_told_of_it(schemas: Schemas) -> None:
    loaded = load_texts({file: text.encode() for file, text in base_book().items()}, schemas)
    ((_, text),) = write.files(Computed(loaded))
    told: dict[str, Any] = json.loads(text)["schemas"]["switch"]["properties"]["parts"]["items"]["properties"]
    assert told["tried_weight_g"]["x-label"] == "Tried weight, g"
