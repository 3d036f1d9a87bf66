"""The weakest source that a verdict stands on. The order of kinds is common practice, no source: see the module."""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from rangebook.book.model import Source
from rangebook.desk.fit import as_data, fit
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.provenance import STRENGTH, Provenance, provenances, weakest, weight
from rangebook.schema.fields import fields_at
from rangebook.schema.store import load_schemas
from tests.making import book, connector, family

PINS = {"1": "start_feed", "2": "start_out"}
CONTACTS = [{"pins": ["1", "2"], "closed": ["P", "N"]}]
SEEN = {"kind": "seen", "on": "2026-02-11"}


def standing(part: list[dict[str, Any]], top: list[dict[str, Any]] = (SEEN,), housing: list[dict[str, Any]] = (SEEN,)) -> Provenance:
    """The weakest footing of the one part of a book on its own vehicle."""
    fitter = fitter_of(part, top, housing)
    (seat,) = fitter.seats
    return weakest(fitter.book, seat, fitter.verdict(seat, seat.original))


def fitter_of(part: list[dict[str, Any]], top: list[dict[str, Any]], housing: list[dict[str, Any]]) -> Fitter:
    only = {"number": "A-1", "connector": "c", "mount": "boss", "pins": PINS, "contacts": CONTACTS, "sources": list(part)}
    wires = {cavity: {"circuit": name} for cavity, name in PINS.items()}
    more = {
        "plugs": {"p": {"connector": "c", "wires": wires}},
        "applications": [{"vehicle": "Corran One", "plug": "p", "came_with": "A-1"}],
        "sources": list(top),
    }
    return Fitter(book(connector("c", 2, sources=list(housing)), family("f", [only], **more)))


def test_the_order_is_the_one_that_the_format_tells_of() -> None:
    """Source: schema/common.json, "The kinds run from the strongest to the weakest"."""
    source = load_schemas(None).files["common"]["$defs"]["source"]["properties"]
    assert tuple(source["kind"]["enum"]) == STRENGTH


def test_the_facts_of_a_part_are_those_that_a_source_can_name_and_a_verdict_goes_by() -> None:
    """Source: schema/common.json, what a source can be ``for``, and schema/switch.json, what no verdict goes by."""
    schemas = load_schemas(None)
    named = schemas.files["common"]["$defs"]["source"]["properties"]["for"]["items"]["enum"]
    keys = fields_at(schemas, "switch", "parts")
    (part,) = fitter_of([SEEN], [], []).book.parts
    assert set(part.facts) == {name for name in named if name in keys and keys[name].feeds_a_verdict}


@pytest.mark.parametrize(("weak", "strong"), list(itertools.pairwise(reversed(STRENGTH))))
def test_a_stronger_kind_outweighs_any_date(weak: str, strong: str) -> None:
    assert weight(Source(weak, on="2026-01-01")) < weight(Source(strong)) < weight(Source(strong, on="2001-01-01"))
    assert weight(None) < weight(Source(weak))


def test_of_one_kind_the_older_check_is_the_weaker() -> None:
    assert weight(Source("seen")) < weight(Source("seen", on="2019-12-31")) < weight(Source("seen", on="2020-01-01"))


def test_every_fact_has_the_best_of_its_own_sources() -> None:
    found = standing([{**SEEN, "for": ["pins", "connector", "mount"]}, {"kind": "hearsay", "on": "2026-03-01", "for": ["contacts"]}])
    assert (found.fact, found.of, found.source and found.source.kind) == ("contacts", "A-1", "hearsay")
    found = standing(
        [{"kind": "catalogue", "on": "2020-01-01"}, {"kind": "seen", "on": "2026-01-01", "for": ["pins", "contacts", "mount"]}]
    )
    assert (found.fact, found.source and found.source.kind) == ("connector", "catalogue")


def test_a_fact_that_no_source_names_is_known_from_nowhere() -> None:
    found = standing([{**SEEN, "for": ["pins", "connector", "mount"]}])
    assert found == Provenance("contacts", "A-1", None)


def test_the_family_s_source_stands_for_a_part_only_where_it_names_the_fact() -> None:
    assert standing([], [SEEN]).source is None
    named = {"kind": "wiring-diagram", "on": "2026-01-01", "for": ["pins", "contacts", "connector", "mount"]}
    found = standing([], [named, SEEN])
    assert found.source is not None and found.source.kind == "wiring-diagram"


def test_the_plug_the_vehicle_and_the_housing_count_too() -> None:
    assert standing([SEEN], [{**SEEN, "for": ["plugs"]}]) == Provenance("applications", "f", None)
    assert standing([SEEN], [SEEN], []) == Provenance("housing", "c", None)
    found = standing([SEEN], [SEEN], [{"kind": "seen", "on": "2019-01-01"}])
    assert (found.fact, found.source and found.source.on) == ("housing", "2019-01-01")


def test_what_is_not_stated_is_no_footing() -> None:
    fitter = fitter_of([SEEN], [SEEN], [SEEN])
    (seat,) = fitter.seats
    facts = {(one.fact, one.of) for one in provenances(fitter.book, seat, fitter.verdict(seat, seat.original))}
    assert facts == {
        *((fact, "A-1") for fact in ("connector", "pins", "contacts", "mount")),
        ("plugs", "f"),
        ("applications", "f"),
        ("housing", "c"),
    }


def test_fit_tells_it_beside_the_candidates_and_changes_nothing_of_them() -> None:
    data = as_data(fit(fitter_of([{"kind": "hearsay", "by": "counter"}], [SEEN], [SEEN]), "A-1"))
    (seat,) = data["seats"]
    assert seat["stands_on"] == {"A-1": {"fact": "connector", "of": "A-1", "kind": "hearsay", "detail": None, "by": "counter", "on": None}}
    assert set(seat["candidates"][0]) == {"number", "status", "verdict", "needs", "moves", "unused_pins", "reasons"}
