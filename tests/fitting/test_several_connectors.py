"""Several connectors on one part, several plugs on one vehicle: each goes on one of its own, and all wires see one network.

What the trade knows of it (no plug may be left hanging; two that are alike get swapped) is common practice, no source.
"""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from rangebook.desk.fit import as_data, fit
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.verdict import Verdict
from tests.making import MOUNT, application, book, connector, family, part, plug

PINS = {"main.1": "start_feed", "main.2": "start_out", "lamp.1": "backup_feed", "lamp.2": "backup_out"}
CONTACTS = [{"pins": ["main.1", "main.2"], "closed": ["P", "N"]}, {"pins": ["lamp.1", "lamp.2"], "closed": ["R"]}]
BOTH = {"main": "c", "lamp": "d"}


def renamed(names: dict[str, str], facts: Any) -> Any:
    """Pins or contacts with the connectors' names replaced."""

    def other(label: str) -> str:
        name, dot, cavity = label.rpartition(".")
        return f"{names.get(name, name)}{dot if names.get(name, name) else ''}{cavity}"

    if isinstance(facts, dict):
        return {other(label): circuit for label, circuit in facts.items()}
    return [{**one, "pins": [other(end) for end in one["pins"]]} for one in facts]


def switch(number: str, connectors: Any = None, pins: Any = PINS, contacts: Any = CONTACTS, **more: Any) -> dict[str, Any]:
    """A part with several connectors, or with one where ``connectors`` is a text."""
    if isinstance(connectors, str):
        return part(number, connector=connectors, pins=pins, contacts=contacts, **more)
    return part(number, connector=None, connectors=connectors or BOTH, pins=pins, contacts=contacts, **more)


def plugs(connectors: Any = None, wires: Any = PINS) -> dict[str, Any]:
    made = plug(wires)
    del made["connector"]
    return {**made, "connectors": connectors or BOTH}


def judged(parts: list[dict[str, Any]], its: dict[str, Any], *others: dict[str, Any], **more: Any) -> dict[str, Verdict]:
    """The verdict of each part on the seat of the first."""
    facts = {"plugs": {"p": its}, "applications": [application("p", parts[0]["number"])], **more}
    made = book(connector("c", 6), connector("d", 2, outline="round"), *others, family("f", parts, **facts))
    fitter = Fitter(made)
    (seat,) = fitter.seats
    return {one.number: fitter.verdict(seat, one) for one in made.parts}


def codes(verdict: Verdict) -> list[str]:
    return [one.code for one in verdict.reasons]


def test_each_plug_goes_on_its_connector_and_all_wires_are_one_network() -> None:
    bad = [CONTACTS[0], {"pins": ["lamp.1", "lamp.2"], "closed": ["R", "D"]}]
    across = [*CONTACTS, {"pins": ["main.1", "lamp.1"], "closed": ["D"]}]
    found = judged([switch("A-1"), switch("A-2"), switch("A-3", contacts=bad), switch("A-4", contacts=across)], plugs())
    assert {number: one.kind.value for number, one in found.items()} == {"A-1": "straight", "A-2": "straight", "A-3": "no", "A-4": "no"}
    assert codes(found["A-2"]).count("mating.plug_goes_on") == 2


def test_a_plug_left_hanging_is_refused_and_says_which() -> None:
    """Leaving out the second connector was a wrong ``straight``."""
    one = switch("A-2", "c", {"1": "start_feed", "2": "start_out"}, [{"pins": ["1", "2"], "closed": ["P", "N"]}])
    found = judged([switch("A-1"), one], plugs())["A-2"]
    assert found.kind.value == "no"
    (reason,) = found.reasons
    assert reason.code == "mating.plug_left_hanging" and [named.name for named in reason.detail.plugs] == ["lamp"]


def test_a_plug_is_left_hanging_whatever_is_not_known_of_the_connectors() -> None:
    """Two plugs find no place on one connector, though that one is not in the book."""
    found = judged([switch("A-1"), switch("A-2", "zz", None, None)], plugs())["A-2"]
    assert found.kind.value == "no" and "mating.plug_left_hanging" in codes(found)


def test_a_connector_without_a_plug_is_told_and_not_refused() -> None:
    wires = {"1": "start_feed", "2": "start_out"}
    one = switch("A-1", "c", wires, [{"pins": ["1", "2"], "closed": ["P", "N"]}])
    found = judged([one, switch("A-2")], plug(wires))["A-2"]
    assert found.kind.value == "straight" and "mating.connector_unused" in codes(found)
    assert set(found.unused_pins) == {"lamp.1", "lamp.2"}


def test_names_are_the_entrys_own_and_do_not_decide() -> None:
    """The same part under other names, and one whose only plug has a name and whose part has none."""
    names = {"main": "big", "lamp": "small"}
    other = switch("A-2", {"small": "d", "big": "c"}, renamed(names, PINS), renamed(names, CONTACTS))
    assert judged([switch("A-1"), other], plugs())["A-2"].kind.value == "straight"
    wires = {"main.1": "start_feed", "main.2": "start_out"}
    contacts = [{"pins": ["main.1", "main.2"], "closed": ["P", "N"]}]
    bare = switch("A-2", "c", renamed({"main": ""}, wires), renamed({"main": ""}, contacts))
    found = judged([switch("A-1", {"main": "c"}, wires, contacts), bare], plugs({"main": "c"}, wires))
    assert {one.kind.value for one in found.values()} == {"straight"}
    back = judged([bare, switch("A-1", {"main": "c"}, wires, contacts)], plug({"1": "start_feed", "2": "start_out"}))
    assert {one.kind.value for one in back.values()} == {"straight"}


ALIKE = {"main": "d", "lamp": "d"}


def test_two_plugs_that_are_alike_and_matter_are_not_known_to_end_up_right() -> None:
    """Swapped, the starter's feed goes over the contact that closes in R: so it is not known, but of the part that it was built with."""
    other = {"main": "x", "lamp": "y"}
    strange = switch("A-3", {"x": "d", "y": "d"}, renamed(other, PINS), renamed(other, CONTACTS))
    found = judged([switch("A-1", ALIKE), switch("A-2", ALIKE), strange], plugs(ALIKE))
    assert {number: one.kind.value for number, one in found.items()} == {"A-1": "straight", "A-2": "unknown", "A-3": "unknown"}
    assert codes(found["A-2"]) == ["mating.plugs_not_told"] and found["A-2"].reasons[0].detail.unsafe
    assert "mating.plugs_alike" in codes(found["A-1"])


def test_two_plugs_that_are_alike_go_by_their_names_where_the_wrong_way_is_safe() -> None:
    """A ladder beside a lamp: swapped, nothing cranks and nothing lights that must not."""
    pins = {"main.1": "range_signal", "main.2": "range_return", "lamp.1": "dash_lamp_feed", "lamp.2": "dash_lamp"}
    pins = {"main.1": "range_signal", "main.2": "range_return", "lamp.1": "lamp_feed", "lamp.2": "display"}
    contacts = [
        {"pins": ["main.1", "main.2"], "ohms": {"P": 220, "R": 470, "N": 820, "D": 1500}, "tolerance_percent": 5},
        {"pins": ["lamp.1", "lamp.2"], "closed": ["D"]},
    ]
    found = judged([switch("A-1", ALIKE, pins, contacts), switch("A-2", ALIKE, pins, contacts)], plugs(ALIKE, pins))["A-2"]
    assert found.kind.value == "straight"
    (told,) = [one for one in found.reasons if one.code == "mating.plugs_alike"]
    assert told.detail.plugs == ("main", "lamp") and not told.detail.either
    swapped = {"main": "lamp", "lamp": "main"}
    crossed = switch("A-3", ALIKE, renamed(swapped, pins), renamed(swapped, contacts))
    assert judged([switch("A-1", ALIKE, pins, contacts), crossed], plugs(ALIKE, pins))["A-3"].kind.value == "unknown"


def test_two_plugs_that_do_the_same_go_either_way() -> None:
    pins = {"main.1": "lamp_feed", "main.2": "display", "lamp.1": "lamp_feed", "lamp.2": "display"}
    contacts = [{"pins": ["main.1", "main.2"], "closed": ["D"]}, {"pins": ["lamp.1", "lamp.2"], "closed": ["D"]}]
    found = judged([switch("A-1", ALIKE, pins, contacts), switch("A-2", ALIKE, pins, contacts)], plugs(ALIKE, pins))["A-2"]
    assert found.kind.value == "straight"
    assert next(one for one in found.reasons if one.code == "mating.plugs_alike").detail.either


def kit(name: str, old: str, new: str, count: int) -> dict[str, Any]:
    cavities = [str(at) for at in range(1, count + 1)]
    return {
        "kind": "kit",
        "id": name,
        "number": f"K-{name}",
        "title": name,
        "from": old,
        "to": new,
        "moves": dict(zip(cavities, cavities, strict=True)),
        "seals": [],
    }


def test_each_plug_has_its_kits_and_needs_add_up() -> None:
    one = switch("A-2", {"main": "e", "lamp": "g"})
    others = [connector("e", 6, outline="round"), connector("g", 2, outline="square"), kit("k", "c", "e", 6), kit("m", "d", "g", 2)]
    found = judged([switch("A-1"), one], plugs(), *others)["A-2"]
    assert found.kind.value == "with_parts" and [need.kit for need in found.needs] == ["k", "m"]
    half = judged([switch("A-1"), switch("A-2", {"main": "e", "lamp": "d"})], plugs(), *others)["A-2"]
    assert half.kind.value == "with_parts" and [need.kit for need in half.needs] == ["k"]
    lost = judged([switch("A-1"), one], plugs(), *others[:3])["A-2"]
    assert lost.kind.value == "no" and [named.name for named in lost.reasons[0].detail.plugs] == ["lamp"]


def test_wires_move_within_their_plug_only() -> None:
    crossed = {"main.2": "start_feed", "main.1": "start_out", "main.3": "ground"}
    pins = {"main.1": "start_feed", "main.3": "start_out", "lamp.1": "backup_feed", "lamp.2": "backup_out", "main.2": "not_connected"}
    contacts = [{"pins": ["main.1", "main.3"], "closed": ["P", "N"]}, CONTACTS[1]]
    found = judged([switch("A-1"), switch("A-2", None, pins, contacts)], plugs())["A-2"]
    assert crossed and found.kind.value == "rewire" and dict(found.moves) == {"main.2": "main.3"}
    swapped = {"main": "lamp", "lamp": "main"}
    beyond = switch("A-3", None, renamed(swapped, PINS), renamed(swapped, CONTACTS))
    assert judged([switch("A-1"), beyond], plugs())["A-3"].kind.value == "no"


TAILS = [(200, 120, "no"), (200, 200, "straight"), (120, 200, "straight"), (None, 120, "straight")]


@pytest.mark.parametrize(("had", "has", "kind"), TAILS)
def test_leads_that_are_too_short_are_refused_and_unsaid_ones_are_told(had: int | None, has: int, kind: str) -> None:
    def tailed(number: str, length: int | None) -> dict[str, Any]:
        return switch(number, {"main": "c", "lamp": {"connector": "d", "tail": {"length_mm": length}} if length else "d"})

    found = judged([tailed("A-1", had), tailed("A-2", has)], plugs())["A-2"]
    assert found.kind.value == kind
    assert ("mating.tail_compare" in codes(found)) == (had is None)


def test_one_connector_can_be_on_a_tail_too_and_bare_leads_take_no_plug() -> None:
    wires = {"1": "start_feed", "2": "start_out"}
    contacts = [{"pins": ["1", "2"], "closed": ["P", "N"]}]
    parts = [switch("A-1", "c", wires, contacts, tail={"length_mm": 200}), switch("A-2", "c", wires, contacts, tail={"length_mm": 150})]
    assert codes(judged(parts, plug(wires))["A-2"]) == ["mating.tail_too_short"]
    parts[1] = part("A-2", connector=None, pins=wires, contacts=contacts, tail={"ends": "bare"})
    assert codes(judged(parts, plug(wires))["A-2"]) == ["mating.bare_leads"]


def test_a_switch_inside_the_gearbox_is_no_switch_outside_it() -> None:
    found = judged([switch("A-1", inside="yes"), switch("A-2", inside="no"), switch("A-3")], plugs())
    assert found["A-2"].kind.value == "no" and codes(found["A-2"]) == ["mount.inside_differs"]
    assert found["A-3"].kind.value == "straight", "on the same mount of one family"


def test_on_another_mount_it_is_asked_whether_a_switch_sits_inside() -> None:
    for told in ("A-1", "A-2"):
        parts = [switch(one, mount=at, **({"inside": "yes"} if one == told else {})) for one, at in (("A-1", "boss"), ("A-2", "ear"))]
        found = judged(parts, plugs(), mounts={"boss": MOUNT, "ear": MOUNT})["A-2"]
        assert found.kind.value == "unknown" and codes(found) == ["mount.inside_not_stated"]


def test_a_plug_more_never_makes_a_verdict_better() -> None:
    """For each part with one connector or two, each wire inside or outside: with a further plug on the vehicle nothing gets better."""
    rank = ["straight", "with_parts", "rewire", "unknown", "no"]
    wires = {"main.1": "start_feed", "main.2": "start_out"}
    contacts = [CONTACTS[0]]
    more = {"lamp.1": "backup_feed", "lamp.2": "backup_out"}
    bad = [{"pins": ["main.1", "main.2"], "closed": ["P"]}]
    parts = [
        switch(f"A-{at}", connectors, {**wires, **(more if "lamp" in connectors else {})}, inside)
        for at, (connectors, inside) in enumerate(
            itertools.product([{"main": "c"}, BOTH, {"main": "c", "aux": "e"}, {"main": "zz"}], [contacts, CONTACTS, bad, None]), 2
        )
        if "lamp" in connectors or inside is not CONTACTS
    ]
    extra = connector("e", 2)
    few = judged([switch("A-1", {"main": "c"}, wires, contacts), *parts], plugs({"main": "c"}, wires), extra)
    many = judged([switch("A-1"), *parts], plugs(BOTH, {**wires, **more}), extra)
    for number in (one["number"] for one in parts):
        assert rank.index(many[number].kind.value) >= rank.index(few[number].kind.value), number


def test_the_answer_says_which_plug_goes_on_which_connector() -> None:
    facts = {"plugs": {"p": plugs()}, "applications": [application("p", "A-1")]}
    names = {"main": "big", "lamp": "small"}
    other = switch("A-2", {"big": "c", "small": "d"}, renamed(names, PINS), renamed(names, CONTACTS))
    made = book(connector("c", 6), connector("d", 2, outline="round"), family("f", [switch("A-1"), other], **facts))
    (seat,) = as_data(fit(Fitter(made), "A-1"))["seats"]
    assert seat["plug_now"]["connectors"] == BOTH
    assert {one["number"]: one["plugs"] for one in seat["candidates"]} == {"A-1": {"main": "main", "lamp": "lamp"}, "A-2": names}
