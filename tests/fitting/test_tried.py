"""What was tried in the bay stands beside what is computed, on the seats that it is of, and never changes it."""

from __future__ import annotations

import copy
import random
from pathlib import Path
from typing import Any

import pytest

from rangebook.book.book import Book
from rangebook.book.load import load_texts
from rangebook.desk.fit import as_data, candidate_data, fit
from rangebook.desk.worklists import Unsettled, records
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.tried import Accord, accord, tried_on
from rangebook.fitting.verdict import VerdictKind
from rangebook.reading.entry import read_entry
from rangebook.schema.store import load_schemas
from tests.making import application, book, connector, family, part, plug, texts

ROOT = Path(__file__).resolve().parents[2]
PINS = {"1": "start_feed", "2": "start_out"}
CONTACTS = [{"pins": ["1", "2"], "closed": ["P", "N"]}]
WHOLE: dict[str, Any] = {"pins": PINS, "contacts": CONTACTS}
IN_GEAR = [{"pins": ["1", "2"], "closed": ["P", "N", "D"]}]


def one_seat(*parts: dict[str, Any], fitted: list[dict[str, Any]] | None = None) -> Book:
    """A family with one vehicle, ``Corran``, that was built with the first of the parts."""
    vehicle = application("p", parts[0]["number"], vehicle="Corran", **({"fitted": fitted} if fitted else {}))
    return book(connector("c", 2), family("f", parts, plugs={"p": plug(PINS)}, applications=[vehicle]))


@pytest.mark.parametrize(
    ("outcome", "kinds", "expected"),
    [
        *(("works", [kind], Accord.AGREES) for kind in (VerdictKind.STRAIGHT, VerdictKind.WITH_PARTS, VerdictKind.REWIRE)),
        ("works", [VerdictKind.NO], Accord.AGAINST),
        ("works", [VerdictKind.UNKNOWN], Accord.OPEN),
        *(("fails", [kind], Accord.AGAINST) for kind in (VerdictKind.STRAIGHT, VerdictKind.WITH_PARTS, VerdictKind.REWIRE)),
        ("fails", [VerdictKind.NO], Accord.AGREES),
        ("fails", [VerdictKind.UNKNOWN], Accord.OPEN),
        # Which of several forms of a vehicle it was nobody says.
        ("works", [VerdictKind.NO, VerdictKind.STRAIGHT], Accord.AGREES),
        ("works", [VerdictKind.NO, VerdictKind.UNKNOWN], Accord.OPEN),
        ("fails", [VerdictKind.STRAIGHT, VerdictKind.NO], Accord.AGREES),
        ("fails", [VerdictKind.STRAIGHT, VerdictKind.REWIRE], Accord.AGAINST),
        ("fails", [], None),
    ],
)
def test_how_an_outcome_stands_to_the_verdicts(outcome: str, kinds: list[VerdictKind], expected: Accord | None) -> None:
    assert accord(outcome, kinds) is expected


def test_a_record_stands_beside_the_verdict_of_its_part_on_its_vehicle_alone() -> None:
    record = {"on": "2026-03-02", "by": "bay 2", "outcome": "fails", "note": "cranked in D"}
    made = one_seat(
        part("A-1", **WHOLE),
        part("A-2", **WHOLE, fitted=[{**record, "vehicle": " CORRAN"}, {"vehicle": "Delver", "outcome": "works"}, {"outcome": "works"}]),
        fitted=[{"outcome": "works", "note": "as built"}],
    )
    (seat,) = as_data(fit(Fitter(made), "A-1"))["seats"]
    shown = {one["number"]: (one["verdict"], one.get("fitted", [])) for one in seat["candidates"]}
    assert shown == {
        "A-1": ("straight", [{"on": None, "by": None, "vehicle": None, "outcome": "works", "note": "as built", "accord": "agrees"}]),
        "A-2": ("straight", [{**record, "vehicle": " CORRAN", "accord": "against"}]),
    }


def test_what_records_leave_to_be_settled() -> None:
    fitted = lambda **said: {"fitted": [{"vehicle": "Corran", **said}]}  # noqa: E731
    made = one_seat(
        part("A-1", **WHOLE),
        part("A-2", **WHOLE, **fitted(outcome="works")),
        part("A-3", **WHOLE, **fitted(outcome="fails")),
        part("A-4", pins=PINS, contacts=IN_GEAR, **fitted(outcome="works")),
        part("A-5", pins=PINS, contacts=IN_GEAR, **fitted(outcome="fails")),
        part("A-6", pins=PINS, **fitted(outcome="works")),
        part("A-7", pins=PINS, **fitted(outcome="fails")),
        part("A-8", **WHOLE, fitted=[{"vehicle": "Delver", "outcome": "works"}, {"outcome": "works"}]),
        fitted=[{"outcome": "fails"}],
    )
    fitter = Fitter(made)
    found = [(one.trial.part and one.trial.part.number, one.why) for one in records(made, fitter.seats, fitter.verdict)]
    assert found == [
        *((number, Unsettled.AGAINST) for number in ("A-3", "A-4", "A-1")),
        *((number, Unsettled.OPEN) for number in ("A-6", "A-7")),
        ("A-8", Unsettled.ABSENT_VEHICLE),
        ("A-8", Unsettled.NO_VEHICLE),
    ]


def test_a_record_under_a_vehicle_of_which_nobody_says_its_part_is_of_no_part() -> None:
    bare = {"vehicle": "Corran", "plug": "p", "fitted": [{"outcome": "works"}]}
    made = book(connector("c", 2), family("f", [part("A-1", **WHOLE)], plugs={"p": plug(PINS)}, applications=[bare]))
    fitter = Fitter(made)
    (found,) = records(made, fitter.seats, fitter.verdict)
    assert (found.trial.part, found.trial.vehicle, found.why) == (None, "Corran", Unsettled.NO_PART)


def test_a_record_under_a_vehicle_is_of_its_seat_and_not_of_another_form_of_the_vehicle() -> None:
    """Under a part the same words would leave open which of the two it was."""
    vehicles = [application("p", "A-1", vehicle="Corran", fitted=[{"outcome": "fails"}]), application("p", "A-2", vehicle="Corran")]
    parts = [part("A-1", **WHOLE), part("A-2", pins=PINS, contacts=[{"pins": ["1", "2"], "closed": ["P"]}])]
    made = book(connector("c", 2), family("f", parts, plugs={"p": plug(PINS)}, applications=vehicles))
    fitter = Fitter(made)
    first = made.part("A-1")
    assert first is not None
    kinds = {seat.original.number: fitter.verdict(seat, first).kind for seat in fitter.seats}
    assert kinds == {"A-1": VerdictKind.STRAIGHT, "A-2": VerdictKind.NO}
    assert [one.why for one in records(made, fitter.seats, fitter.verdict)] == [Unsettled.AGAINST]


def test_a_record_that_may_be_of_another_form_of_the_vehicle_is_against_neither() -> None:
    vehicles = [application("p", "A-1", vehicle="Corran"), application("p", "A-2", vehicle="Corran")]
    other = part("A-3", **WHOLE, fitted=[{"vehicle": "Corran", "outcome": "works"}, {"vehicle": "Corran", "outcome": "fails"}])
    parts = [part("A-1", **WHOLE), part("A-2", pins=PINS, contacts=[{"pins": ["1", "2"], "closed": ["P"]}]), other]
    made = book(connector("c", 2), family("f", parts, plugs={"p": plug(PINS)}, applications=vehicles))
    fitter, tried = Fitter(made), made.part("A-3")
    assert tried is not None
    found = {seat.original.number: [one.accord for one in tried_on(fitter, seat, fitter.verdict(seat, tried))] for seat in fitter.seats}
    assert found == {"A-1": [Accord.AGREES, Accord.OPEN], "A-2": [Accord.OPEN, Accord.AGREES]}
    assert not records(made, fitter.seats, fitter.verdict)


@pytest.mark.slow
def test_no_record_changes_an_answer() -> None:
    """Records at random under every part and vehicle of the demo book, allowed or not: each answer stays to the last reason."""
    drawn = random.Random(17)
    fronts = [read_entry(path.name, path.read_bytes()).front for path in sorted((ROOT / "entries").glob("*/*.md"))]
    vehicles = [one["vehicle"] for front in fronts for one in front.get("applications", ())]
    tried = copy.deepcopy(fronts)
    for front in tried:
        for owner in (*front.get("parts", ()), *front.get("applications", ())):
            said = [{"outcome": drawn.choice(["works", "fails"]), "vehicle": drawn.choice(vehicles), "note": "seen"} for _ in range(3)]
            owner["fitted"] = said
        if front["kind"] == "switch":
            front["allow"] = [*front.get("allow", ()), {"rule": "tried-otherwise", "reason": "looked at"}]

    def answers(of: list[Any]) -> tuple[dict[tuple[str, ...], Any], int]:
        fitter = Fitter(load_texts(texts(*of), load_schemas()).book)
        pairs = [(seat, verdict) for seat in fitter.seats for verdict in fitter.candidates(seat)]
        found = {(*map(str, seat.key), verdict.part.key): candidate_data(verdict) for seat, verdict in pairs}
        return found, sum(len(tried_on(fitter, seat, verdict)) for seat, verdict in pairs)

    (before, _), (after, shown) = answers(fronts), answers(tried)
    assert after == before and shown > 100
