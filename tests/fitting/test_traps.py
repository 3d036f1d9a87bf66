"""Small books written to trick it: each has a part that must not go on, and was told to go on when the guard was narrower.

Two parts that agree in everything are the bait; each trap changes one thing about the world. The first test holds that the bait itself goes
on, or no trap would prove anything.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Iterator, Mapping
from itertools import chain
from typing import Any

import pytest

from rangebook.book.book import Book
from rangebook.fitting.judge import judge
from rangebook.fitting.seats import find_seats
from rangebook.fitting.verdict import Verdict
from tests import making

Node = dict[str, Any]
Trap = Callable[[Node], None]

LEVER = ["P", "R", "N", "D"]
TERMINAL = {"style": "blade", "width_mm": 2.8, "on_switch": "male"}


def bait() -> Node:
    """Everything that a trap may change: the parts A-1 (which the vehicle came with) and B-2, mounts, connectors, a kit, the plug."""
    part: Node = {
        "connector": "c",
        "mount": "boss",
        "pins": {
            "1": "start_feed",
            "2": "start_out",
            "3": "backup_feed",
            "4": "backup_out",
            "5": "range_signal",
            "6": "range_return",
            "7": "ground",
        },
        "contacts": [
            {"pins": ["1", "2"], "closed": ["P", "N"]},
            {"pins": ["3", "4"], "closed": ["R"]},
            {"pins": ["5", "6"], "ohms": {"P": 4300, "R": 2000, "N": 1100, "D": 620}, "tolerance_percent": 5},
            {"pins": ["7", "case"], "closed": [*LEVER]},
        ],
    }
    mount: Node = {
        "shaft": {"shape": "double-flat", "across_mm": 9.5},
        "bolts": [{"at_mm": 38, "at_deg": at, "bolt_mm": 6, "hole_mm": 6.6, "slot_deg": 10, "spacer_mm": 0} for at in (0, 120, 240)],
        "hub": {"position": "N", "at_deg": 35, "steps_deg": [18, 16, 16]},
    }
    housing: Node = {
        "kind": "connector",
        "outline": "oval",
        "rows": [["1", "2", "3", "4"], ["5", "6", "7", "8"]],
        "terminal": TERMINAL,
        "sealed": "no",
    }
    # Through text, so that no two of them share a list.
    return json.loads(
        json.dumps(
            {
                "original": {"number": "A-1001", **part},
                "candidate": {"number": "B-2002", **part},
                "mounts": {"boss": mount, "other": mount},
                "c": {**housing, "id": "c", "title": "c"},
                "d": {**housing, "id": "d", "title": "d", "mates": ["c"]},
                "kit": {
                    "kind": "kit",
                    "id": "k",
                    "number": "K-100",
                    "title": "k",
                    "from": "c",
                    "to": "e",
                    "moves": {one: one for one in "12345678"},
                },
                "e": {**housing, "id": "e", "title": "e"},
                "positions": [*LEVER],
                "wires": {pin: {"circuit": circuit} for pin, circuit in part["pins"].items()},
                "plug": {"connector": "c"},
                "application": {},
            }
        )
    )


def book_of(world: Node) -> Book:
    """The book of a world."""
    family = making.family(
        "f",
        [world["original"], world["candidate"]],
        positions=world["positions"],
        mounts=world["mounts"],
        plugs={"p": {**world["plug"], "wires": world["wires"]}},
        applications=[making.application("p", "A-1001", **world["application"])],
    )
    return making.book(world["c"], world["d"], world["e"], world["kit"], family)


def verdict(world: Node) -> Verdict:
    """What the book of a world says of B-2002 in the place of A-1001."""
    made = book_of(world)
    (seat,) = find_seats(made)
    return judge(made, seat, next(part for part in made.parts if part.number == "B-2002"))


def both(world: Node) -> tuple[Node, Node]:
    return world["original"], world["candidate"]


def more(*contacts: Node) -> Trap:
    """The same contacts more in both parts, so that they still do the same."""

    def spring(world: Node) -> None:
        for part in both(world):
            part["contacts"] += copy.deepcopy(contacts)

    return spring


def elsewhere(**changed: Any) -> Trap:
    """The candidate on a mount of its own, which differs from the vehicle's in what is named; ``None`` leaves a fact out."""

    def spring(world: Node) -> None:
        world["candidate"]["mount"] = "other"
        for key, value in changed.items():
            world["mounts"]["other"].pop(key)
            if value is not None:
                world["mounts"]["other"][key] = value

    return spring


def bolts(**changed: Any) -> Trap:
    """The candidate on a mount of its own, each bolt of which differs in what is named."""

    def spring(world: Node) -> None:
        world["candidate"]["mount"] = "other"
        for bolt in world["mounts"]["other"]["bolts"]:
            for key, value in changed.items():
                bolt.pop(key)
                if value is not None:
                    bolt[key] = value

    return spring


def housed(**changed: Any) -> Trap:
    """The candidate in a housing that is said to mate, and differs in what is named."""

    def spring(world: Node) -> None:
        world["candidate"]["connector"] = "d"
        for key, value in changed.items():
            world["d"].pop(key)
            if value is not None:
                world["d"][key] = value

    return spring


def wires(**changed: Any) -> Trap:
    def spring(world: Node) -> None:
        for wire in world["wires"].values():
            wire.update(changed)

    return spring


def of_paths() -> Iterator[tuple[str, Trap]]:
    """The starter's and the backup lamps' outputs."""
    for where, names in {
        "ground": "7",
        "the housing": "case",
        "the lamps' feed": "3",
        "the lamps": "4",
        "the signal": "5",
        "signal ground": "6",
    }.items():
        yield f"the starter's output on {where} in D", more({"pins": ["2", names], "closed": ["D"]})
        leak = {"P": "open", "R": 220000, "N": "open", "D": "open"}
        yield f"the starter's output leaks to {where} in R", more({"pins": ["2", names], "ohms": leak})
        if names != "4":
            yield f"the lamps' output on {where} in D", more({"pins": ["4", names], "closed": ["D"]})
    yield "the starter's feed reaches its output in D", more({"pins": ["1", "2"], "closed": ["P", "N", "D"]})
    yield "a contact of the starter that nobody has metered", more({"pins": ["2", "7"]})
    yield "a contact to the housing that was metered in two positions", more({"pins": ["2", "case"], "ohms": {"P": "open", "N": "open"}})
    yield "by way of a pin without a wire", more({"pins": ["2", "8"], "closed": [*LEVER]}, {"pins": ["8", "7"], "closed": ["D"]})
    yield (
        "by way of two resistors in a row",
        more({"pins": ["2", "8"], "ohms": dict.fromkeys(LEVER, 1000)}, {"pins": ["8", "3"], "ohms": dict.fromkeys(LEVER, 1000)}),
    )

    def park(world: Node) -> None:
        for part in both(world):
            part["pins"]["8"] = "park_neutral"
            part["contacts"].append({"pins": ["8", "case"], "closed": ["P", "N", "D"]})
        world["wires"]["8"] = {"circuit": "park_neutral"}

    yield "the module is told of P and N in D", park

    def only_the_wire_knows(world: Node) -> None:
        for part in both(world):
            part["pins"] |= {"2": "range_signal_2", "1": "range_signal_2"}
            part["contacts"][0]["closed"] = ["P", "N", "D"]

    yield "only the wire says that it works the starter", only_the_wire_knows

    def only_the_original_knows(world: Node) -> None:
        world["wires"] = {cavity: {} for cavity in world["wires"]}
        world["candidate"]["pins"] |= {"2": "range_signal_2"}
        for part in both(world):
            part["contacts"][0]["closed"] = ["P", "N", "D"]

    yield "only the original's pin says so", only_the_original_knows

    def only_the_candidate_knows(world: Node) -> None:
        world["wires"] = {cavity: {} for cavity in world["wires"]}
        world["original"]["pins"] |= {"2": "range_signal_2", "1": "range_signal_2"}
        for part in both(world):
            part["contacts"][0]["closed"] = ["P", "N", "D"]

    yield "only the candidate's pin says so", only_the_candidate_knows

    def nobody_knows(world: Node) -> None:
        world["wires"]["2"] = {}
        del world["original"]["pins"]["2"]
        del world["candidate"]["pins"]["2"]
        for part in both(world):
            part["contacts"] = part["contacts"][1:]

    yield "a wire of which nobody says what it is for", nobody_knows


def of_the_lever() -> Iterator[tuple[str, Trap]]:
    """What the lever is said to have."""

    def no_reverse(world: Node) -> None:
        world["application"]["lever"] = ["P", "N", "D"]

    yield "a lever without R", no_reverse

    def no_neutral(world: Node) -> None:
        world["application"]["lever"] = ["P", "R", "D"]

    yield "a lever without N", no_neutral

    def no_forward(world: Node) -> None:
        world["application"]["lever"] = ["P", "R", "N"]

    yield "a lever without a forward range", no_forward

    def no_park(world: Node) -> None:
        world["application"]["lever"] = ["R", "N", "D"]

    yield "a lever without the P that the gearbox has", no_park

    def a_detent_that_is_there(world: Node) -> None:
        world["positions"] = [*LEVER, "2"]
        for mount in world["mounts"].values():
            mount["hub"]["steps_deg"].append(16)
        for part in both(world):
            part["contacts"][0]["closed"] = ["P", "N", "2"]
            part["contacts"][2]["ohms"]["2"] = 330
            part["contacts"][3]["closed"].append("2")
        world["application"]["lever"] = [*LEVER]

    yield "it cranks in a detent that the lever is said to lack", a_detent_that_is_there


def of_the_hub() -> Iterator[tuple[str, Trap]]:
    """Where the hub stands."""
    yield (
        "bolts on a circle of three, and the hub between two of its turns",
        elsewhere(hub={"position": "N", "at_deg": 95, "steps_deg": [18, 16, 16]}),
    )
    yield "the lever goes the other way round", elsewhere(hub={"position": "N", "at_deg": 35, "steps_deg": [-18, -16, -16]})
    yield "a hub half a detent off", elsewhere(hub={"position": "N", "at_deg": 44, "steps_deg": [18, 16, 16]})
    yield "other steps", elsewhere(hub={"position": "N", "at_deg": 35, "steps_deg": [24, 22, 22]})
    yield "a hub of which nobody says where it stands", elsewhere(hub=None)
    yield "the same angle in another position", elsewhere(hub={"position": "R", "at_deg": 35, "steps_deg": [18, 16, 16]})

    def neither_hub(world: Node) -> None:
        elsewhere(hub=None)(world)
        del world["mounts"]["boss"]["hub"]

    yield "two hubs of which nobody says where they stand", neither_hub


def of_mounts() -> Iterator[tuple[str, Trap]]:
    """How it is bolted on."""
    yield "spacers that are not stated", bolts(spacer_mm=None)

    def no_spacer_on_either(world: Node) -> None:
        bolts(spacer_mm=None)(world)
        for bolt in world["mounts"]["boss"]["bolts"]:
            del bolt["spacer_mm"]

    yield "spacers that neither states", no_spacer_on_either
    yield "another spacer", bolts(spacer_mm=3)
    yield "holes wide enough for anything", bolts(hole_mm=12)
    yield "slots longer than from detent to detent", bolts(slot_deg=40)

    def one_ear_more(world: Node) -> None:
        world["candidate"]["mount"] = "other"
        world["mounts"]["other"]["bolts"].append({"at_mm": 50, "at_deg": 60, "bolt_mm": 6, "hole_mm": 6.6, "slot_deg": 10, "spacer_mm": 4})

    yield "an ear more, with a spacer", one_ear_more


def of_mating() -> Iterator[tuple[str, Trap]]:
    """How the plug goes on."""
    yield "a row the other way round", housed(rows=[["4", "3", "2", "1"], ["5", "6", "7", "8"]])
    yield "one row", housed(rows=[list("12345678")])
    yield "another outline", housed(outline="round")
    yield "narrower terminals", housed(terminal={**TERMINAL, "width_mm": 1.5})
    yield "terminals of the other sex", housed(terminal={**TERMINAL, "on_switch": "female"})
    yield "terminals of another style", housed(terminal={**TERMINAL, "style": "pin"})
    yield "sealed on unsealed", housed(sealed="yes")
    yield "terminals that nobody describes", housed(terminal=None)
    yield "a width that nobody measured", housed(terminal={"style": "blade", "on_switch": "male"})
    yield "a seal that nobody looked for", housed(sealed=None)

    def scant_map(world: Node) -> None:
        world["candidate"]["connector"] = "d"
        world["d"]["mates"] = [{"connector": "c", "cavities": dict(zip("123456", "123456", strict=True))}]

    yield "a map that leaves a wire out", scant_map

    def sealed_kit(world: Node) -> None:
        world["candidate"]["connector"] = "e"
        world["e"]["sealed"] = "yes"

    yield "a kit for a sealed plug of whose seals nothing is stated", sealed_kit


def of_electrics() -> Iterator[tuple[str, Trap]]:
    """Ladders, electronics, and what a contact is made for."""

    def reads(world: Node) -> None:
        world["plug"]["reads"] = {"pins": ["5", "6"], "pull_up_ohms": 1000, "volts": 5}

    def close_steps(world: Node) -> None:
        reads(world)
        for part in both(world):
            part["contacts"][2]["ohms"] = {"P": 1000, "R": 1040, "N": 1080, "D": 1120}

    yield "steps that tolerance blurs", close_steps

    def loose(world: Node) -> None:
        reads(world)
        world["candidate"]["contacts"][2]["tolerance_percent"] = 45

    yield "a candidate whose tolerance is wide", loose

    def powered(**changed: Any) -> Trap:
        def spring(world: Node) -> None:
            for part in both(world):
                part["contacts"] = [one for one in part["contacts"] if "5" not in one["pins"]]
                part["pins"] |= {"6": "supply", "8": "ground"}
                signal = {
                    "pin": "5",
                    "supply": "6",
                    "ground": "7",
                    "kind": "duty_percent",
                    "values": {"P": 10, "R": 20, "N": 30, "D": 40},
                    "tolerance": 2,
                }
                part["signals"] = [signal]
            world["wires"]["6"] = {"circuit": "supply"}
            world["candidate"]["signals"][0].update(changed)

        return spring

    yield "another supply", powered(supply_volts=5)
    yield "another carrier", powered(frequency_hz=100)

    def weak(world: Node) -> None:
        world["wires"]["2"]["carries_a"] = 12
        world["wires"]["1"]["carries_a"] = 12
        world["original"]["contacts"][0]["rated_a"] = 15
        world["candidate"]["contacts"][0]["rated_a"] = 0.5

    yield "a contact made for a signal in the solenoid's place", weak


TRAPS: Mapping[str, Trap] = dict(chain(of_paths(), of_the_lever(), of_the_hub(), of_mounts(), of_mating(), of_electrics()))


def test_the_bait_itself_goes_on() -> None:
    assert verdict(bait()).goes_on


@pytest.mark.parametrize("how", ["another mount", "turned by one of three bolts", "a mate", "a kit", "read by a module"])
def test_and_so_it_does_where_a_trap_might_be_and_is_none(how: str) -> None:
    world = bait()
    if how == "another mount":
        world["candidate"]["mount"] = "other"
    elif how == "turned by one of three bolts":
        elsewhere(hub={"position": "N", "at_deg": 155, "steps_deg": [18, 16, 16]})(world)
    elif how == "a mate":
        world["candidate"]["connector"] = "d"
    elif how == "a kit":
        world["candidate"]["connector"] = "e"
    else:
        world["plug"]["reads"] = {"pins": ["5", "6"], "pull_up_ohms": 1000, "volts": 5}
    assert verdict(world).goes_on, verdict(world)


@pytest.mark.parametrize("name", TRAPS)
def test_nobody_is_told_to_fit_it(name: str) -> None:
    world = bait()
    TRAPS[name](world)
    found = verdict(world)
    assert not found.goes_on, found
    assert found.reasons
