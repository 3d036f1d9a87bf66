"""Mates: whatever goes on satisfies the law, written here a second time by place; and each class that once went on and must not.

What plugs and housings are made of is common practice, no source.
"""

from __future__ import annotations

import random
from dataclasses import replace
from typing import Any

import pytest

from rangebook.desk.fit import as_data, fit
from rangebook.fitting.check_mating import original_goes_on
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.judge import judge
from rangebook.fitting.overlay import lay
from rangebook.fitting.seats import find_seats
from rangebook.fitting.verdict import GOES_ON, VerdictKind
from rangebook.reading.entry import read_all
from tests.making import application, book, connector, family, part, plug, seat_and_parts

PINS = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out"}
START, BACKUP = ("1", "2", ["P", "N"]), ("3", "4", ["R"])
MADE: dict[str, Any] = {"terminal": {"style": "blade", "width_mm": 2.8, "on_switch": "male"}, "sealed": "yes"}


def switch(number: str, of: str, renamed: dict[str, str] | None = None) -> dict[str, Any]:
    """A part that joins 1 to 2 in P and N and 3 to 4 in R, with its pins in other cavities where said."""
    name = renamed or {pin: pin for pin in PINS}
    contacts = [{"pins": [name[a], name[b]], "closed": closed} for a, b, closed in (START, BACKUP)]
    return part(number, connector=of, pins={name[pin]: what for pin, what in PINS.items()}, contacts=contacts)


def ask(housing: dict[str, Any], candidate: dict[str, Any], *more: dict[str, Any], plug_made: dict[str, Any] | None = None, of: str = "c"):
    """The candidate's verdict on a plug of ``c`` built with a part of ``c``."""
    facts = {"plugs": {"p": plug(PINS, of=of)}, "applications": [application("p", "A")]}
    made, seat, parts = seat_and_parts(
        connector("c", 4, **(plug_made or MADE)), housing, *more, family("f", [switch("A", "c"), candidate], **facts)
    )
    return judge(made, seat, parts["B"]), made, seat


def codes(verdict) -> list[str]:
    return [reason.code for reason in verdict.reasons]


@pytest.mark.parametrize(
    ("changes", "word", "code"),
    [
        ({}, "straight", "mating.goes_on"),
        ({"rows": [["2", "1", "3", "4"]]}, "unknown", "mating.cavities_not_matched"),
        ({"rows": [["1", "2"], ["3", "4"]]}, "no", "mating.rows_differ"),
        ({"rows": [["1", "2", "3", "4", "5"]]}, "no", "mating.rows_differ"),
        ({"outline": "round"}, "no", "mating.outline_differs"),
        ({"terminal": {**MADE["terminal"], "width_mm": 1.5}}, "no", "mating.terminal_differs"),
        ({"terminal": {**MADE["terminal"], "width_mm": 2.84}}, "straight", "mating.goes_on"),
        ({"terminal": {**MADE["terminal"], "on_switch": "female"}}, "no", "mating.terminal_differs"),
        ({"terminal": {**MADE["terminal"], "style": "pin"}}, "no", "mating.terminal_differs"),
        ({"terminal": {"style": "blade", "on_switch": "male"}}, "unknown", "mating.terminal_not_stated"),
        ({"terminal": None}, "unknown", "mating.terminal_not_stated"),
        ({"sealed": "no"}, "no", "mating.sealing_differs"),
        ({"sealed": None}, "unknown", "mating.sealing_not_stated"),
    ],
)
def test_each_fact_of_a_mate_as_it_is_and_through_a_kit(changes: dict[str, Any], word: str, code: str) -> None:
    housing = {key: value for key, value in {**connector("d", 4, mates=["c"], **MADE), **changes}.items() if value is not None}
    verdict, *_ = ask(housing, switch("B", "d"))
    assert verdict.kind == word and code in codes(verdict)
    # The same at the end of a kit that supplies a plug of c.
    kit = {"kind": "kit", "id": "k", "number": "K", "title": "k", "from": "x", "to": "c", "moves": {pin: pin for pin in PINS}, "seals": [4]}
    renewed, *_ = ask(housing, switch("B", "d"), connector("x", 4), kit, of="x")
    # There the part that it came with has another connector than the plug, so what is asked of others is not known.
    assert renewed.kind in (VerdictKind.UNKNOWN, VerdictKind.NO) and renewed.kind == ("no" if word == "no" else "unknown")


def test_a_map_says_which_pin_each_wire_meets() -> None:
    crossed = {"1": "2", "2": "1", "3": "3", "4": "4"}
    onto = {"1": "5", "2": "6", "3": "7", "4": "8"}
    housing = connector("d", 9, mates=[{"connector": "c", "cavities": onto}], **MADE)
    verdict, made, seat = ask(housing, switch("B", "d", onto))
    assert verdict.kind is VerdictKind.STRAIGHT and not verdict.moves
    assert lay(made, seat, verdict).place == onto
    # By label the pins would be right, and by place they are not: the wires have to move, told by the cavities of the plug.
    lamps = {"1": "3", "2": "4", "3": "1", "4": "2"}
    verdict, made, seat = ask(connector("d", 4, mates=[{"connector": "c", "cavities": lamps}], **MADE), switch("B", "d"))
    assert verdict.kind is VerdictKind.REWIRE and dict(verdict.moves) == lamps
    assert lay(made, seat, verdict).place == {pin: pin for pin in PINS}
    # Two that are joined change places: nothing differs.
    verdict, *_ = ask(connector("d", 4, mates=[{"connector": "c", "cavities": crossed}], **MADE), switch("B", "d"))
    assert verdict.kind is VerdictKind.STRAIGHT


@pytest.mark.parametrize(
    ("cavities", "code"),
    [
        ({"1": "1", "2": "2"}, "mating.map_lacks_wires"),
        ({"1": "1", "2": "1", "3": "3", "4": "4"}, "mating.cavities_not_matched"),
        ({"1": "9", "2": "2", "3": "3", "4": "4"}, "mating.cavities_not_matched"),
        ({}, "mating.map_lacks_wires"),
    ],
)
def test_a_map_that_lacks_wires_or_cannot_be_right(cavities: dict[str, str], code: str) -> None:
    verdict, *_ = ask(connector("d", 4, mates=[{"connector": "c", "cavities": cavities}], **MADE), switch("B", "d"))
    assert verdict.kind is VerdictKind.UNKNOWN and codes(verdict) == [code]


def test_two_statements_about_one_plug() -> None:
    twice = ["c", {"connector": "c", "cavities": {"1": "2", "2": "1", "3": "3", "4": "4"}}]
    verdict, *_ = ask(connector("d", 4, mates=twice, **MADE), switch("B", "d"))
    assert verdict.kind is VerdictKind.UNKNOWN


def test_the_original_in_its_place_by_a_mate() -> None:
    def built(housing: dict[str, Any], original: dict[str, Any]):
        facts = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A")]}
        made, seat, parts = seat_and_parts(connector("c", 4, **MADE), housing, family("f", [original, switch("B", "c")], **facts))
        own, other = judge(made, seat, parts["A"]).kind, judge(made, seat, parts["B"]).kind
        assert (original_goes_on(made, seat) is True) is (own is VerdictKind.STRAIGHT)
        return str(own), str(other)

    bare = connector("d", 4, mates=["c"])
    assert built(bare, switch("A", "d")) == ("straight", "straight"), "it came so; what it is made of need not be stated"
    assert built({**bare, **MADE, "sealed": "no"}, switch("A", "d"))[0] == "no"
    assert built({**bare, **MADE, "rows": [["2", "1", "3", "4"]]}, switch("A", "d")) == ("unknown", "unknown")
    onto = {"1": "5", "2": "6", "3": "7", "4": "8"}
    mapped = connector("d", 9, mates=[{"connector": "c", "cavities": onto}], **MADE)
    assert built(mapped, switch("A", "d", onto)) == ("straight", "straight"), "its pins are met by the map"
    assert built(connector("d", 4, **MADE), switch("A", "d")) == ("no", "unknown"), "no plug of c goes on it at all"


def places(one: dict[str, Any]) -> dict[tuple[int, int], str]:
    return {(row, column): label for row, line in enumerate(one["rows"]) for column, label in enumerate(line) if label != "-"}


def lawful(plug_made: dict[str, Any], housing: dict[str, Any], mate: Any) -> bool:
    """The law once more, from the entries' own nodes."""
    mine, other = plug_made.get("terminal") or {}, housing.get("terminal") or {}
    same = all(mine.get(key) is not None and mine.get(key) == other.get(key) for key in ("style", "on_switch"))
    same = same and None not in (mine.get("width_mm"), other.get("width_mm")) and abs(mine["width_mm"] - other["width_mm"]) <= 0.05
    same = same and plug_made["outline"] == housing["outline"] and plug_made.get("sealed") == housing.get("sealed") is not None
    if isinstance(mate, str):
        return same and places(plug_made) == places(housing)
    met = mate["cavities"]
    return (
        same
        and set(PINS) <= set(met)
        and len(set(met.values())) == len(met)
        and set(met) <= set(places(plug_made).values())
        and set(met.values()) <= set(places(housing).values())
    )


@pytest.mark.slow
def test_whatever_goes_on_is_lawful_and_meets_its_pins_by_place() -> None:
    rng = random.Random(13)
    seen = {True: 0, False: 0}
    for _ in range(600):

        def made(name: str, rng: random.Random = rng) -> dict[str, Any]:
            likely = lambda usual, *others: usual if rng.random() < 0.9 else rng.choice(others)  # noqa: E731
            labels = likely(["1", "2", "3", "4"], ["2", "1", "3", "4"], ["3", "4", "1", "2"])
            terminal = {
                "style": likely("blade", "pin", None),
                "width_mm": likely(2.8, 1.5, 2.84, None),
                "on_switch": likely("male", "female", None),
            }
            facts = {
                "outline": likely("oval", "round"),
                "rows": likely([labels], [labels[:2], labels[2:]], [["-", *labels]]),
                "terminal": {key: value for key, value in terminal.items() if value is not None},
                "sealed": likely("yes", "no", None),
            }
            return {**connector(name, 4), **{key: value for key, value in facts.items() if value is not None}}

        plug_made, housing = made("c"), made("d")
        targets = rng.sample(["1", "2", "3", "4"], 4)
        mate: Any = "c" if rng.random() < 0.5 else {"connector": "c", "cavities": dict(zip(PINS, targets, strict=True))}
        if not isinstance(mate, str) and rng.random() < 0.2:
            mate["cavities"].pop("4")
        housing["mates"] = [mate]
        verdict, book_made, seat = judged(plug_made, housing)
        # A shift of the whole grid is no difference of place.
        shifted = {**housing, "rows": [[label for label in row if label != "-"] for row in housing["rows"]]}
        plain = {**plug_made, "rows": [[label for label in row if label != "-"] for row in plug_made["rows"]]}
        law = lawful(plain, shifted, mate)
        assert law or verdict.kind not in GOES_ON, (plug_made, housing, verdict)
        if law:
            met = {pin: pin for pin in PINS} if isinstance(mate, str) else mate["cavities"]
            agrees = {met["1"], met["2"]} == {"1", "2"}
            assert (verdict.kind is VerdictKind.STRAIGHT) is agrees and verdict.kind in GOES_ON
            assert lay(book_made, seat, verdict).place is not None
        seen[law] += 1
    assert min(seen.values()) > 50


def judged(plug_made: dict[str, Any], housing: dict[str, Any]):
    facts = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A")]}
    made, seat, parts = seat_and_parts(plug_made, housing, family("f", [switch("A", "c"), switch("B", "d")], **facts))
    return judge(made, seat, parts["B"]), made, seat


# What could not be read ---------------------------------------------------------------------------------------------------


def kit(**more: Any) -> dict[str, Any]:
    moves = {pin: pin for pin in PINS}
    return {"kind": "kit", "id": "k", "number": "K", "title": "k", "from": "c", "to": "d", "moves": moves, "seals": [4], **more}


def listed(*entries: dict[str, Any], lost: tuple[str, bytes] | None = None) -> dict[str, str]:
    facts = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A")]}
    made = book(connector("c", 4), family("f", [switch("A", "c")], **facts), family("g", [switch("B", "d")]), *entries)
    if lost is not None:
        made = replace(made, lost=tuple(read_all([lost])))
    (seat,) = find_seats(made)
    return {one.part.number: str(one.kind) for one in Fitter(made).candidates(seat)}


def test_a_way_that_may_be_hidden_is_unknown_and_listed_in_other_families_too() -> None:
    d, e = connector("d", 4), connector("e", 4)
    broken = ("entries/kits/k.md", b"---\nkind: [\n---\n")
    assert "B" not in listed(d), "no way, and nothing hidden"
    assert listed(d, lost=broken)["B"] == "unknown"
    named = ("entries/kits/k.md", b"---\nkind: kit\nid: k\nfrom: c\nto: d\nmoves: 7\n---\n")
    assert listed(d, lost=named)["B"] == "unknown"
    elsewhere = ("entries/kits/k.md", b"---\nkind: kit\nid: k\nfrom: c\nto: e\nmoves: 7\n---\n")
    assert "B" not in listed(d, e, lost=elsewhere), "it says that it leads to another plug"
    assert listed(d, kit(to="dd"))["B"] == "unknown", "a name that may be a slip"
    assert listed(d, kit(**{"from": "cc"}))["B"] == "unknown"
    assert listed(connector("d", 4, mates=["cc"]))["B"] == "unknown"
    # A kit that is no good hides nothing; with another that could not be read it is not surely no.
    assert "B" not in listed(d, kit(moves={"1": "1"}))
    assert listed(d, kit(id="j", moves={"1": "1"}), lost=broken)["B"] == "unknown"


# The plug that is there now -----------------------------------------------------------------------------------------------


def test_kits_are_reckoned_from_the_plug_that_mates_with_what_came_off() -> None:
    """A switch of d off a car that was built with a plug of c has a plug of d now: one more of d goes straight on, one of c does not."""
    crossed = {"1": "3", "2": "4", "3": "1", "4": "2"}
    facts = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A")]}
    parts = [switch("A", "c"), switch("B", "d", crossed), switch("D", "d", crossed)]
    made = book(connector("c", 4), connector("d", 4), kit(moves=crossed), family("f", parts, **facts))

    def answers(removed: str) -> list[tuple[Any, dict[str, Any]]]:
        data = as_data(fit(Fitter(made), removed))
        return [(seat["plug_now"], {one["number"]: (one["verdict"], one["needs"]) for one in seat["candidates"]}) for seat in data["seats"]]

    ((now, found),) = answers("A")
    assert now == {"connector": "c", "kits": [], "look": False} and found["B"][0] == "with_parts" and found["A"][0] == "straight"
    ((now, found),) = answers("B")
    assert now == {"connector": "d", "kits": ["k"], "look": False}
    assert found["B"] == found["D"] == ("straight", []) and found["A"][0] == "no"


def test_where_either_plug_may_be_there_it_is_asked_which() -> None:
    """A housing that takes the old plug and the new: what came off does not tell which is there."""
    facts = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A")]}
    parts = [switch("A", "c"), switch("B", "e"), switch("D", "d")]
    made = book(
        connector("c", 4, **MADE),
        connector("d", 4, **MADE),
        connector("e", 4, mates=["c", "d"], **MADE),
        kit(),
        family("f", parts, **facts),
    )
    data = as_data(fit(Fitter(made), "B"))
    found = [
        (one["plug_now"]["connector"], one["plug_now"]["look"], {two["number"]: two["verdict"] for two in one["candidates"]}["D"])
        for one in data["seats"]
    ]
    assert found == [("c", True, "with_parts"), ("d", True, "straight")]
