"""What the list says of a safety circuit is looked at as what an entry says: a circuit that may be joined in one position more changes, in
this book, no verdict at all."""

from __future__ import annotations

import copy
import itertools
from pathlib import Path
from types import MappingProxyType
from typing import Any

from rangebook.desk.impact.data import as_data
from rangebook.revisions.report import impact
from rangebook.revisions.safety_circuits import SafetyCircuits
from rangebook.revisions.states import two_states
from rangebook.schema.store import Schemas, load_schemas
from tests import making

PARTS = [making.part(number, pins={"1": "horn_lock"}, contacts=[{"pins": ["1", "case"], "closed": ["P"]}]) for number in ("A-1", "B-2")]
BOOK = making.texts(
    making.connector("c", 2),
    making.family("f", PARTS, plugs={"p": making.plug({"1": "horn_lock"})}, applications=[making.application("p", "A-1")]),
)
LOCK = {"role": "output", "name": "horn lock", "safety": True, "joined_in": ["P"]}


def changed(new: dict[str, Any]) -> dict[str, Any]:
    """The impact of a list of circuits that says ``new`` of the horn lock in the place of :data:`LOCK`."""

    def schemas(circuit: dict[str, Any]) -> Schemas:
        files = copy.deepcopy(dict(load_schemas(None).files))
        files["circuits"]["circuits"]["horn_lock"] = circuit
        return Schemas(MappingProxyType(files))

    states = two_states(Path(), BOOK.items(), BOOK.items(), schemas(LOCK), schemas(new))
    return as_data(impact(states, "base", "0", [], []), dict.fromkeys(("switch", "connector", "kit"), str))


def test_one_position_more_is_told_though_no_verdict_changes() -> None:
    found = changed({**LOCK, "joined_in": ["P", "L"]})  # a position that the lever of this book does not have
    assert found["verdicts"] == []
    assert found["circuits"] == [
        {
            "family": "",
            "what": "circuit",
            "name": "horn_lock",
            "old": "may be joined to others in P only",
            "new": "may be joined to others in P and L only",
        }
    ]


def test_other_words_for_it_are_no_change() -> None:
    assert changed({**LOCK, "name": "lock of the horn"})["circuits"] == []


def test_it_is_told_of_each_verdict_that_goes_by_it() -> None:
    found = changed({**LOCK, "joined_in": ["N"]})
    # Of A-1 in its own place too: it is known to be joined in P.
    assert {one["number"]: one["new"]["verdict"] for one in found["verdicts"]} == {"A-1": "no", "B-2": "no"}
    for one in found["verdicts"]:
        assert "the list of circuits says something else of horn_lock" in one["safety"]


def test_a_list_that_does_not_say_any_more_where() -> None:
    found = changed({key: value for key, value in LOCK.items() if key != "joined_in"})
    (circuit,) = found["circuits"]
    assert circuit["new"] == "a safety circuit, and not said in which positions it may be joined"
    assert found["verdicts"][0]["new"]["verdict"] == "unknown"


START = {"1": "start_feed", "2": "start_out"}
RIGHT = {"steering": "right"}


def start(number: str, closed: list[str], **more: Any) -> dict[str, Any]:
    return making.part(number, pins=START, contacts=[{"pins": ["1", "2"], "closed": closed}], **more)


def edited(old: list[dict[str, Any]], new: list[dict[str, Any]]) -> dict[str, Any]:
    """The impact of an edit to the parts of a family."""
    schemas = load_schemas(None)
    old_texts, new_texts = (making.texts(making.connector("c", 3), making.family("f", parts)) for parts in (old, new))
    states = two_states(Path(), old_texts.items(), new_texts.items(), schemas, schemas)
    return as_data(impact(states, "base", "0", [], []), dict.fromkeys(("switch", "connector", "kit"), str))


def test_every_seat_of_a_plug_is_told_of_its_wires() -> None:
    """Also the second one of the plug, and one whose plug has been renewed."""
    schemas = load_schemas(None)

    def book(name: str) -> dict[str, bytes]:
        plugs = {"p": making.plug({"1": "start_feed", "2": name})}
        return making.texts(making.connector("c", 3), making.family("f", [start("A-1", ["P", "N"])], plugs=plugs))

    states = two_states(Path(), book("start_out").items(), book("range_signal").items(), schemas, schemas)
    circuits = SafetyCircuits(states)
    for plug in ("p", "p~2", "p+kit", "p~2+kit+other"):
        assert [one.what for one in circuits.of(("f", plug, "a1", ("P", "R", "N", "D")), "a1")] == ["plug"]
    assert not circuits.of(("f", "q~2", "a1", ("P", "R", "N", "D")), "a1")


def test_an_edit_of_a_design_is_told_as_one_of_the_part() -> None:
    def parts(closed: list[str]) -> list[dict[str, Any]]:
        design = {"when": RIGHT, "contacts": [{"pins": ["1", "2"], "closed": closed}]}
        return [start(number, ["P", "N"], revisions=[design]) for number in ("A-1", "B-2")]

    (circuit, other) = edited(parts(["P", "N"]), parts(["P", "R", "N"]))["circuits"]
    assert (circuit["what"], circuit["name"], other["name"]) == ("part", "A-1", "B-2")
    assert circuit["old"] != circuit["new"]


def test_a_design_more_is_held_against_what_was_said_of_the_part() -> None:
    design = {"when": RIGHT, "contacts": [{"pins": ["1", "2"], "closed": ["P", "R", "N"]}]}
    plain = [start(number, ["P", "N"]) for number in ("A-1", "B-2")]
    found = edited(plain, [start("A-1", ["P", "N"], revisions=[design]), plain[1]])
    assert [one["name"] for one in found["circuits"]] == ["A-1"]
    assert (
        edited(plain, [start("A-1", ["P", "N"], revisions=[{"when": RIGHT, "contacts": plain[0]["contacts"]}]), plain[1]])["circuits"] == []
    )


def test_what_bears_on_safety_from_outside_a_part_is_told() -> None:
    """A jumper of a plug, where it cranks, what a position means and a contact that overlaps: each changed alone, and two parts alike, so
    that nothing tells but the circuits."""
    schemas = load_schemas(None)

    def book(loops: Any = None, cranks: Any = None, means: Any = None, into: Any = None) -> dict[str, bytes]:
        facts = {key: value for key, value in (("loops", loops), ("cranks", cranks)) if value}
        contact = {"pins": ["1", "2"], "closed": ["P", "N"], **({"overlaps": into} if into else {})}
        parts = [making.part(number, pins=START, contacts=[contact]) for number in ("A-1", "B-2")]
        plug = making.plug({"1": "start_feed", "2": "start_out"}, **facts)
        more = {"positions": ["P", "R", "N", "D", "S"], **({"means": means} if means else {})}
        family = making.family("f", parts, plugs={"p": plug}, applications=[making.application("p", "A-1")], **more)
        return making.texts(making.connector("c", 8), family)

    for facts, what in (
        ({"loops": [["5", "6"]]}, {"plug"}),
        ({"cranks": {"in": ["P"]}}, {"plug"}),
        ({"means": {"S": "R"}}, {"part"}),
        ({"into": ["R"]}, {"part"}),
    ):
        states = two_states(Path(), book().items(), book(**facts).items(), schemas, schemas)
        assert {one.what for one in SafetyCircuits(states).changes} == what, facts
        back = two_states(Path(), book(**facts).items(), book().items(), schemas, schemas)
        assert {one.what for one in SafetyCircuits(back).changes} == what, facts
        told = as_data(impact(states, "base", "0", [], []), dict.fromkeys(("switch", "connector", "kit"), str))["circuits"]
        assert told and all(one["old"] != one["new"] for one in told), f"{facts}: told with the same words on both sides"


TWO_PLUGS = {"main.1": "start_feed", "main.2": "start_out", "lamp.1": "backup_feed", "lamp.2": "backup_out"}


def test_an_edit_to_what_goes_along_is_told_where_it_takes_part() -> None:
    """The lamp's switch closes in D now: each answer that it takes part in changes, for safety to look at, and names it as the reason; what
    is said of the other two is as it was."""
    schemas = load_schemas(None)
    its = [{"pins": ["main.1", "main.2"], "closed": ["P", "N"]}, {"pins": ["lamp.1", "lamp.2"], "closed": ["R"]}]

    def book(how: str, closed: list[str], apart: bool) -> dict[str, bytes]:
        link = {"superseded_by": [{"number": "B-2", "needs": [{"part": "C-3"}]}]} if how == "link" else {}
        along = {"goes_with": {"goes_with": ["C-3"]}, "needs": {"needs": [{"part": "C-3"}]}}.get(how, {})
        whole = making.part("A-1", connector=None, connectors={"main": "c", "lamp": "d"}, pins=TWO_PLUGS, contacts=its, **link)
        start = {"pins": {"1": "start_feed", "2": "start_out"}, "contacts": [{"pins": ["1", "2"], "closed": ["P", "N"]}]}
        lamp = {"pins": {"1": "backup_feed", "2": "backup_out"}, "contacts": [{"pins": ["1", "2"], "closed": closed}]}
        parts = [whole, making.part("B-2", **start, **along), making.part("C-3", connector="d", mount=None, **lamp)]
        plug = {"connectors": {"main": "c", "lamp": "d"}, "wires": {at: {"circuit": name} for at, name in TWO_PLUGS.items()}}
        families = [making.family("f", parts, plugs={"p": plug}, applications=[making.application("p", "A-1")])]
        if apart:  # the entry that is edited is that of what goes along alone
            families[0]["parts"] = parts[:2]
            families.append(making.family("g", parts[2:]))
        return making.texts(making.connector("c", 2), making.connector("d", 2, outline="round"), *families)

    for how, apart in itertools.product(("goes_with", "needs", "link"), (False, True)):
        states = two_states(Path(), book(how, ["R"], apart).items(), book(how, ["R", "D"], apart).items(), schemas, schemas)
        found = as_data(impact(states, "base", "0", [], []), dict.fromkeys(("switch", "connector", "kit"), str))
        (told,) = [one for one in found["verdicts"] if one["number"] == "B-2"]
        assert (told["old"]["verdict"], told["new"]["verdict"]) == ("with_parts", "no"), how
        assert any("C-3" in text for text in told["safety"]), (how, apart, told["safety"])
