"""What the worlds of :mod:`tests.fitting.worlds` get beside switches and plugs: powered outputs with their supplies, diodes, terminals and
the wires in them, designs under one number, conditions, and wires that some vehicles lack; and what is so of these.

Like all of the reckoning it shares no code with the engine.
"""

from __future__ import annotations

import copy
import itertools
import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

import networkx as nx

from tests.fitting import reckoning
from tests.fitting.reckoning import CASE

Node = dict[str, Any]

CAVITIES = tuple("12345678")
SUPPLY, OUTPUT = "7", "8"
CHANGE = "2009-01"
"""When a design changed; the months before and after are all that a vehicle's can be."""


# Worlds --------------------------------------------------------------------------------------------------------------------


def electrify(rng: random.Random, entries: list[Node]) -> None:
    """Supplies, outputs, diodes, sizes of wires and terminals put into a world whose cavities have no names yet."""
    families = [one for one in entries if one["kind"] == "switch"]
    base = _signal(rng, ())
    powered, diode, plated = rng.random() < 0.6, rng.random() < 0.3, rng.random() < 0.2
    for one in entries:
        if one["kind"] == "kit":
            one["terminal"] = {"wire_mm2": [0.35, rng.choice([1, 1.5, 2.5])], "wires": rng.choice([1, 2])}
            if rng.random() < 0.3:
                one["terminals"] = {rng.choice(CAVITIES[:4]): {"wire_mm2": [0.35, 0.75]}}
            if rng.random() < 0.3:
                one["from"] = ["c", "d"]
            if plated:
                one["terminal"]["plating"] = rng.choice(["tin", "gold"])
        elif one["kind"] == "connector" and one["id"] == "d" and rng.random() < 0.15:
            one["terminals"] = {"3": {"width_mm": rng.choice([2.8, 6.3])}}
    for family in families:
        plug = family["plugs"]["p"]
        for part in family["parts"]:
            used = {end for contact in part["contacts"] for end in contact["pins"]} | set(part["pins"])
            if powered and not used & {SUPPLY, OUTPUT} and rng.random() < 0.9:
                part["pins"] |= {SUPPLY: "supply", OUTPUT: "range_signal_2"}
                signal = copy.deepcopy(base) if rng.random() < 0.75 else _signal(rng, ())
                if signal["kind"] != "serial":
                    signal["values"] = {position: round(0.5 + at / 2, 1) for at, position in enumerate(family["positions"])}
                part["signals"] = [signal]
            closing = [one for one in part["contacts"] if "closed" in one]
            if diode and closing:
                rng.choice(closing[:2])["one_way"] = rng.random() < 0.85
        if powered and family["parts"][0].get("signals"):
            for cavity in (SUPPLY, OUTPUT):
                if rng.random() < 0.9:
                    plug["wires"][cavity] = {"circuit": family["parts"][0]["pins"][cavity]}
        for cavity, wire in plug["wires"].items():
            wire["size_mm2"] = rng.choice([0.5, 0.5, 0.75, 1.5])
            if cavity == SUPPLY and family["parts"][0].get("signals"):
                wire["gives_volts"] = rng.choice([12, [11, 15], [4.9, 5.1]])
        if rng.random() < 0.15:
            cavity = rng.choice(list(plug["wires"]))
            plug["wires"][cavity] = [plug["wires"][cavity], {**plug["wires"][cavity], "size_mm2": 0.5}]
        if plated:
            own = plug["plating"] = rng.choice(["tin", "gold"])
            for part in family["parts"]:
                part["plating"] = own if rng.random() < 0.7 else rng.choice(["tin", "gold", "silver"])


def _signal(rng: random.Random, lever: Sequence[str]) -> Node:
    made: Node = {"pin": OUTPUT, "supply": SUPPLY, "ground": CASE, "kind": rng.choice(["serial", "volts"])}
    made["supply_volts"] = rng.choice([5, 12, [8, 18], [4.5, 5.5]])
    if made["kind"] == "serial":
        return {**made, "protocol": rng.choice(["house", "other"])}
    made["values"] = {position: round(0.5 + at / 2, 1) for at, position in enumerate(lever)}
    return {**made, "tolerance": 0.1, "ratiometric": rng.choice([True, False]), "output": rng.choice(["push_pull", "open_low"])}


def condition(rng: random.Random, entries: list[Node]) -> None:
    """Designs that changed, a successor for some vehicles only, and wires that some of them lack, put into a world."""
    for family in entries:
        if family["kind"] != "switch":
            continue
        for part in rng.sample(family["parts"], 2):
            closing = [at for at, one in enumerate(part["contacts"]) if "closed" in one]
            if not closing:
                continue
            contacts = copy.deepcopy(part["contacts"])
            if rng.random() < 0.7:
                contact = contacts[rng.choice(closing)]
                contact["closed"] = sorted(set(contact["closed"]) ^ {rng.choice(family["positions"])})
            part["revisions"] = [{"when": {"built": {"from": CHANGE}}, "contacts": contacts}]
        if rng.random() < 0.5:
            first, other = family["parts"][0], rng.choice(family["parts"][1:])
            first.setdefault("superseded_by", []).append({"number": other["number"], "when": {"steering": "left"}})
        for one in family["applications"]:
            known = rng.choice([{}, {"built": {"to": "2008-12"}}, {"built": {"from": CHANGE}}]) | rng.choice(
                [{}, {"steering": "left"}, {"steering": "right"}]
            )
            if known:
                one["when"] = known
            spare = [cavity for cavity in family["plugs"]["p"]["wires"] if not cavity.endswith((SUPPLY, OUTPUT, "aux.3", "aux.4"))]
            if len(spare) > 1 and rng.random() < 0.2:
                one["optional_cavities"] = [rng.choice(spare)]


# What is so ----------------------------------------------------------------------------------------------------------------


class Case(NamedTuple):
    """One of the vehicles that may be meant with the part in hand: the design of either, the plug with the wires that are there, and
    whether the maker says that the one takes the other's place on it."""

    original: Node
    candidate: Node
    plug: Node
    allowed: bool


def cases(family: Node, original: Node, part: Node) -> Iterator[Case]:
    """Every one of them."""
    used = next(one for one in family["applications"] if one["came_with"] == original["number"])
    known = used.get("when", {})
    built = known.get("built")
    olds = [original, *({**original, **one} for one in original.get("revisions", ()))]
    if len(olds) > 1 and built is not None:
        olds = [olds[1]] if "from" in built else [olds[0]]
    news = [part, *({**part, **one} for one in part.get("revisions", ()))]
    links = [one for one in original.get("superseded_by", ()) if one["number"] == part["number"]]
    sides = [known["steering"]] if "steering" in known else ["left", "right"]
    allowed = {side == links[0]["when"]["steering"] for side in sides} if links and all("when" in one for one in links) else {True}
    plug = family["plugs"]["p"]
    plugs = [plug]
    if used.get("optional_cavities"):
        wires = {cavity: about for cavity, about in plug["wires"].items() if cavity not in used["optional_cavities"]}
        less = {**plug, "wires": wires}
        if "reads" in less and not set(less["reads"]["pins"]) <= set(wires):
            del less["reads"]
        plugs.append(less)
    yield from itertools.starmap(Case, itertools.product(olds, news, plugs, allowed))


def wires_in(stated: Node | list[Node]) -> list[Node]:
    """The wires of one cavity."""
    return stated if isinstance(stated, list) else [stated]


def conducts(part: Node, position: str, pin_of: Mapping[str, str]) -> set[tuple[str, str]]:
    """From which terminal to which current gets without a resistor on the way."""
    joins, _, diodes = reckoning.with_diodes(part, position)
    graph = nx.DiGraph([*joins, *((b, a) for a, b in joins), *diodes])
    graph.add_nodes_from(pin_of.values())
    return {(a, b) for a, b in itertools.permutations(pin_of, 2) if nx.has_path(graph, pin_of[a], pin_of[b])}


def _window(volts: float | list[float]) -> tuple[float, float]:
    """What electronics work with; made for one voltage, a tenth up and down."""
    return (volts[0], volts[1]) if isinstance(volts, list) else (volts * 0.9, volts * 1.1)


def works_with(made_for: float | list[float], given: float | list[float]) -> bool:
    """Whether electronics work with all that a vehicle gives."""
    low, high = given if isinstance(given, list) else (given, given)
    least, most = _window(made_for)
    return least - 1e-9 <= low and high <= most + 1e-9


def sends_the_same(
    original: Node, candidate: Node, place: Mapping[str, str], wires: Mapping[str, Any], lever: Sequence[str]
) -> bool | None:
    """Whether the powered outputs on the wires are the same and fed by what they are made for; ``None`` where nobody can tell."""
    unsure = False
    one_of = {one["pin"]: one for one in original.get("signals", ())}
    other_of = {one["pin"]: one for one in candidate.get("signals", ())}
    for wire, pin in place.items():
        one, other = one_of.get(wire), other_of.get(pin)
        feeds = [any(each["supply"] == at for each in side.values()) for side, at in ((one_of, wire), (other_of, pin))]
        given = next((each["gives_volts"] for each in wires_in(wires[wire]) if "gives_volts" in each), None)
        if bool(one) != bool(other) or feeds[0] != feeds[1]:
            return False
        if feeds[1] and given is not None and not all(works_with(each["supply_volts"], given) for each in other_of.values()):
            return False
        if not one or not other:
            continue
        if any(one.get(key) != other.get(key) for key in ("kind", "protocol", "output", "ratiometric")):
            return False
        fed = [at for at, met in place.items() if met == other["supply"]]
        if not fed or not any("gives_volts" in each for each in wires_in(wires[fed[0]])):
            own, its = _window(one["supply_volts"]), _window(other["supply_volts"])
            if own[1] < its[0] or its[1] < own[0]:
                return False
            unsure = unsure or not (its[0] - 1e-9 <= own[0] and own[1] <= its[1] + 1e-9)
        supplies = one["supply_volts"], other["supply_volts"]
        share = supplies[0] / supplies[1] if one.get("ratiometric") and not any(isinstance(each, list) for each in supplies) else 1
        for position in lever:
            a, b = (each.get("values", {}).get(position) for each in (one, other))
            if (a is None) != (b is None) or (a is not None and abs(a - b * share) > one["tolerance"] + 1e-9):
                return False
    return None if unsure else True


def bag_takes(kit: Node, wires: Mapping[str, Any], cavities: Mapping[str, Sequence[str]]) -> bool:
    """Whether the terminals of a kit are made for the wires that go into their cavities, each into one or more."""
    for wire, cavity in ((wire, cavity) for wire, into in cavities.items() for cavity in into):
        made = {**kit.get("terminal", {}), **kit.get("terminals", {}).get(cavity, {})}
        here = wires_in(wires[wire])
        if "wire_mm2" not in made:
            continue
        least, most = made["wire_mm2"]
        if not least <= sum(one["size_mm2"] for one in here) <= most or len(here) > made["wires"]:
            return False
    return True


def plated_alike(plug: str | None, part: str | None) -> bool | None:
    """Tin on tin, or noble metal on noble; ``None`` where one of the two is not in the world."""
    if plug is None and part is None:
        return True
    return None if plug is None or part is None else (plug == "tin") == (part == "tin")


def contradicts_itself(family: Node, original: Node) -> bool:
    """Whether the vehicle feeds its own part by what that is not made for."""
    wires = family["plugs"]["p"]["wires"]
    fed = [one for signal in original.get("signals", ()) for one in wires_in(wires.get(signal["supply"], {})) if "gives_volts" in one]
    return any(not works_with(signal["supply_volts"], one["gives_volts"]) for signal in original.get("signals", ()) for one in fed)


def left_out_of_wires(wires: Mapping[str, Any], gone: Callable[[], bool]) -> None:
    """What somebody who leaves facts out does not say of a plug's wires, in place."""
    for about in wires.values():
        for wire in wires_in(about):
            for key in ("circuit", *(("gives_volts",) if "gives_volts" in wire else ())):
                if gone():
                    del wire[key]


def left_out_of_part(part: Node, gone: Callable[[], bool]) -> None:
    """The same of a part's outputs, its plating and its designs.

    What neither of two parts states of an output is asked only of serial data; of plating only what one side lacks.
    """
    for signal in part.get("signals", ()):
        serial = signal["kind"] == "serial"
        for key in ("protocol", "kind", "supply", "ground", "values", *(("supply_volts",) if serial else ())):
            if gone():
                signal.pop(key, None)
    if gone():
        part.pop("plating", None)
    for revision in part.get("revisions", ()):
        for contact in revision["contacts"]:
            if gone():
                contact.pop("closed", None)
