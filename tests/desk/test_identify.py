"""Which switch it is, from what is in the hand."""

from __future__ import annotations

import random
import statistics
from pathlib import Path
from typing import Any

import pytest
from tests.making import MOUNT, application, book, connector, family, part, plug

from identify import Asking, true_answer, truths
from rangebook.book.load import load
from rangebook.desk.identify.narrow import OTHER, TOGETHER, NotUnderstoodError, families_of, mirrored, narrow, turn
from rangebook.desk.identify.questions import ABOUT_THE_VEHICLE, LOOKED_AT, MEASURED, Question, ask, next_question
from rangebook.desk.identify.table import Table, make_table
from rangebook.fitting.fitter import Fitter
from rangebook.words.catalogue import catalogue

ROOT = Path(__file__).parents[2]


def table_of(*entries: dict[str, Any]) -> Table:
    return make_table(Fitter(book(*entries)))


def left(table: Table, state: dict[str, Any]) -> set[str]:
    return {table.rows[at].number for at in narrow(table, state).rows}


def pins(*cavities: str) -> dict[str, str]:
    return dict.fromkeys(cavities, "range_signal")


@pytest.fixture(scope="module")
def demo() -> Table:
    return make_table(Fitter(load(ROOT).book))


@pytest.fixture(scope="module")
def shelf() -> Table:
    """Parts that differ in one thing each, and one of which nothing is stated."""
    two, three = MOUNT["bolts"], [*MOUNT["bolts"], {"at_mm": 38, "at_deg": 250, "bolt_mm": 6, "hole_mm": 6.6}]
    mounts = {
        "boss": MOUNT,
        "wide": {"shaft": {"shape": "double-flat", "across_mm": 11}, "bolts": two},
        "three": {"shaft": {"shape": "square", "across_mm": 9.5}, "bolts": three},
        "vague": {},
    }
    return table_of(
        {**connector("c", 6), "rows": [["1", "2", "3"], ["4", "5", "6"]]},
        connector("r", 8, outline="round"),
        family(
            "f",
            [
                part("A-1", pins=pins("1", "2", "4"), stamped=["green dot"]),
                part("A-2", pins=pins("1", "2", "5"), mount="wide", stamped=["red dot", "IVELIN"]),
                part("A-3", pins=pins("1", "2", "4"), mount="three"),
                part("A-4", connector="r", pins=pins("1", "2")),
                part("A-5", connector=None, mount=None),
                part("A-6", mount="vague"),
            ],
            mounts=mounts,
        ),
    )


@pytest.mark.parametrize(
    ("state", "numbers"),
    [
        ({}, "1 2 3 4 5 6"),
        ({"outline": "oval"}, "1 2 3 5 6"),
        ({"outline": "round"}, "4 5"),
        ({"outline": None, "cavities": None, "pins": None}, "1 2 3 4 5 6"),
        ({"cavities": 6}, "1 2 3 5 6"),
        ({"cavities": 7}, "5"),
        ({"cavities": OTHER}, "5"),
        ({"face": "r"}, "4 5"),
        ({"pins": {"face": "c", "yes": ["1", "2", "4"], "no": ["3", "5", "6"]}}, "1 3 5 6"),
        ({"pins": {"face": "c", "yes": ["4"]}}, "1 3 5 6"),
        ({"pins": {"face": "c", "no": ["4"]}}, "2 5 6"),
        ({"pins": {"face": "c"}}, "1 2 3 5 6"),
        ({"bolts": 2}, "1 2 4 5 6"),
        ({"bolts": 3}, "3 5 6"),
        ({"shaft": "square"}, "3 5 6"),
        ({"across_mm": 9.5}, "1 3 4 5 6"),
        ({"across_mm": 9.6}, "1 3 4 5 6"),
        ({"across_mm": 9.61}, "5 6"),
        ({"stamped:green dot": True}, "1 3 4 5 6"),
        ({"stamped:green dot": False}, "2 3 4 5 6"),
        ({"stamped:red dot": True, "stamped:IVELIN": True}, "2 3 4 5 6"),
        ({"wires": 9, "vehicle": "Corran Delver", "year": 2005}, "1 2 3 4 5 6"),
        ({"gearbox": "Tamblin Short"}, "1 2 3 4 5 6"),
        ({"gearbox": "Ostrand 3"}, ""),
    ],
)
def test_what_is_not_stated_never_excludes(shelf: Table, state: dict[str, Any], numbers: str) -> None:
    assert left(shelf, state) == {f"A-{number}" for number in numbers.split()}


def test_each_part_that_is_set_aside_says_why(shelf: Table) -> None:
    narrowed = narrow(shelf, {"bolts": 2, "outline": "oval", "stamped:green dot": True})
    assert {shelf.rows[at].number: why for at, why in narrowed.aside.items()} == {
        "A-2": "stamped:green dot",
        "A-3": "bolts",
        "A-4": "outline",
    }


@pytest.fixture(scope="module")
def road() -> Table:
    """One part in two vehicles with unlike plugs, a second in a third one, and gearboxes that no vehicle is named for. What closes where
    is stated, so that it is known that neither goes on the other's plugs."""
    contacts = [
        # The wire in 1 alone, which some vehicles have, tells them apart as well.
        [{"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}, {"pins": ["1", "case"], "closed": ["P"]}],
        [{"pins": ["1", "2"], "closed": ["D"]}, {"pins": ["5", "6"], "closed": ["R"]}],
    ]
    return table_of(
        connector("c", 6),
        family(
            "f",
            [
                part("A-1", pins=pins("1", "2", "3", "4"), contacts=contacts[0]),
                part("A-2", pins=pins("1", "2", "5", "6"), contacts=contacts[1]),
            ],
            plugs={"four": plug("1234"), "two": plug("12"), "other": plug("56")},
            gearboxes=["Tamblin Short"],
            applications=[
                application("four", "A-1", vehicle="Corran Delver", years="2003-2005"),
                application("two", "A-1", vehicle="Corran Sallow", years="2006-", optional_cavities=["2"]),
                application("other", "A-2", vehicle="Corran Pintle", years="2001"),
            ],
        ),
        family("g", [part("B-1", pins=dict.fromkeys("12", "not_connected"), contacts=[])], gearboxes=["Tamblin Short", "Penvose Q"]),
    )


@pytest.mark.parametrize(
    ("state", "numbers"),
    [
        ({"vehicle": "Corran Delver"}, "A-1 B-1"),
        ({"vehicle": "Corran Delver", "wires": 4}, "A-1 B-1"),
        ({"vehicle": "Corran Delver", "wires": 2}, "B-1"),
        ({"vehicle": "Corran Sallow", "wires": 2}, "A-1 B-1"),
        ({"vehicle": "Corran Sallow", "wires": 1}, "A-1 B-1"),
        ({"vehicle": "Corran Sallow", "wired": {"face": "c", "yes": ["1"], "no": ["2"]}}, "A-1 B-1"),
        ({"vehicle": "Corran Delver", "wired": {"face": "c", "yes": ["1"], "no": ["2"]}}, "B-1"),
        ({"vehicle": "Corran Delver", "year": 2006}, "B-1"),
        ({"vehicle": "Corran Sallow", "year": 2024}, "A-1 B-1"),
        ({"year": 2001}, "A-2 B-1"),
        ({"year": [2001, 2031]}, "A-1 A-2 B-1"),
        ({"year": 1999}, "B-1"),
        ({"gearbox": "Penvose Q"}, "B-1"),
        ({"gearbox": "Tamblin Short", "vehicle": OTHER}, "B-1"),
    ],
)
def test_plug_and_vehicle_count_together(road: Table, state: dict[str, Any], numbers: str) -> None:
    assert left(road, state) == set(numbers.split())


def test_no_vehicle_has_all_of_it(road: Table) -> None:
    narrowed = narrow(road, {"vehicle": "Corran Delver", "year": 2010})
    assert narrowed.aside == {0: TOGETHER, 1: "vehicle"}


def test_a_part_of_which_it_is_not_known_whether_it_goes_on_is_kept() -> None:
    """Two parts of one family, each on its own vehicle: where what closes is not stated, either may have come off either."""
    circuits = {"1": "range_signal", "2": "range_return"}
    known = [{"pins": ["1", "2"], "closed": ["R"]}]
    for contacts, numbers in ((None, {"A-1", "A-2"}), (known, {"A-1"})):
        own = part("A-1", pins=circuits, contacts=[{"pins": ["1", "2"], "closed": ["P", "N"]}])
        rides = [application("p", "A-1"), application("p", "A-2", vehicle="Corran Sallow")]
        table = table_of(
            connector("c", 2),
            family("f", [own, part("A-2", pins=circuits, contacts=contacts)], plugs={"p": plug("12")}, applications=rides),
        )
        assert left(table, {"vehicle": "Corran Delver"}) == numbers


def test_a_gearbox_that_no_vehicle_is_named_for_keeps_its_family() -> None:
    table = table_of(
        connector("c", 2),
        family(
            "f",
            [part("A-1", pins=pins("1", "2"))],
            gearboxes=["Tamblin Short", "Tamblin Cross"],
            plugs={"p": plug("12")},
            applications=[application("p", "A-1")],
        ),
    )
    assert left(table, {"gearbox": "Tamblin Cross", "wires": 7}) == {"A-1"}
    assert left(table, {"gearbox": "Tamblin Short", "wires": 7}) == set()


def test_a_plug_that_a_kit_renewed_is_seen_as_the_kit_left_it() -> None:
    """A vehicle built with the part on ``old`` and repaired with the one on ``new``: its plug is now the kit's."""
    contact = {"pins": ["1", "2"], "closed": ["P", "N"]}
    table = table_of(
        connector("old", 2),
        connector("new", 4, outline="rectangular"),
        {"kind": "kit", "id": "k", "number": "K-1", "title": "K", "from": "old", "to": "new", "moves": {"1": "2", "2": "4"}, "seals": [2]},
        family(
            "f",
            [
                part("A-1", connector="old", pins=pins("1", "2"), contacts=[contact]),
                part("A-2", connector="new", pins=pins("2", "4"), contacts=[{"pins": ["2", "4"], "closed": ["P", "N"]}]),
            ],
            plugs={"p": plug("12", of="old")},
            applications=[application("p", "A-1")],
        ),
    )
    assert left(table, {"wired": {"face": "new", "yes": ["2", "4"], "no": ["1", "3"]}}) == {"A-2"}
    assert left(table, {"wired": {"face": "old", "yes": ["1", "2"]}}) == {"A-1"}


# In mirror image


FACE = {**connector("c", 6), "rows": [["1", "2", "3"], ["4", "5", "6"]]}


def test_a_pattern_that_fits_only_in_mirror_image_is_said_so() -> None:
    table = table_of(FACE, family("f", [part("A-1", pins=pins("1", "2", "4")), part("A-2"), part("A-3", pins=pins("2", "5"))]))
    state = {"bolts": 2, "pins": {"face": "c", "yes": ["3", "2", "6"], "no": ["1"]}}
    (found,) = mirrored(table, state, narrow(table, state))
    assert found.id == "pins"
    assert found.state == {"bolts": 2, "pins": {"face": "c", "yes": ["1", "2", "4"], "no": ["3"]}}
    assert [table.rows[at].number for at in found.rows] == ["A-1"]
    assert left(table, found.state) == {"A-1", "A-2"}


@pytest.mark.parametrize(
    "state",
    [
        {},
        {"pins": None},
        {"pins": {"face": "c", "yes": ["1", "2", "4"], "no": []}},  # fits as it is
        {"pins": {"face": "c", "yes": [], "no": ["1"]}},  # nothing was seen to be there
        {"pins": {"face": "c", "yes": ["2", "6"], "no": ["1", "3", "4", "5"]}},  # fits neither way
        {"pins": {"face": "c", "yes": ["3", "2", "6"], "no": []}, "bolts": 3},  # in mirror image another fact is against it
        {"pins": {"face": "nowhere", "yes": ["3"], "no": []}},
    ],
)
def test_else_nothing_is_said_about_mirror_images(state: dict[str, Any]) -> None:
    table = table_of(FACE, family("f", [part("A-1", pins=pins("1", "2", "4")), part("A-3", pins=pins("2", "5"))]))
    assert mirrored(table, state, narrow(table, state)) == ()


def test_wires_are_turned_over_as_well() -> None:
    table = table_of(
        FACE,
        family(
            "f",
            [part("A-1", pins=pins("1", "2", "4"))],
            plugs={"p": plug("14")},
            applications=[application("p", "A-1")],
        ),
    )
    state = {"wired": {"face": "c", "yes": ["3", "6"], "no": ["1", "2", "4", "5"]}}
    (found,) = mirrored(table, state, narrow(table, state))
    assert found.id == "wired"
    assert found.state["wired"] == {"face": "c", "yes": ["1", "4"], "no": ["3", "2", "6", "5"]}


def test_turning_over_goes_by_the_whole_width_and_by_places_without_a_cavity() -> None:
    (face,) = table_of(
        {**connector("c", 1), "rows": [["1", "2", "3", "4"], ["5", "6"], ["-", "7", "8", "9"]]}, family("f", [part("A-1")])
    ).faces
    assert turn(face, {"face": "c", "yes": ["1", "3"], "no": ["5", "7", "9"]}) == {"face": "c", "yes": ["4", "2"], "no": ["8"]}
    assert turn(face, {"face": "c", "yes": ["6"], "no": []}) is None


@pytest.mark.slow
def test_turning_over_twice_changes_nothing(demo: Table) -> None:
    for face in demo.faces:
        for label in face.cavities:
            once = turn(face, {"face": face.id, "yes": [label], "no": []})
            assert once is None or turn(face, once) == {"face": face.id, "yes": [label], "no": []}


# What is asked


def numbers_left(table: Table, name: str, value: Any, state: dict[str, Any]) -> tuple[int, int]:
    """Families and parts left with one more answer."""
    narrowed = narrow(table, {**state, name: value})
    return len(families_of(table, narrowed)), len(narrowed.rows)


def test_the_expected_rest_is_what_answering_truly_leaves(demo: Table) -> None:
    """Against the narrowing itself: over every part, with the answer that its entry gives, by hand for four questions."""
    everything = narrow(demo, {})
    for name in ("outline", "cavities", "bolts", "shaft"):
        families, parts = [], []
        for row in demo.rows:
            face, mounting = row.face, row.mounting
            match name:
                case "outline":
                    value = None if face is None else demo.faces[face].outline
                case "cavities":
                    value = None if face is None else len(demo.faces[face].cavities)
                case _:
                    value = None if mounting is None else getattr(demo.mountings[mounting], name)
            one = numbers_left(demo, name, value, {})
            families.append(one[0])
            parts.append(one[1])
        found = ask(demo, {}, everything, name)
        assert found is not None
        assert found.families == pytest.approx(sum(families) / len(families))
        assert found.parts == pytest.approx(sum(parts) / len(parts))


def test_the_next_question_is_the_one_with_the_fewest_families_to_be_expected(demo: Table) -> None:
    narrowed = narrow(demo, {})
    every = [found for name in LOOKED_AT if (found := ask(demo, {}, narrowed, name))]
    assert next_question(demo, {}) == min(every, key=lambda one: (one.families, one.parts, LOOKED_AT.index(one.id)))


def one_of_each(demo: Table, seed: int) -> list[Question]:
    """A walk from nothing known to the end, each answer one of those offered, or "can't tell"."""
    chance = random.Random(seed)
    state: dict[str, Any] = {}
    asked = []
    while question := next_question(demo, state):
        assert question.id not in state, "asked again"
        asked.append(question)
        if question.kind == "cavities":
            rows = narrow(demo, state)
            patterns = [pattern for at in rows.rows if demo.rows[at].face is not None and (pattern := demo.rows[at].pins)]
            face = demo.faces[demo.face_at[question.face or ""]]
            pattern = chance.choice(patterns) if question.id == "pins" and patterns else ""
            state[question.id] = {
                "face": face.id,
                "yes": [one for one, has in zip(face.cavities, pattern, strict=False) if has == "1"],
                "no": [],
            }
        else:
            state[question.id] = chance.choice([None, *(value for value, _ in question.answers)])
    return asked


@pytest.mark.parametrize("seed", range(25))
def test_every_walk_ends_and_nothing_is_asked_twice(demo: Table, seed: int) -> None:
    asked = one_of_each(demo, seed)
    assert asked
    for question in asked:
        assert question.words and question.parts < len(demo.rows)
        assert len({value for value, _ in question.answers}) == len(question.answers)
        assert (question.face is not None) == (question.kind == "cavities")


def test_cannot_tell_is_always_allowed(demo: Table) -> None:
    state: dict[str, Any] = {}
    count = 0
    while question := next_question(demo, state):
        state[question.id] = None
        count += 1
    assert len(narrow(demo, state).rows) == len(demo.rows)
    assert {"outline", "cavities", "face", "bolts", "shaft", "across_mm", "gearbox", "vehicle", "year"} <= set(state)
    assert "pins" not in state, "no face to tap on is known"
    assert count == len(state)


def test_a_face_is_tapped_on_only_when_it_is_known(demo: Table) -> None:
    narrowed = narrow(demo, {})
    assert ask(demo, {}, narrowed, "pins") is None
    state = {"outline": "d-shaped", "cavities": 14}
    found = ask(demo, state, narrow(demo, state), "pins")
    assert found is not None and found.kind == "cavities" and found.face == "wedge-14" and found.answers == ()


def test_housings_with_one_face_are_told_apart_by_nothing_that_can_be_tapped() -> None:
    table = table_of(connector("a", 4), connector("b", 4), family("f", [part("A-1", connector="a"), part("A-2", connector="b")]))
    (face,) = table.faces
    assert face.title == "a or b"
    assert next_question(table, {}) is None


def test_a_choice_of_faces_comes_after_outline_and_cavities() -> None:
    other = {**connector("b", 4), "rows": [["1", "2"], ["3", "4"]]}
    table = table_of(
        connector("a", 4), other, connector("r", 4, outline="round"), *(family(name, [part(f"{name}-1", connector=name)]) for name in "abr")
    )
    first = next_question(table, {})
    assert first is not None and first.id == "outline"
    second = next_question(table, {"outline": "oval"})
    assert second is not None and second.id == "face" and second.answers == (("a", "a"), ("b", "b"))
    assert next_question(table, {"outline": "oval", "face": "b"}) is None


def test_the_vehicle_is_asked_for_last_and_only_where_it_may_be() -> None:
    table = table_of(
        connector("c", 2),
        *(
            family(
                name,
                [part(f"{name}-1", pins=pins("1", "2"), contacts=[{"pins": ["1", "2"], "closed": closed}])],
                gearboxes=[f"Tamblin {name}"],
                plugs={"p": plug("12")},
                applications=[application("p", f"{name}-1", gearbox=f"Tamblin {name}", vehicle=f"Corran {name}")],
            )
            for name, closed in (("f", ["P", "N"]), ("g", ["R"]))
        ),
    )
    question = next_question(table, {})
    assert question is not None and question.id == "gearbox"
    assert question.answers == (("Tamblin f", "Tamblin f"), ("Tamblin g", "Tamblin g"))
    assert next_question(table, {}, vehicle=False) is None
    following = next_question(table, {"gearbox": None})
    assert following is not None and following.id == "vehicle"


def test_a_calliper_is_asked_for_only_when_looking_is_of_no_more_use(shelf: Table) -> None:
    state: dict[str, Any] = {}
    while (question := next_question(shelf, state)) and question.id not in MEASURED:
        state[question.id] = None
    assert question is not None
    assert question.answers == ((9.5, "9.5 mm"), (11, "11 mm"))
    assert not set(state) & {*MEASURED, *ABOUT_THE_VEHICLE}


@pytest.mark.parametrize(
    ("state", "says"),
    [
        ({"colour": "red"}, "there is no question colour"),
        ({"cavities": "twelve"}, "cavities: the answer is a whole number"),
        ({"bolts": True}, "bolts: the answer is a whole number"),
        ({"pins": ["1"]}, "pins: the answer is a face with the cavities"),
        ({"pins": OTHER}, "pins: the answer is a face"),
        ({"wired": {"face": "c", "perhaps": []}}, "wired: the answer is a face"),
        ({"across_mm": "9.5"}, "across_mm: the answer is a size in millimetres"),
        ({"stamped:x": "yes"}, "stamped:x: the answer is yes or no"),
        ({"year": "2004"}, "year: the answer is a year or several"),
        ({"outline": 4}, "outline: the answer is a name"),
    ],
)
def test_what_is_no_answer_is_refused_in_plain_words(shelf: Table, state: dict[str, Any], says: str) -> None:
    with pytest.raises(NotUnderstoodError, match=says):
        narrow(shelf, state)


def test_every_question_has_its_words() -> None:
    assert set(catalogue().data["identify_question"]) == {*LOOKED_AT, *MEASURED, *ABOUT_THE_VEHICLE, "stamped:"}
    assert set(catalogue().data["identify_fact"]) == {*catalogue().data["identify_question"], TOGETHER}


@pytest.mark.slow
def test_the_same_book_gives_the_same_questions(demo: Table) -> None:
    again = make_table(Fitter(load(ROOT).book))
    assert again == demo
    assert [one.id for one in one_of_each(again, 3)] == [one.id for one in one_of_each(demo, 3)]


@pytest.mark.slow
def test_one_family_is_reached_in_few_answers(demo: Table) -> None:
    """The figures of benchmarks/identify.py on the demo book: at most 4 answers in the median, and always one family in the end."""
    hand, vehicle = ([Asking(demo, may).ask(truth) for truth in truths(demo)] for may in (False, True))
    assert statistics.median(len(one.questions) for one in hand) <= 4
    assert statistics.median(len(one.questions) for one in vehicle) <= 4
    assert {one.families for one in vehicle} == {1}


@pytest.mark.slow
def test_what_is_answered_truly_never_loses_the_part(demo: Table) -> None:
    for truth in truths(demo):
        state: dict[str, Any] = {}
        while question := next_question(demo, state):
            state[question.id] = true_answer(demo, truth, question)
            assert truth.row.number in left(demo, state)


def test_a_jumper_in_the_plug_may_be_taken_for_wires() -> None:
    """It may be a wire from one cavity to another or a bridge that nobody sees: neither answer sets the part aside."""
    facts = {"applications": [application("p", "A-1")], "plugs": {"p": plug({"1": {}, "2": {}}, loops=[["5", "6"]])}}
    table = table_of(connector("c", 8), family("f", [part("A-1", pins=pins("1", "2"))], **facts))
    for state in ({"yes": ["1", "2", "5", "6"], "no": []}, {"yes": ["1", "2"], "no": ["5", "6"]}):
        assert left(table, {"wired": {"face": "c", **state}}) == {"A-1"}
    assert left(table, {"wired": {"face": "c", "yes": ["7"], "no": []}}) == set()
    assert left(table, {"wires": 4}) == left(table, {"wires": 2}) == {"A-1"} and left(table, {"wires": 5}) == set()
