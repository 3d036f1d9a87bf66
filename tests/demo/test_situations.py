"""The demo book shows every kind of situation, and the engine says of each what a person reckons from the entries.

The expected verdicts in situations.tsv were reckoned by hand, and again by a throw-away program, before the engine was
asked. Trade facts among them are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from tests.oracles.answers import unsaid

from rangebook.book.load import load
from rangebook.fitting.fitter import Fitter
from rangebook.lint.engine import lint
from rangebook.schema.store import KINDS as KINDS_OF
from rangebook.schema.store import load_schemas
from rangebook.words.reasons import reason_words

ROOT = Path(__file__).parents[2]
ROWS = [line.split("\t") for line in (Path(__file__).parent / "situations.tsv").read_text("utf-8").splitlines() if not line.startswith("#")]

KINDS = {
    "a": "a renewal kit with mats for four, six and nine wires, by the number of wires",
    "c": "a thirteen-pin switch on a plug of five wires",
    "d": "look-alikes that differ in how they bolt on: an ear turned, a thicker shaft with a third bolt",
    "e": "five pins and six pins, both replaced by nine",
    "f": "from a square housing to a ring: a kit, or it does not go on",
    "g": "long, branching and discontinued chains",
    "h": "resistance ladders, read by the module or not",
    "i": "range codes",
    "j": "powered outputs",
    "k": "facts that are missing",
    "l": "wires that move",
    "m": "mirrored patterns",
    "n": "a plug that mates with another housing one way only",
    "o": "levers, dates and options of the vehicle",
    "q": "two designs under one number, told apart by a mark",
    "r": "two numbers in the place of one, pieces that are needed, an adapter lead",
    "s": "wires into cavities without a pin",
    "t": "two plugs on one switch",
    "u": "serial data, a diode, terminals by cavity in tin and gold",
    "v": "a jumper inside the plug, a contact that overlaps, what a position means, where a module cranks",
    "w": "two reverses and taps, park alone, the ground switched, a fork, a gear and a slider, conditions on the vehicle",
    "x": "look-alikes that differ in nothing but where the hub stands",
    "y": "a plug on a housing that numbers its cavities otherwise",
    "p": "a look-alike of another maker that is electrically different",
}


@cache
def fitter() -> Fitter:
    return Fitter(load(ROOT).book)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row[0]} {row[1]} {row[5]}")
def test_the_engine_says_what_a_person_reckons(row: list[str]) -> None:
    _, came_with, family, plug, lever, candidate, word, decides, _ = row
    book = fitter().book
    seats = [
        seat
        for seat in fitter().seats
        if (seat.original.number, seat.family.id, seat.plug.name, " ".join(seat.positions)) == (came_with, family, plug, lever)
    ]
    assert seats
    for seat in seats:  # several where some of the vehicles lack a wire
        verdict = fitter().verdict(seat, book.part(candidate))
        assert verdict.kind == word, [reason_words(reason) for reason in verdict.checked]
        if word in ("no", "unknown"):
            assert decides in {reason.check for reason in verdict.reasons}
        if "/" in decides:
            assert ", ".join(f"{one.kit}/{one.seal}/{one.blanks}" for one in verdict.needs) == decides
        elif word == "rewire":
            assert ", ".join(f"{old} -> {new}" for old, new in verdict.moves.items()) == decides


def test_every_kind_of_situation_is_there() -> None:
    assert {row[0] for row in ROWS} == set(KINDS)


def test_the_book_is_clean_and_of_its_size() -> None:
    loaded = load(ROOT)
    assert lint(loaded) == []
    book = loaded.book
    assert len(book.families) >= 14 and len(book.parts) >= 45 and len(book.connectors) >= 12 and len(book.kits) >= 6
    assert sum(len(family.applications) for family in book.families.values()) >= 80
    assert all(len(family.entry.prose.split()) > 20 for family in book.families.values())


def test_one_housing_is_sold_with_different_numbers_of_pins() -> None:
    # Common practice, no source: a housing made for fourteen is sold with nine, thirteen or fourteen pins, and its plug with five wires.
    book = fitter().book
    counts = {len(part.pins) for part in book.by_connector["wedge-14"] if part.pins}
    assert {9, 13, 14} <= counts and len(book.connectors["wedge-14"].cavities) == 14
    assert 5 in {len(plug.wires) for plug in book.plugs_by_connector["wedge-14"]}


def test_the_facts_show_interchange_that_nobody_has_said_within_and_across_families() -> None:
    assert {one.part.family != seat.family.id for seat, one in unsaid(fitter())} == {True, False}


# Every key ----------------------------------------------------------------------------------------------------------------

SCHEMAS = load_schemas()
NOT_HERE = frozenset(
    {
        "style=ring",  # no part of the demo ends in eyes under screws
        *("for", "note", "photos", "allow", "view"),  # not of what a vehicle or part has
        "former_ids",  # no entry of it was ever called otherwise
    }
)


def stated_in(node: Any, home: str, value: Any) -> Iterator[str]:
    """The keys that a value has by the schema, and the words of a fixed list as ``key=word``."""
    node, home = SCHEMAS.resolve(node, home)
    for one in node.get("anyOf", ()):
        yield from stated_in(one, home, value)
    rest = node.get("additionalProperties")
    if isinstance(value, dict):
        for key, inner in value.items():
            known = node.get("properties", {})
            below = known.get(key, rest)
            if key in known:
                yield key
                yield from (f"{key}={word}" for word in (inner if isinstance(inner, list) else [inner]) if isinstance(word, str))
            if isinstance(below, dict):
                yield from stated_in(below, home, inner)
    if isinstance(value, list) and isinstance(node.get("items"), dict):
        for one in value:
            yield from stated_in(node["items"], home, one)


def every_key(node: Any, home: str, depth: int = 0) -> Iterator[str]:
    """The keys that there can be, and the words of fixed lists."""
    node, home = SCHEMAS.resolve(node, home)
    below = [*node.get("anyOf", ()), *(one for one in (node.get("additionalProperties"), node.get("items")) if isinstance(one, dict))]
    for key, inner in node.get("properties", {}).items():
        yield key
        at = SCHEMAS.resolve(inner, home)[0]
        yield from (f"{key}={word}" for word in at.get("enum", ()))
        if key not in ("sources", "photos", "allow"):
            below.append(inner)
    for one in below if depth < 12 else ():
        yield from every_key(one, home, depth + 1)


def test_the_demo_book_shows_every_key_and_every_word_of_a_list() -> None:
    known = {key for kind in KINDS_OF for key in every_key(SCHEMAS.of(kind), kind)}
    fronts = [(entry.front["kind"], entry.front) for entry in load(ROOT).entries if entry.front]
    shown = {key for kind, front in fronts for key in stated_in(SCHEMAS.of(kind), kind, front)}
    assert known - shown - NOT_HERE == set()
