"""Every plain key of the entry format is to be seen on the page of its entry: what is stated and not shown is lost on the reader.

Nothing here is written down by hand for a key: each in turn is stated otherwise, or taken out, in a small book, and the page has to change.
"""

from __future__ import annotations

import copy
import re
from typing import Any

import pytest
from tests.making import texts

from rangebook.book.load import load_texts
from rangebook.lint.examples import BASE, base_book
from rangebook.reading.entry import read_entry
from rangebook.schema.fields import Field, fields_at
from rangebook.schema.store import KINDS, load_schemas
from rangebook.site.facts.computed import Computed
from rangebook.site.pages.every import every_page
from rangebook.site.shared.render import render

SCHEMAS = load_schemas()
WAYS = {
    "switch": (
        *((), ("parts",), ("parts", "superseded_by"), ("parts", "sold_as")),
        *(("applications",), ("mounts",), ("plugs",), ("plugs", "wires"), ("fitting",)),
    ),
    "connector": ((), ("terminal",)),
    "kit": ((), ("terminal",)),
}
"""Kind -> where in an entry keys stand of which each page says something."""

TEXTS = ("Quill 7", "quill-7", "Q", "P", "code_4", "QXBK", "2008", "2008-04", "P0708")
"""For a pattern the first that it allows."""


def other(field: Field, now: Any) -> Any:
    """Another value than the one that is there, which the schema allows."""

    def one(node: Any, now: Any) -> Any:
        if "enum" in node:
            return next(value for value in node["enum"] if value != now)
        if node["type"] == "boolean":
            return not now
        if node["type"] in ("number", "integer"):
            return 17
        return next(text for text in TEXTS if text != now and re.search(node.get("pattern", ""), text))

    if not field.several:
        return one(field.node, now)
    made = [*(now or []), one(field.inner, None)]
    return made if len(made) >= field.node.get("minItems", 1) else [*made, one(field.inner, made[-1])]


def page(fronts: dict[str, Any], kind: str) -> str:
    """The page of the entry of a kind, without the entry's own text on it; of a family with the pages of the parts behind it."""
    loaded = load_texts(texts(*fronts.values()), SCHEMAS)
    assert not loaded.book.lost
    (entry,) = [one for one in loaded.entries if one.front and one.front["id"] == fronts[kind]["id"]]
    computed = Computed(loaded)
    source = f"{entry.folder}/{entry.front['id']}.md"
    (found,) = [one for one in every_page(computed) if one.source == source]
    html = render(found.template or "", "../..", "", found.data())
    assert '<section id="Entry"' in html
    parts = [one for one in every_page(computed) if kind == "switch" and one.source.startswith("parts/")]
    return "".join([html.partition('<section id="Entry"')[0], *(render(one.template or "", "../..", "", one.data()) for one in parts)])


def fronts() -> dict[str, Any]:
    """Kind -> the front matter of the example book's entry of that kind; the housing that its second entry describes is there too."""
    made = {}
    for file, text in base_book().items():
        front = copy.deepcopy(read_entry(file, text.encode()).front)
        kind = next((kind for kind, base in BASE.items() if base == file), file)
        made[kind] = front
    return made


CASES = [
    pytest.param(kind, way, field, id=".".join((kind, *way, field.key)))
    for kind in KINDS
    for way in WAYS[kind]
    for field in fields_at(SCHEMAS, kind, *way).values()
    if field.plain and not (way == () and field.key == "id")
]


@pytest.mark.parametrize(("kind", "way", "field"), CASES)
def test_a_key_that_is_stated_is_seen(kind: str, way: tuple[str, ...], field: Field) -> None:
    book = fronts()
    place = book[kind]
    for step in way:
        place = place.setdefault(step, {}) if step in ("terminal", "sold_as") else place[step]
        if isinstance(place, list):
            place = place[0]
        elif step not in ("fitting", "terminal", "sold_as"):
            place = next(iter(place.values()))
    before = page(book, kind)
    place[field.key] = other(field, place.get(field.key))
    assert page(book, kind) != before, f"`{field.key}` is nowhere on the page of a {kind}"


def test_the_ways_are_all_there_are() -> None:
    """Wherever in an entry a plain key stands, it is tried here, but in what has a form of its own on the page."""
    own_form = {"shaft", "hub", "bolts", "reads", "contacts", "signals", "needs", "sources", "allow", "photos", "when", "revisions", "tail"}
    own_form |= {"terminals", "wire_seals", "also_numbered", "fitted", "cranks"}
    for kind in KINDS:
        todo, seen = [()], set()
        while todo:
            way = todo.pop()
            seen.add(way)
            found = fields_at(SCHEMAS, kind, *way).values()
            todo += [
                (*way, one.key) for one in found if not one.plain and one.key not in own_form and fields_at(SCHEMAS, kind, *way, one.key)
            ]
        assert seen == set(WAYS[kind])


def test_other_numbers_and_what_was_tried_are_seen() -> None:
    book = fronts()
    record = {"outcome": "fails", "on": "2026-03-02", "by": "bay nine", "vehicle": "Corran Delver 2.4", "note": "Quill seven"}
    book["switch"]["parts"][0] |= {"also_numbered": [{"number": "55 20417", "by": "Quill box"}], "fitted": [record]}
    book["switch"]["applications"][0]["fitted"] = [{**record, "note": "Quill eight"}]
    shown = page(book, "switch")
    for words in ("55 20417", "Quill box", "failed", "2026-03-02", "bay nine", "Quill seven", "Quill eight"):
        assert words in shown, words
