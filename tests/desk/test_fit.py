"""The answer to "this came off": its fixed form in JSON, and its words."""

from __future__ import annotations

import json

import jsonschema
import pytest
from tests.fitting import bench
from tests.making import MOUNT, application, book, connector, family, part, plug

from rangebook.desk.answer import leading_reasons
from rangebook.desk.fit import NotInBook, as_data, candidate_data, fit
from rangebook.desk.fit_lines import as_lines
from rangebook.desk.impact.phrases import side_words
from rangebook.desk.look import look
from rangebook.fitting.fitter import Fitter
from rangebook.revisions.verdicts import _side

PINS = {"1": "start_feed", "2": "start_out"}
CONTACTS = [{"pins": ["1", "2"], "closed": ["P", "N"]}]
KIT = {
    "kind": "kit",
    "id": "k",
    "number": "K-1",
    "title": "renewal",
    "from": "c",
    "to": "d",
    "moves": {"1": "3", "2": "4"},
    "seals": [2, 4],
}

# The form that checks outside this project read, as the design fixes it.
FORM = {
    "type": "object",
    "required": ["removed", "seats"],
    "properties": {
        "removed": {"type": "string"},
        "seats": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["family", "plug", "came_with", "how", "applications", "candidates"],
                "properties": {
                    "how": {"enum": ["came_with", "fits"]},
                    "applications": {"type": "array", "items": {"type": "object", "required": ["vehicle"]}},
                    "candidates": {
                        "type": "array",
                        "items": {
                            "type": "object",
                            "required": ["number", "status", "verdict", "needs", "moves", "unused_pins", "reasons"],
                            "additionalProperties": False,
                            "properties": {
                                "number": {"type": "string"},
                                "status": {"type": ["string", "null"]},
                                "verdict": {"enum": ["straight", "with_parts", "rewire", "no", "unknown"]},
                                "needs": {
                                    "items": {
                                        "type": "object",
                                        "required": ["kit", "seal", "blanks"],
                                        "additionalProperties": {"type": ["string", "integer", "null"]},
                                    }
                                },
                                "moves": {"type": "object", "additionalProperties": {"type": "string"}},
                                "unused_pins": {"items": {"type": "string"}},
                                "reasons": {
                                    "items": {
                                        "type": "object",
                                        "required": ["check", "code", "subject", "parameters", "text"],
                                        "additionalProperties": False,
                                        "properties": {
                                            "check": {"enum": ["mount", "mating", "behaviour", "safety"]},
                                            "code": {"type": "string", "pattern": r"^(mount|mating|behaviour|safety)\.[a-z_]+$"},
                                            "subject": {"type": "object", "required": ["side", "of", "names"]},
                                            "parameters": {"type": "object"},
                                            "text": {"type": "string"},
                                        },
                                    }
                                },
                            },
                        },
                    },
                },
            },
        },
    },
}


def made():
    old = part(
        "OLD-1",
        pins=PINS,
        contacts=CONTACTS,
        status="superseded",
        superseded_by=[{"number": "NEW-1", "needs": ["k"], "note": "with the kit"}],
    )
    twin = part("TWIN-1", pins={**PINS, "3": "not_connected"}, contacts=CONTACTS, status="current")
    new = part(
        "NEW-1",
        connector="d",
        pins={"3": "start_feed", "4": "start_out"},
        contacts=[{"pins": ["3", "4"], "closed": ["P", "N"]}],
        status="current",
    )
    bad = part("BAD-1", pins=PINS, contacts=[{"pins": ["1", "2"], "closed": ["P", "N", "D"]}], status="current")
    bare = part("BARE-1", status="current")
    far = part("FAR-1", connector="e", pins=PINS, contacts=CONTACTS)
    return Fitter(
        book(
            connector("c", 4),
            connector("d", 4),
            connector("e", 4),
            KIT,
            family("f", [old, twin, new, bad, bare], plugs={"p": plug(PINS)}, applications=[application("p", "OLD-1")]),
            family("g", [far]),
        )
    )


def test_the_form_of_the_json_is_as_fixed() -> None:
    data = json.loads(json.dumps(as_data(fit(made(), "old1"))))
    jsonschema.Draft202012Validator(FORM).validate(data)
    (seat,) = data["seats"]
    assert (data["removed"], seat["family"], seat["plug"], seat["came_with"], seat["how"]) == ("OLD-1", "f", "p", "OLD-1", "came_with")
    assert seat["applications"][0]["vehicle"] == "Corran Delver"
    found = {one["number"]: one for one in seat["candidates"]}
    assert [one["number"] for one in seat["candidates"]] == ["NEW-1", "TWIN-1", "OLD-1", "BARE-1", "BAD-1"], (
        "the maker's chain end first though it takes a kit, then what else is sold, then what is not"
    )
    assert {number: one["verdict"] for number, one in found.items()} == {
        "TWIN-1": "straight", "OLD-1": "straight", "NEW-1": "with_parts", "BARE-1": "unknown", "BAD-1": "no",
    }  # fmt: skip
    assert found["NEW-1"]["needs"] == [{"kit": "k", "seal": 2, "blanks": 0}] and found["NEW-1"]["moves"] == {"1": "3", "2": "4"}
    assert found["TWIN-1"]["unused_pins"] == ["3"] and found["TWIN-1"]["needs"] == [] and found["TWIN-1"]["moves"] == {}
    assert {reason["check"] for reason in found["BAD-1"]["reasons"]} == {"behaviour", "safety"}
    assert "FAR-1" not in found, "what does not fit and is not of the family counts as no"


def test_a_removed_part_has_the_seats_that_it_fits_too() -> None:
    answer = fit(made(), "TWIN 1")
    assert [(one.seat.original.number, one.how) for one in answer.seats] == [("OLD-1", "fits")]
    assert [(one.seat.original.number, one.how) for one in fit(made(), "NEW.1").seats] == [("OLD-1", "fits")]
    assert fit(made(), "BAD-1").seats == () and fit(made(), "BARE-1").seats == ()


def test_one_candidate_alone_even_if_it_does_not_fit() -> None:
    data = as_data(fit(made(), "OLD-1", "far/1"))
    assert [(one["number"], one["verdict"]) for one in data["seats"][0]["candidates"]] == [("FAR-1", "no")]


def test_another_number_of_a_part_leads_to_it_and_one_that_two_have_to_none() -> None:
    old = part(
        "OLD-1",
        pins=PINS,
        contacts=CONTACTS,
        also_numbered=[{"number": "55 20417", "by": "a box"}, {"number": "NEW-1"}, {"number": "77-1"}],
    )
    new = part("NEW-1", pins=PINS, contacts=CONTACTS, also_numbered=[{"number": "77/1"}])
    made = Fitter(book(connector("c", 4), family("f", [old, new], plugs={"p": plug(PINS)}, applications=[application("p", "OLD-1")])))
    assert fit(made, "55-204 17").removed.number == "OLD-1"
    assert fit(made, "new 1").removed.number == "NEW-1", "its own number comes before another's other one"
    with pytest.raises(NotInBook):
        fit(made, "771")
    assert [one.name for one in look(made.book, "5520417")] == ["OLD-1"]


@pytest.mark.parametrize("numbers", [("OLD-2",), ("OLD-1", "NEW-9")])
def test_a_number_that_is_not_in_the_book_names_the_nearest(numbers: tuple[str, ...]) -> None:
    with pytest.raises(NotInBook) as caught:
        fit(made(), *numbers)
    assert caught.value.nearest[0] == {"OLD-2": "OLD-1", "NEW-9": "NEW-1"}[numbers[-1]]


def test_the_words_say_what_to_fit_what_else_and_what_to_beware_of() -> None:
    lines = [text for _, text in as_lines(fit(made(), "OLD-1"))]
    text = "\n".join(lines)
    assert "NEW-1 (with kit K-1), current: fits with other parts" in text, "the end of the chain is judged on the seat"
    assert "with the kit" in text, "its condition is told"
    assert "- safety: the starter could turn in gear" in text
    assert "? behaviour: " in text and "measure first" in text
    assert "crank in gear" in lines[-1] and "service information" in lines[-1]


def test_an_end_that_does_not_fit_is_said_with_what_does() -> None:
    wrong = part("OLD-1", pins=PINS, contacts=CONTACTS, superseded_by=[{"number": "BAD-1"}])
    bad = part("BAD-1", pins=PINS, contacts=[{"pins": ["1", "2"], "closed": ["P"]}])
    fitter = Fitter(
        book(
            connector("c", 4),
            family(
                "f",
                [wrong, bad, part("TWIN-1", pins=PINS, contacts=CONTACTS)],
                plugs={"p": plug(PINS)},
                applications=[application("p", "OLD-1")],
            ),
        )
    )
    text = "\n".join(line for _, line in as_lines(fit(fitter, "OLD-1")))
    assert "BAD-1, status not stated: does not fit here; in the book TWIN-1 does" in text


def test_two_way_and_one_way_interchange_are_told() -> None:
    text = "\n".join(line for _, line in as_lines(fit(made(), "OLD-1")))
    assert "TWIN-1: no maker says so; it was found by computing: 2 wires, 4 positions and 2 closed paths agree" in text


def test_no_vehicle_no_answer() -> None:
    text = "\n".join(line for _, line in as_lines(fit(made(), "FAR-1")))
    assert "No vehicle in the book" in text and "fits as it is" not in text


OTHER = {"3": "start_feed", "4": "start_out"}


def with_strangers() -> Fitter:
    """A family whose original is withdrawn, a straight part that is withdrawn too, and look-alikes of another maker."""
    old = part("OLD-1", pins=PINS, contacts=CONTACTS, status="withdrawn")
    recalled = part("RECALLED-1", pins=PINS, contacts=CONTACTS, status="withdrawn")
    own_wrong = part("OWN-1", pins=PINS, contacts=[{"pins": ["1", "2"], "closed": ["P"]}], status="current")
    in_gear = part("GEAR-1", pins=PINS, contacts=[{"pins": ["1", "2"], "closed": ["P", "N", "D"]}], status="current")
    dead = part("DEAD-1", pins=PINS, contacts=[{"pins": ["1", "2"], "closed": ["P"]}], status="current")
    far = part("FAR-1", connector="e", pins=PINS, contacts=[{"pins": ["1", "2"], "closed": ["P", "N", "D"]}])
    good = part("GOOD-1", pins=PINS, contacts=CONTACTS, status="discontinued")
    return Fitter(
        book(
            connector("c", 4),
            connector("e", 4),
            family("f", [old, recalled, own_wrong], plugs={"p": plug(PINS)}, applications=[application("p", "OLD-1")]),
            family("g", [dead, in_gear, far, good]),
        )
    )


def test_what_bolts_on_and_plugs_in_and_is_wrong_is_told_first_among_the_refused() -> None:
    (seat,) = as_data(fit(with_strangers(), "OLD-1"))["seats"]
    refused = [one["number"] for one in seat["candidates"] if one["verdict"] == "no"]
    assert refused == ["GEAR-1", "DEAD-1", "OWN-1"], "another maker's first, and of these the one with which it cranks in gear"
    lines = list(as_lines(fit(with_strangers(), "OLD-1")))
    at = next(index for index, (_, text) in enumerate(lines) if text.startswith("  GEAR-1"))
    assert lines[at][0] == lines[at + 1][0] == "no" and "bolts on and plugs in and is wrong" in lines[at + 1][1]


def test_of_what_is_against_it_danger_is_told_first() -> None:
    (taken,) = fit(with_strangers(), "OLD-1").seats
    (in_gear,) = [one.verdict for one in taken.candidates if one.verdict.part.number == "GEAR-1"]
    first, second = leading_reasons(in_gear)
    assert (first.check, second.check) == ("safety", "behaviour")


def test_what_is_withdrawn_is_never_offered_and_says_what_to_fit_instead() -> None:
    answer = fit(with_strangers(), "OLD-1")
    (seat,) = as_data(answer)["seats"]
    verdicts = {one["number"]: (one["verdict"], one["status"]) for one in seat["candidates"]}
    assert verdicts["OLD-1"] == verdicts["RECALLED-1"] == ("straight", "withdrawn"), "a verdict follows from the facts"
    assert seat["offered"] == ["GOOD-1"] and seat["candidates"][0]["number"] == "GOOD-1"
    assert seat["withdrawn"] == [{"number": "OLD-1", "instead": "GOOD-1"}, {"number": "RECALLED-1", "instead": "GOOD-1"}]
    warned = [(style, text) for style, text in as_lines(answer) if text.startswith("  RECALLED-1")]
    assert [style for style, _ in warned] == ["no"] and "do not fit it. Fit GOOD-1 (no longer made) instead" in warned[0][1]
    # Asked about alone it says the same.
    (alone,) = as_data(fit(with_strangers(), "OLD-1", "RECALLED-1"))["seats"]
    assert (alone["offered"], alone["withdrawn"]) == ([], [{"number": "RECALLED-1", "instead": "GOOD-1"}])


def test_the_makers_chain_end_comes_first_then_current_parts_of_the_family_then_others() -> None:
    def straight(number: str, **more: object) -> dict:
        return part(number, pins=PINS, contacts=CONTACTS, **more)

    end = part("Z-END", connector="d", pins=OTHER, contacts=[{"pins": ["3", "4"], "closed": ["P", "N"]}], status="current")
    old = straight("A-1", status="superseded", superseded_by=[{"number": "Z-END", "needs": ["k"]}])
    own = [straight("Y-1", status="current"), straight("B-1")]
    others = [straight("C-1", status="current"), straight("D-1", status="superseded")]
    made = book(
        connector("c", 4),
        connector("d", 4),
        KIT,
        family("f", [old, *own], plugs={"p": plug(PINS)}, applications=[application("p", "A-1")]),
        family("g", [end, *others]),
    )
    (seat,) = as_data(fit(Fitter(made), "A-1"))["seats"]
    assert seat["offered"] == ["Z-END", "Y-1", "C-1", "B-1", "A-1", "D-1"]


def test_the_one_measurement_that_settles_most_is_named_with_how_to_take_it() -> None:
    old = part("OLD-1", pins=PINS, contacts=CONTACTS, status="current")
    bare = [part(f"BARE-{number}", mount="loose", pins=PINS, contacts=CONTACTS) for number in (1, 2, 3)]
    blind = part("BLIND-1")
    loose = {**MOUNT, "bolts": [{key: bolt[key] for key in bolt if key != "spacer_mm"} for bolt in MOUNT["bolts"]]}
    made = book(
        connector("c", 4),
        family("f", [old, blind], plugs={"p": plug(PINS)}, applications=[application("p", "OLD-1")]),
        family("g", bare, mounts={"loose": loose}),
    )
    answer = fit(Fitter(made), "OLD-1")
    data = as_data(answer)
    (seat,) = data["seats"]
    first = seat["measure_first"]
    assert data["measure_first"] == first
    assert (first["of"], first["code"]) == ("mount", "mount.spacer_not_stated"), "the three are on one mount, measured once"
    assert first["waits"] == 3 and "calliper" in first["text"]
    lines = [text for _, text in as_lines(answer)]
    asked = next(index for index, text in enumerate(lines) if "it settles most" in text)
    assert "calliper" in lines[asked] and asked < next(index for index, text in enumerate(lines) if text.startswith("  OLD-1"))


@pytest.mark.parametrize(
    ("joins", "moves"), [("plug_in", {}), ("splice", {"1": "1", "2": "2", "4": "4"}), ("cut", {"1": "1", "2": "2", "4": "4"})]
)
def test_of_a_wire_that_a_lead_brings_to_two_cavities_both_are_told(joins: str, moves: dict[str, str]) -> None:
    """``moves`` is a fixed form and has the first; ``fans`` has all, and so has the text. Reckoned from the kit by hand."""
    lead = {**bench.fan(["1", "5"]), "joins": joins, **({"seals": [], "blanks": 8} if joins == "cut" else {})}
    told = bench.Situation(8, "", "", "", bench.FED, bench.FANNED, bench.THREE, entries=(bench.WIDE, lead))
    fitter = Fitter(book(*bench.entries_of(told)))
    answer = fit(fitter, "A", "B")
    (candidate,) = as_data(answer)["seats"][0]["candidates"]
    assert (candidate["verdict"], candidate["moves"], candidate["fans"]) == ("with_parts", moves, {"1": ["1", "5"]})
    text = "\n".join(str(line) for _, line in as_lines(answer))
    assert "1 -> 1 + 5" in text
    verdict = fitter.verdict(fitter.seats[0], fitter.book.by_number["B"])
    assert "1 -> 1 + 5" in str(side_words(_side(fitter, fitter.seats[0], fitter.seats[0].key, "B")))
    assert "fans" not in candidate_data(fitter.verdict(fitter.seats[0], fitter.seats[0].original)) and verdict.fans
