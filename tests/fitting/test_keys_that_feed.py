"""A check goes by each key of which the schema says that it does: taken out of a family, a connector or a kit of the demo book, something
that the check says is another. The other way round it cannot be had: where a plug does not go on, all that follows falls away."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from rangebook.book.load import load_texts
from rangebook.editor.said import said_at
from rangebook.fitting.fitter import Fitter
from rangebook.reading.entry import read_entry
from rangebook.reasons.reason import Check
from rangebook.schema.fields import fields_at
from rangebook.schema.store import load_schemas
from tests.making import texts

ROOT = Path(__file__).resolve().parents[2]
SCHEMAS = load_schemas()
FRONTS: list[Any] = [read_entry(path.name, path.read_bytes()).front for path in sorted((ROOT / "entries").glob("*/*.md"))]
BESIDE = [one for one in FRONTS if one["kind"] != "switch"]

WAYS: tuple[tuple[str, tuple[str | int, ...]], ...] = (
    ("switch", ()),
    ("switch", ("parts", 0)),
    ("switch", ("parts", 0, "contacts", 0)),
    ("switch", ("plugs", "*")),
    ("switch", ("plugs", "*", "wires", "*")),
    ("switch", ("applications", 0)),
    ("connector", ()),
    ("kit", ()),
)
NEEDED = {"positions", "from", "to", "rows", "moves", "wires", "outline", "plug", "came_with", "contacts.pins", "plugs.connector"}
"""Without these there is no entry, or no seat."""
UNSEEN = {
    "joins",
    "terminals",
    "loops",
    "seal_wire_mm2",
    "outer_mm",
    "side",
    "gives_volts",
    "plating",
    "blanks",
    "cranks",
    "optional_cavities",
}
UNSEEN |= {"terminals", "means", "lever", "size_mm2", "contacts.overlaps", "contacts.one_way", "plugs.connectors"}
"""Of these the demo book has too few for a difference in it to show; each has tests of the check itself."""


def keys() -> Iterator[tuple[str, tuple[str | int, ...], str, tuple[str, ...]]]:
    for kind, way in WAYS:
        names = tuple(step for step in way if isinstance(step, str) and step != "*")
        for key in fields_at(SCHEMAS, kind, *names):
            said = said_at(SCHEMAS, kind, (*way, key))
            if said and said[0].decides and said[0].checks and not {key, ".".join((*names[-1:], key))} & (NEEDED | UNSEEN):
                yield kind, way, key, said[0].checks


def without(node: Any, way: Sequence[str | int], key: str) -> Any:
    if isinstance(node, list):
        return [without(one, way[1:] if way and isinstance(way[0], int) else way, key) for one in node]
    if not isinstance(node, dict):
        return node
    if not way:
        return {name: value for name, value in node.items() if name != key}
    return {name: without(value, way[1:], key) if way[0] in ("*", name) else value for name, value in node.items()}


def said_by_checks(fronts: Sequence[Any]) -> Mapping[tuple[str, ...], Mapping[str, set[str]]]:
    book = load_texts(texts(*fronts), SCHEMAS).book
    fitter = Fitter(book)
    found: dict[tuple[str, ...], Mapping[str, set[str]]] = {}
    for seat in fitter.seats:
        for part in seat.family.parts:
            by_check: dict[str, set[str]] = defaultdict(set)
            for reason in fitter.verdict(seat, part).checked:
                by_check[str(reason.check)].add(repr(reason))
            found[seat.family.id, seat.plug.name, seat.original.key, part.key] = by_check
    return found


@cache
def as_it_is(at: int) -> Mapping[tuple[str, ...], Mapping[str, set[str]]]:
    return said_by_checks([FRONTS[at], *BESIDE])


def test_every_check_that_is_named_is_one() -> None:
    assert {check for _, _, _, checks in keys() for check in checks} == set(map(str, Check))


@pytest.mark.parametrize(("kind", "way", "key", "checks"), list(keys()), ids=lambda one: one if isinstance(one, str) else "")
@pytest.mark.slow
def test_what_the_check_says_is_another_without_it(kind: str, way: tuple[str | int, ...], key: str, checks: tuple[str, ...]) -> None:
    left = set(checks)
    for at, family in enumerate(FRONTS):
        whole = [family, *BESIDE]
        less = [without(one, way, key) if one["kind"] == kind else one for one in whole]
        if family["kind"] != "switch" or less == whole:
            continue
        was, now = as_it_is(at), said_by_checks(less)
        left -= {check for seat in set(was) & set(now) for check in left if was[seat].get(check) != now[seat].get(check)}
        if not left:
            return
    assert not left, f"nothing that {left} says is another without `{key}`"
