"""Random small worlds in which everything is true and known, the books that somebody might write of them, and what is so in the world.

A world is a set of entries in which every fact is stated. A book is the same with facts left out. A verdict that goes on must be right in
the world, whatever the book leaves out, and a ``no`` as well: so every left-out fact is tried with the values of many worlds. Nothing here
shares code with the engine; what is true is reckoned by scanning angles, by networkx and by numpy (:mod:`tests.fitting.reckoning`).

``python -m tests.fitting.worlds 700`` makes so many books of some 150 pairs each and prints what disagrees.
"""

from __future__ import annotations

import copy
import itertools
import json
import math
import random
import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any

import networkx as nx

from tests.fitting import reckoning
from tests.fitting import worlds_further as further
from tests.fitting import worlds_together as together
from tests.fitting.reckoning import CASE

Node = dict[str, Any]

CAVITIES = tuple("12345678")
LEVERS = (("P", "R", "N", "D"), ("P", "R", "N", "D", "2", "1"), ("P", "R", "N", "D", "L"))
LADDER = (220, 470, 820, 1500, 2700, 5600)
MAY = {"start_out": {"P", "N"}, "park_neutral": {"P", "N"}, "backup_out": {"R"}}
"""49 CFR 571.102 S3.1.3 and 571.108 Table I-a: where an output of the starter and of the backup lamps may be joined to anything."""

HUB_DEG = 2.0
SPACER_MM = 0.5
SHAFT_MM = 0.1


# Worlds --------------------------------------------------------------------------------------------------------------------


def world(rng: random.Random) -> list[Node]:
    """Connectors, perhaps a kit, and two families, with every fact stated."""
    terminal = {"style": "blade", "width_mm": 2.8, "on_switch": "male"}
    base = {"kind": "connector", "outline": "oval", "rows": [list("1234"), list("5678")], "terminal": terminal, "sealed": "no"}
    connectors = [{**copy.deepcopy(base), "id": "c", "title": "c"}, _mate(rng, base), {**copy.deepcopy(base), "id": "e", "title": "e"}]
    entries = [*connectors]
    if rng.random() < 0.5:
        order = list(CAVITIES)
        if rng.random() < 0.5:
            rng.shuffle(order)
        moves = dict(zip(CAVITIES, order, strict=True))
        entries.append(
            {"kind": "kit", "id": "k", "number": "K-100", "title": "k", "from": "c", "to": "e", "moves": moves, "seals": [], "blanks": 8}
        )
    lever = list(rng.choice(LEVERS))
    first = _family(rng, "f", "A", lever, None)
    entries += [first, _family(rng, "g", "B", lever if rng.random() < 0.8 else list(rng.choice(LEVERS)), first)]
    return entries


def split(rng: random.Random, entries: list[Node]) -> None:
    """Each part and plug of a world with its cavities 1 to 4 on one connector and 5 to 8 on another, in place: the first of the kind that
    it was of, the other of a kind of its own or of the same. Of each family the last parts have other names for them, or lack one."""
    alike = rng.random() < 0.4
    for one in entries:
        if one["kind"] == "connector":
            one["rows"] = [[label for label in row if label in "1234"] for row in one["rows"] if set(row) & set("1234")]
        elif one["kind"] == "kit":
            here = list(one["moves"])[:4]
            there = here[:]
            if rng.random() < 0.5:
                rng.shuffle(there)
            one["moves"] = dict(zip(here, there, strict=True))
    entries.append({**copy.deepcopy(entries[0]), "id": "x", "title": "x", "outline": "square"})
    for family in entries:
        if family["kind"] == "switch":
            for at, part in enumerate(family["parts"]):
                _split_part(rng, part, alike, other=at > 2)
            plug = family["plugs"]["p"]
            main = plug.pop("connector")
            plug["connectors"] = {"main": main, "aux": main if alike else "x"}
            plug["wires"] = {_split_label(label): about for label, about in plug["wires"].items()}
            if "reads" in plug:
                plug["reads"]["pins"] = [_split_label(label) for label in plug["reads"]["pins"]]


def _split_part(rng: random.Random, part: Node, alike: bool, other: bool) -> None:
    how = rng.randrange(6) if other else 0
    names = {1: {"main": "one", "aux": "two"}, 2: {"main": "aux", "aux": "main"}}.get(how, {"main": "main", "aux": "aux"})
    main = part.pop("connector")
    part["connectors"] = {names["main"]: main, names["aux"]: main if alike else "x"}
    if how == 3:
        part["connectors"]["spare"] = rng.choice(["c", "x"])

    def label(end: str) -> str:
        if end == CASE:
            return end
        name, cavity = _split_label(end).split(".")
        return f"{names[name]}.{cavity}"

    part["pins"] = {label(pin): circuit for pin, circuit in part["pins"].items()}
    for contact in part["contacts"]:
        contact["pins"] = [label(end) for end in contact["pins"]]
    for signal in part.get("signals", ()):
        signal |= {key: label(signal[key]) for key in ("pin", "supply", "ground")}
    if how == 4:  # one connector, without a name, and what was on the other one is gone
        part["connector"] = part.pop("connectors")["main"]
        part["pins"] = {pin.removeprefix("main."): circuit for pin, circuit in part["pins"].items() if pin.startswith("main.")}
        kept = [one for one in part["contacts"] if all(end == CASE or end.startswith("main.") for end in one["pins"])]
        part["contacts"] = [{**one, "pins": [end.removeprefix("main.") for end in one["pins"]]} for one in kept]
        part.pop("signals", None)


def _split_label(label: str) -> str:
    return f"main.{label}" if int(label) <= 4 else f"aux.{int(label) - 4}"


def _mate(rng: random.Random, base: Node) -> Node:
    """A connector that is said to mate with the first, in one of many ways truly so or not."""
    made = {**copy.deepcopy(base), "id": "d", "title": "d", "mates": ["c"]}
    how = rng.randrange(9)
    if how == 0:
        made["rows"] = [list("4321"), list("5678")]
    elif how == 1:
        made["outline"] = "round"
    elif how == 2:
        made["terminal"]["width_mm"] = 1.5
    elif how == 3:
        made["terminal"]["on_switch"] = "female"
    elif how == 4:
        made["sealed"] = "yes"
    elif how == 5:
        made["rows"] = [list("12345678")]
    return made


def _mount(rng: random.Random, steps: Sequence[float]) -> Node:
    radius = rng.choice([30, 36, 43])
    bolts = [
        {
            "at_mm": radius,
            "at_deg": at,
            "bolt_mm": 6,
            "hole_mm": 6.6,
            "slot_deg": rng.choice([0, 8, 12]),
            "spacer_mm": rng.choice([0, 0, 3]),
        }
        for at in rng.choice([(0, 150), (20, 200), (0, 120, 240)])
    ]
    hub = {"position": "N", "at_deg": rng.choice([35, 80]), "steps_deg": list(steps)}
    return {"shaft": {"shape": "double-flat", "across_mm": rng.choice([9.5, 9.5, 12])}, "bolts": bolts, "hub": hub}


def _like(rng: random.Random, mount: Node) -> Node:
    """The same, turned, mirrored, or changed in one thing."""
    made = copy.deepcopy(mount)
    how = rng.randrange(9)
    if how in (1, 2):  # the whole of it seen from another datum: still the same
        by = rng.choice([5, 30, 120])
        for bolt in made["bolts"]:
            bolt["at_deg"] = (bolt["at_deg"] + by) % 360
        made["hub"]["at_deg"] = (made["hub"]["at_deg"] + by) % 360
    elif how == 3:  # the bolts turned and the hub not
        by = rng.choice([1, 4, 9, 120])
        for bolt in made["bolts"]:
            bolt["at_deg"] = (bolt["at_deg"] + by) % 360
    elif how == 4:
        made["hub"]["steps_deg"] = [-step for step in made["hub"]["steps_deg"]]
    elif how == 5:
        made["bolts"][0]["spacer_mm"] = rng.choice([0, 3, 3.4])
    elif how == 6:
        made["hub"]["steps_deg"] = [step + rng.choice([0, 0.5, 4]) for step in made["hub"]["steps_deg"]]
    elif how == 7:
        made["bolts"].append({"at_mm": 50, "at_deg": 300, "bolt_mm": 6, "hole_mm": 6.6, "slot_deg": 0, "spacer_mm": rng.choice([0, 3])})
    return made


def _family(rng: random.Random, name: str, letter: str, lever: Sequence[str], like: Node | None) -> Node:
    steps = [18, 16, 16, 18, 18][: len(lever) - 1]
    if like is not None and len(like["positions"]) == len(lever):
        mounts = {"boss": _like(rng, like["mounts"]["boss"]), "ear": _like(rng, like["mounts"]["boss"])}
    else:
        mounts = {"boss": _mount(rng, steps)}
        mounts["ear"] = _like(rng, mounts["boss"])
    original = _part(rng, f"{letter}-1001", lever) if like is None else _changed(rng, like["parts"][0], f"{letter}-1001", lever)
    parts = [original, *(_changed(rng, original, f"{letter}-{1002 + index}", lever) for index in range(4))]
    wires = {}
    for cavity, circuit in original["pins"].items():
        if rng.random() < 0.85:
            wires[cavity] = {"circuit": circuit}
    wires = wires or {"1": {"circuit": original["pins"].get("1", "start_feed")}}
    plug: Node = {"connector": original["connector"], "wires": wires}
    if {"5", "6"} <= set(wires) and rng.random() < 0.5:
        plug["reads"] = {"pins": ["5", "6"], "pull_up_ohms": 1000, "volts": 5}
    return {
        "kind": "switch",
        "id": name,
        "title": name,
        "gearboxes": ["Tamblin Short"],
        "positions": list(lever),
        "mounts": mounts,
        "parts": parts,
        "plugs": {"p": plug},
        "applications": [
            {
                "vehicle": f"Corran {name} {index}",
                "years": "2007-2012",
                "gearbox": "Tamblin Short",
                "plug": "p",
                "came_with": part["number"],
            }
            for index, part in enumerate(parts[:3])
        ],
    }


def _part(rng: random.Random, number: str, lever: Sequence[str]) -> Node:
    pins = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out"}
    contacts: list[Node] = [{"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}]
    if rng.random() < 0.7:
        pins |= {"5": "range_signal", "6": "range_return"}
        contacts.append({"pins": ["5", "6"], "ohms": dict(zip(lever, LADDER, strict=False)), "tolerance_percent": 5})
    if rng.random() < 0.5:
        pins["7"] = "ground"
        contacts.append({"pins": ["7", CASE], "closed": list(lever)})
    if rng.random() < 0.3:
        pins["8"] = "park_neutral"
        contacts.append({"pins": ["8", CASE], "closed": ["P", "N"]})
    made = {"number": number, "connector": "c", "mount": "boss", "pins": pins, "contacts": contacts}
    if rng.random() < 0.3:
        _slip(rng, made, lever)
    return made


def _changed(rng: random.Random, part: Node, number: str, lever: Sequence[str]) -> Node:
    made = copy.deepcopy(part)
    made["number"] = number
    made["connector"] = rng.choices(["c", "d", "e"], [6, 2, 1])[0]
    made["mount"] = rng.choices(["boss", "ear"], [4, 1])[0]
    for contact in made["contacts"]:
        if "ohms" in contact:
            contact["ohms"] = {position: contact["ohms"].get(position, "open") for position in lever}
        else:
            contact["closed"] = (
                [position for position in contact["closed"] if position in lever] if len(contact["closed"]) < 4 else list(lever)
            )
    for _ in range(rng.choice([0, 0, 1, 1, 2])):
        _slip(rng, made, lever)
    return made


def _slip(rng: random.Random, part: Node, lever: Sequence[str]) -> None:
    """One thing that two switches that look alike may differ in."""
    contacts, pins = part["contacts"], part["pins"]
    how = rng.randrange(8)
    ends = [*pins, CASE]
    if how == 0:  # a path more, of any resistance
        a, b = rng.sample(ends, 2)
        if rng.random() < 0.5:
            contacts.append({"pins": [a, b], "closed": sorted(rng.sample(list(lever), rng.randint(1, 2)))})
        else:
            at = set(rng.sample(list(lever), rng.randint(1, len(lever))))
            contacts.append(
                {"pins": [a, b], "ohms": {position: 15000 if position in at else "open" for position in lever}, "tolerance_percent": 5}
            )
    elif how == 1:
        closing = [one for one in contacts if "closed" in one]
        for contact in rng.sample(closing, min(1, len(closing))):
            contact["closed"] = sorted(set(contact["closed"]) ^ {rng.choice(list(lever))})
    elif how == 2:
        for contact in contacts:
            if "ohms" in contact:
                factor = rng.choice([0.97, 1.02, 1.2])
                contact["ohms"] = {at: value if value == "open" else round(value * factor, 2) for at, value in contact["ohms"].items()}
                contact["tolerance_percent"] = rng.choice([1, 5, 10])
    elif how == 3:  # two pins change places
        a, b = rng.sample(CAVITIES, 2)
        swap = {a: b, b: a}
        part["pins"] = {swap.get(pin, pin): circuit for pin, circuit in pins.items()}
        for contact in contacts:
            contact["pins"] = [swap.get(end, end) for end in contact["pins"]]
    elif how == 4:  # an idle pin more
        free = [cavity for cavity in CAVITIES if cavity not in pins]
        if free:
            pins[free[0]] = "not_connected"
    elif how == 5:  # a pin under another name
        pins[rng.choice(list(pins))] = rng.choice(["start_out", "range_signal", "ground", "backup_out"])
    elif how == 6 and len(contacts) > 1:
        gone = contacts.pop(rng.randrange(len(contacts)))
        for end in gone["pins"]:
            if end != CASE and not any(end in one["pins"] for one in contacts):
                pins[end] = "not_connected"
    elif contacts:
        rng.choice(contacts)["pins"].reverse()


def add_twins(rng: random.Random, entries: list[Node]) -> None:
    """To each family two parts like its first, mostly in all but their numbers, in place: what is cut in two, or gets a second pin for the
    feed, shall now and then be right."""
    for family in entries:
        if family["kind"] == "switch":
            first = family["parts"][0]
            for at in range(2):
                twin = {**copy.deepcopy(first), "number": f"{first['number'][0]}-150{at}"}
                if rng.random() < 0.25:
                    _slip(rng, twin, family["positions"])
                family["parts"].append(twin)


# What the second version of the format says as well --------------------------------------------------------------------------


def notions(rng: random.Random, entries: Sequence[Node]) -> list[Node]:
    """A world with jumpers in some plugs, contacts that overlap into the next detent, a lever whose positions go by other names, and
    something said of where the engine cranks. Of plugs that are split each has jumpers of its own."""
    made = copy.deepcopy(list(entries))
    for one in made:
        if one["kind"] == "kit" and rng.random() < 0.5:
            one["loops"] = [rng.sample([end for cavity in one["moves"] for end in together.places(one, cavity)], 2)]
        if one["kind"] != "switch":
            continue
        plug = one["plugs"]["p"]
        for socket in plug.get("connectors") or {"": None}:
            if rng.random() < 0.5:
                cavities = [f"{socket}.{cavity}" for cavity in CAVITIES[:4]] if socket else CAVITIES
                plug.setdefault("loops", []).append(rng.sample(cavities, rng.choice([2, 2, 3])))
        lever = one["positions"]
        if rng.random() < 0.5:
            rng.choice([plug, *one["applications"]])["cranks"] = _cranks(rng, lever)
        if rng.random() < 0.5:
            contact = rng.choice([each for part in one["parts"] for each in part["contacts"] if each.get("closed")])
            at = lever.index(rng.choice(contact["closed"]))
            near = [lever[place] for place in (at - 1, at + 1) if 0 <= place < len(lever) and lever[place] not in contact["closed"]]
            if near:
                for part in one["parts"]:
                    for each in part["contacts"]:
                        if each["pins"] == contact["pins"] and each.get("closed") == contact["closed"] and rng.random() < 0.7:
                            each["overlaps"] = [near[0]]
    if rng.random() < 0.5:
        _called_otherwise(rng, [one for one in made if one["kind"] == "switch"][-1])
    return made


def _cranks(rng: random.Random, lever: Sequence[str]) -> Node:
    """Whatever is said, true or not: a start path in gear is no more right for it, and nothing that is right is wrong for it."""
    said: Node = {"in": rng.choice([["P"], ["N"], ["P", "N"], ["P", "N", "D"], ["P", "R"], list(lever)])}
    said |= rng.choice([{}, {"by": "module"}, {"by": "switch"}, {"by": "module", "side": "ground"}])
    return said | rng.choice([{}, {"sources": [{"kind": "service-manual"}]}])


def _called_otherwise(rng: random.Random, family: Node) -> None:
    names = {"P": "P", "R": "R1", "N": "0", "D": "G", "2": "S", "1": "L1", "L": "L"}
    names = {here: there for here, there in names.items() if here in family["positions"] and here != there and rng.random() < 0.6}
    if names:
        _rename(family, names)
        family["means"] = {there: here for here, there in names.items()}


def _rename(family: Node, names: Mapping[str, str]) -> None:
    family["positions"] = [names.get(at, at) for at in family["positions"]]
    for mount in family["mounts"].values():
        mount["hub"]["position"] = names.get(mount["hub"]["position"], mount["hub"]["position"])
    for said in (*family["plugs"].values(), *family["applications"]):
        if "cranks" in said:
            said["cranks"]["in"] = [names.get(at, at) for at in said["cranks"]["in"]]
    for part in family["parts"]:
        for contact in [*part["contacts"], *(one for design in part.get("revisions", ()) for one in design["contacts"])]:
            for key in ("closed", "overlaps"):
                if key in contact:
                    contact[key] = [names.get(at, at) for at in contact[key]]
            if "ohms" in contact:
                contact["ohms"] = {names.get(at, at): ohms for at, ohms in contact["ohms"].items()}


def by_meaning(entries: Sequence[Node]) -> list[Node]:
    """The same world with every position by what it means."""
    made = copy.deepcopy(list(entries))
    for one in made:
        if "means" in one:
            _rename(one, one.pop("means"))
    return made


def with_jumpers(part: Node, loops: Sequence[Sequence[str]], positions: Sequence[str]) -> Node:
    """A part with the jumpers of the plug that sits on it soldered across its pins; where it has none a jumper ends in a stub."""
    stubs = {end: "not_connected" for loop in loops for end in loop if end not in part["pins"]}
    wires = [{"pins": [loop[0], other], "closed": list(positions)} for loop in loops for other in loop[1:]]
    return {**part, "pins": {**part["pins"], **stubs}, "contacts": [*part["contacts"], *wires]}


def jumpers_on(plug: Node, legs: Legs) -> list[list[str]]:
    """The jumpers that come to lie on a part, by its cavities: those of a kit's plug are in the place of the vehicle's, beside them where
    the old plug stays behind an adapter lead."""
    here = []
    for name, (housing, kit) in legs.items():
        own = [[end.rpartition(".")[2] for end in loop] for loop in plug.get("loops", ()) if loop[0].rpartition(".")[0] == name]
        loops = own
        if kit:
            led = [[to[0] for end in loop if (to := together.places(kit, end))] for loop in own if kit.get("joins") == "plug_in"]
            loops = [*(loop for loop in led if len(loop) > 1), *kit.get("loops", ())]
        here += [[f"{housing}.{end}".lstrip(".") for end in loop] for loop in loops]
    return here


def before_it_opens(part: Node) -> Node:
    """A part whose contacts are open where they overlap into another detent."""
    return {**part, "contacts": [{key: value for key, value in one.items() if key != "overlaps"} for one in part["contacts"]]}


# Books ---------------------------------------------------------------------------------------------------------------------


def book_of(rng: random.Random, entries: Sequence[Node], share: float) -> list[Node]:
    """What somebody writes of a world, who leaves out each fact with the probability ``share``."""
    made = copy.deepcopy(list(entries))
    gone = lambda: rng.random() < share  # noqa: E731
    for one in made:
        if one["kind"] == "connector":
            for key in ("sealed", "terminal"):
                if gone():
                    del one[key]
            for key in ("style", "width_mm", "on_switch"):
                if "terminal" in one and gone():
                    del one["terminal"][key]
        elif one["kind"] == "switch":
            for mount in one["mounts"].values():
                for key in ("hub", "shaft"):
                    if gone():
                        del mount[key]
                for bolt in mount["bolts"]:
                    for key in ("spacer_mm", "bolt_mm", "hole_mm"):
                        if gone():
                            del bolt[key]
            for part in one["parts"]:
                for contact in part["contacts"]:
                    if gone():
                        contact.pop("closed", None)
                    if "ohms" in contact:
                        contact["ohms"] = {at: value for at, value in contact["ohms"].items() if not gone()}
                        if not contact["ohms"]:
                            del contact["ohms"]
                for key in ("mount", "connector", "contacts", "pins"):
                    if rng.random() < share / 3:
                        part.pop(key if key in part else "connectors", None)
                further.left_out_of_part(part, gone)
            further.left_out_of_wires(one["plugs"]["p"]["wires"], gone)
        elif "terminal" in one and one["terminal"].get("wires") != 1 and gone():
            # A terminal for a single wire says so; of one that does not the copper decides, as the trade reads its sheet.
            one["terminal"].pop("wires", None)
    return made


# What is so ----------------------------------------------------------------------------------------------------------------


def bolts_on(seat: tuple[Node, str], candidate: tuple[Node, str], lever: Sequence[str]) -> bool | None:
    """Whether a candidate goes on a mount and its hub stands right; ``None`` where it may foul, which nobody can reckon.

    Each is a family and the name of its mount. Angles are scanned in steps of a twentieth of a degree.
    """
    if seat[0]["id"] == candidate[0]["id"] and seat[1] == candidate[1]:
        return True
    sides = [{"mount": family["mounts"][name], "positions": family["positions"]} for family, name in (seat, candidate)]
    return _stands(json.dumps([*sides, list(lever)]))


@lru_cache(maxsize=4096)
def _stands(asked: str) -> bool | None:
    """The same of two mounts, each with its family's positions, and a lever, as JSON: scanning takes its time."""
    *sides, lever = json.loads(asked)
    one, other = (side["mount"] for side in sides)
    if one["shaft"]["shape"] != other["shaft"]["shape"] or abs(one["shaft"]["across_mm"] - other["shaft"]["across_mm"]) > SHAFT_MM:
        return False
    hubs = [_hub(side, side["mount"]) for side in sides]
    if not set(lever) <= set(hubs[1]):
        return False
    best = False
    for holes in itertools.permutations(other["bolts"], len(one["bolts"])):
        if any(abs(bolt["spacer_mm"] - hole["spacer_mm"]) > SPACER_MM + 1e-9 for bolt, hole in zip(one["bolts"], holes, strict=True)):
            continue
        for step in range(7200):
            turn = step / 20
            if all(_takes(bolt, hole, turn) for bolt, hole in zip(one["bolts"], holes, strict=True)) and all(
                abs(_turned(hubs[0][position] - hubs[1][position] - turn)) <= HUB_DEG + 1e-9 for position in lever
            ):
                best = True
                break
        if best:
            spare = [hole for hole in other["bolts"] if hole not in holes]
            return None if any(hole["spacer_mm"] for hole in spare) else True
    return False


def _turned(degrees: float) -> float:
    return (degrees + 180) % 360 - 180


def _hub(family: Node, mount: Node) -> Mapping[str, float]:
    """Where the hub's mark stands in each position."""
    hub, positions = mount["hub"], family["positions"]
    at = [0.0, *itertools.accumulate(hub["steps_deg"])]
    zero = at[positions.index(hub["position"])]
    return {position: hub["at_deg"] + here - zero for position, here in zip(positions, at, strict=True)}


def _takes(bolt: Node, hole: Node, turn: float) -> bool:
    """Whether the bolt's middle is within the clearance of the slot's middle line, the slot turned."""
    clearance = (hole["hole_mm"] - bolt["bolt_mm"]) / 2
    off = _turned(bolt["at_deg"] - hole["at_deg"] - turn)
    along = max(-hole["slot_deg"] / 2, min(hole["slot_deg"] / 2, off))
    left = math.radians(off - along)
    distance = math.sqrt(max(0.0, bolt["at_mm"] ** 2 + hole["at_mm"] ** 2 - 2 * bolt["at_mm"] * hole["at_mm"] * math.cos(left)))
    return distance <= clearance + 1e-6


def mates(entries: Sequence[Node], plug: str, housing: str) -> bool:
    """Whether a plug goes on a housing as it is, by what the two are like."""
    if plug == housing:
        return True
    named = {one["id"]: one for one in entries if one["kind"] == "connector"}
    one, other = named[plug], named[housing]
    said = plug in other.get("mates", ())
    made = [[{**each["terminal"], **each.get("terminals", {}).get(cavity, {})} for cavity in CAVITIES] for each in (one, other)]
    return said and made[0] == made[1] and all(one[key] == other[key] for key in ("rows", "outline", "sealed"))


def is_safe(part: Node, place: Mapping[str, str], circuits: Mapping[str, set[str]], positions: Sequence[str]) -> bool:
    """Whether no output of starter or backup lamps reaches any other wire or the housing where it must not. Everything is stated."""
    for position in positions:
        joins, resistors = reckoning.network(part, position)
        graph = nx.Graph([*joins, *((a, b) for a, b, *_ in resistors)])
        graph.add_nodes_from([*place.values(), CASE])
        ends = {**place, CASE: CASE}
        for wire, names in circuits.items():
            if any(position not in MAY[name] for name in names if name in MAY):
                near = nx.node_connected_component(graph, place[wire])
                if any(pin in near for other, pin in ends.items() if other != wire):
                    return False
    return True


def does_the_same(original: Node, candidate: Node, place: Mapping[str, str], lever: Sequence[str], by_reading: frozenset[str]) -> bool:
    """Whether each two wires, and each wire and the housing, see the same; ``by_reading`` are two that a module's reading judges."""
    own, its = {**{wire: wire for wire in place}, CASE: CASE}, {**place, CASE: CASE}
    for position, closed in itertools.product(lever, (True, False)):
        # What a module reads across two wires is judged by the reading, joined or over ohms.
        through = further.conducts(original, position, own) ^ further.conducts(candidate, position, its)
        if any({*one} != by_reading for one in through):
            return False
        one, other = reckoning.seen(original, position, own, closed), reckoning.seen(candidate, position, its, closed)
        for a, b in itertools.combinations([*place, CASE], 2):
            left, right = reckoning._between(one, a, b), reckoning._between(other, a, b)
            # A module takes a line that is open for a broken wire (common practice, no source): that is no other resistance.
            if {a, b} == by_reading and "ohms" in (left[0], right[0]) and "open" not in (left[0], right[0]):
                continue
            if left[0] != right[0]:
                return False
            if left[0] == "ohms" and abs(right[1] - left[1]) > left[1] * (left[2] / 100 + 1e-9):
                return False
    return True


def reads_right(original: Node, candidate: Node, place: Mapping[str, str], lever: Sequence[str], reads: Node) -> bool:
    """Whether a module made for the original takes each reading of the candidate for the right position, at each end of its tolerances.

    A ladder that is not by itself between its two wires is left to :func:`does_the_same`.
    """
    a, b = reads["pins"]
    volts: dict[str, list[float]] = {}
    for part, at, corners in ((original, {a: a, b: b}, (1.0,)), (candidate, place, (0.0, -1.0, 1.0))):
        for position in lever:
            view = reckoning.seen(part, position, {a: at[a], b: at[b]})
            kind, ohms, percent = reckoning._between(view, a, b)
            for corner in corners:
                here = ohms * (1 + corner * percent / 100) if kind == "ohms" and part is candidate else ohms
                seen = reads["volts"] if kind == "open" else reads["volts"] * here / (here + reads["pull_up_ohms"])
                volts.setdefault(
                    f"{part['number']} {position} {'candidate' if part is candidate and corners[0] == 0 else 'original'}", []
                ).append(seen)
    own = {position: volts[f"{original['number']} {position} original"][0] for position in lever}
    for position in lever:
        for seen in volts[f"{candidate['number']} {position} candidate"]:
            if min(own, key=lambda one: (abs(own[one] - seen), one != position)) != position:
                return False
    return True


def by_itself(part: Node, place: Mapping[str, str], lever: Sequence[str], reads: Node) -> bool:
    """Whether no other wire, nor the housing, has a path to either of the two wires that a module reads across."""
    for position in lever:
        view = reckoning.seen(part, position, {**place, CASE: CASE})
        for wire in reads["pins"]:
            others = [one for one in (*place, CASE) if one not in reads["pins"]]
            if any(reckoning._between(view, wire, one)[0] != "open" for one in others):
                return False
    return True


def pairs(entries: Sequence[Node]) -> Iterator[tuple[Node, Node, Node, Node]]:
    """Family and original of each seat with family and part of each candidate."""
    families = [one for one in entries if one["kind"] == "switch"]
    for family in families:
        for original in family["parts"][:3]:
            for other in families:
                for part in other["parts"]:
                    yield family, original, other, part


Legs = Mapping[str, tuple[str, Node | None]]
"""Plug of a vehicle, by its name -> the connector of the part that it goes on, and the kit that renews it; ``None`` for one that stays."""


def natural_places(entries: Sequence[Node], plug: Node, part: Node) -> Iterator[tuple[Legs, dict[str, str]]]:
    """Each way of all plugs onto a part with every wire where it comes to lie."""
    plugs, housings = (one.get("connectors") or {"": one["connector"]} for one in (plug, part))
    for names in itertools.permutations(housings, len(plugs)):
        of_each = [list(_one_plug(entries, plugs[name], housings[on])) for name, on in zip(plugs, names, strict=True)]
        for chosen in itertools.product(*of_each):
            place: dict[str, str | None] = {}
            for (name, on), (_, moves) in zip(zip(plugs, names, strict=True), chosen, strict=True):
                for wire in plug["wires"]:
                    if wire.rpartition(".")[0] == name:
                        there = moves.get(wire.rpartition(".")[2])
                        place[wire] = f"{on}.{there}" if on and there else there
            if None in place.values():
                continue  # a wire without a place in the kit's plug
            yield {name: (on, kit) for (name, on), (kit, _) in zip(zip(plugs, names, strict=True), chosen, strict=True)}, place


def _one_plug(entries: Sequence[Node], plug: str, housing: str) -> Iterator[tuple[Node | None, Mapping[str, str]]]:
    """Each way of one plug onto one housing: the kit that is needed, and where each cavity comes to lie."""
    if mates(entries, plug, housing):
        yield None, {cavity: cavity for cavity in CAVITIES}
    for kit in entries:
        if kit["kind"] == "kit" and plug in kit["from"] and mates(entries, kit["to"], housing):
            yield kit, {cavity: together.places(kit, cavity)[0] for cavity in kit["moves"]}


def is_right(
    entries: Sequence[Node], pair: tuple[Node, Node, Node, Node], place: Mapping[str, str], written: Mapping[str, Node], legs: Legs
) -> bool | None:
    """Whether a part does in the world what its place asks for, with the wires and plugs so;
    ``None`` where nobody can tell. ``written`` as in :func:`safe_at`."""
    family, original, other, bare = pair
    lever, plug = family["positions"], family["plugs"]["p"]
    # Of what does some of the work and stops in other places nobody can tell.
    apart = any(set(other["positions"]) - set(family_of(entries, one)["positions"]) for one in bare.get("members", {}).values())
    if apart or not set(lever) <= set(other["positions"]):
        return None if apart else False
    on = stands(entries, original, bare, legs, lever)
    if on is False or not together.all_apart(place, legs):
        return False
    groups = together.branches(place, legs)
    part = together.melted(with_jumpers(bare, jumpers_on(plug, legs), other["positions"]), groups)
    sure = _plugs_do(entries, family, original, together.melted(bare, groups), place, legs)
    if sure is False:
        return False
    original = with_jumpers(original, plug.get("loops", ()), family["positions"])
    if not safe_at(pair, place, written, legs):
        return False
    reads = plug.get("reads")
    if reads and not reads_right(original, part, place, lever, reads):
        return False
    # What a module reads over wires that lead elsewhere too, as with a jumper, is not its ladder alone: then the ohms have to be the same.
    alone = reads and by_itself(original, {wire: wire for wire in place}, lever, reads) and by_itself(part, place, lever, reads)
    by_reading = frozenset(reads["pins"]) if alone else frozenset()
    if not does_the_same(original, part, place, lever, by_reading):
        return False
    if not does_the_same(before_it_opens(original), before_it_opens(part), place, lever, by_reading):
        return False
    return on if sure else None


def _plugs_do(entries: Sequence[Node], family: Node, original: Node, part: Node, place: Mapping[str, str], legs: Legs) -> bool | None:
    """Whether outputs, terminals, seals and platings are as they have to be; ``None`` where nobody can tell."""
    plug = family["plugs"]["p"]
    sure = {further.sends_the_same(original, part, place, plug["wires"], family["positions"])}
    housings = plug.get("connectors") or {"": plug["connector"]}
    for name, (_, kit) in legs.items():
        own = {wire: pin.rpartition(".")[2] for wire, pin in place.items() if wire.rpartition(".")[0] == name}
        plain = next(one for one in entries if one["id"] == housings[name])
        mixed = {cavity: {**plain["terminal"], **plain.get("terminals", {}).get(cavity, {})} for cavity in CAVITIES}
        if kit is None:
            sure.add(all(mixed.get(wire.rpartition(".")[2]) == mixed.get(pin) for wire, pin in own.items()))
        elif kit.get("joins") not in together.READY:
            further_on = {wire: together.places(kit, wire.rpartition(".")[2])[1:] for wire in own}
            sure.add(further.bag_takes(kit, plug["wires"], {wire: [pin, *further_on[wire]] for wire, pin in own.items()}))
        if own:
            plating = kit.get("terminal", {}).get("plating") if kit else plug.get("plating")
            sure.add(further.plated_alike(plating, part.get("members", {}).get(legs[name][0], part).get("plating")))
    return False if False in sure else None if None in sure else True


def right_in_each(
    entries: Sequence[Node], pair: tuple[Node, Node, Node, Node], place: Mapping[str, str], written: Mapping[str, Node], legs: Legs
) -> list[bool | None]:
    """:func:`is_right` for every vehicle and every part that may be meant."""
    family, original, other, part = pair
    known = together.numbered(entries)
    stays = [known[number] for number in original.get("goes_with", ())]
    brought = together.along(known, original, part)
    new = [known[number] for number in brought if known[number] not in stays]
    found = []
    for case, fixed, loose in itertools.product(further.cases(family, original, part), together.every_set(stays), together.every_set(new)):
        here = {**family, "plugs": {"p": case.plug}}
        there = {wire: pin for wire, pin in place.items() if wire in case.plug["wires"]}
        sides = (
            whole(entries, here, case.original, [fixed], prefixed=False),
            whole(entries, here, case.candidate, [[one for one in (*loose, *fixed) if one["number"] in brought], [*loose, *fixed]]),
        )
        found.append(case.allowed and is_right(entries, (here, sides[0], other, sides[1]), there, written, legs))
    return found


def whole(entries: Sequence[Node], family: Node, part: Node, others: Iterable[Iterable[Node]], prefixed: bool = True) -> Node:
    """A part, or it with the first of several sets of others that has a connector for each plug of the vehicle, the part's own among those
    that take one; the part itself where none has."""
    bare = {**family["plugs"]["p"], "wires": {}}
    if not prefixed:  # what a vehicle was built with is on its plugs, whatever its housings are called
        joined = [one for some in others for one in some]
        return together.one_of(part, joined, prefixed) if len(part.get("connectors", "1")) < len(bare.get("connectors", "1")) else part
    for kept in ([], *([one for one in some if one["number"] != part["number"]] for some in others)):
        made = together.one_of(part, kept, prefixed)
        if any(together.seats_of(part, made, legs) for legs, _ in natural_places(entries, bare, made)):
            return made
    return part


def stands(entries: Sequence[Node], original: Node, part: Node, legs: Legs, lever: Sequence[str]) -> bool | None:
    """Whether what goes on a vehicle goes where what came off it sat; ``None`` where nobody can tell.

    What takes the plugs of the original sits in its place. Of what takes those of another one the mount is compared where both have one.
    Where one part did the work of several, one of these sits in its place, and of the others nobody knows theirs.
    """
    pairs = together.seats_of(original, part, legs)
    if pairs is None:
        return False
    found = {}
    for old, new in pairs:
        sides = [(family_of(entries, one), one.get("mount")) for one in (old, new)]
        found[old["number"], new["number"]] = (
            True if old["number"] == new["number"] else None if None in (sides[0][1], sides[1][1]) else bolts_on(*sides, lever)  # type: ignore[arg-type]
        )
    own = [value for (old, _), value in found.items() if old == original["number"]]
    seated = True if True in own else False if False in own and None not in own else None
    in_place = {new for old, new in found if old == original["number"]}
    others = {value for (old, new), value in found.items() if old != original["number"] and new not in in_place and value is not None}
    return False if False in (seated, *others) else seated


def family_of(entries: Sequence[Node], part: Node) -> Node:
    """The family of a part."""
    return next(one for one in entries if one["kind"] == "switch" and any(each["number"] == part["number"] for each in one["parts"]))


def safe_at(pair: tuple[Node, Node, Node, Node], place: Mapping[str, str], written: Mapping[str, Node], legs: Legs) -> bool:
    """Whether a part with the wires and plugs so can hurt nobody in any position that either lever has.

    What a wire is for is a fact of the vehicle. What a part's entry calls its pin is what was written, ``written`` (number -> part in the
    book): where nobody wrote it, nobody was told anything wrong.
    """
    family, original, other, part = pair
    groups = {one[0]: one for one in together.branches(place, legs)}
    jumped = with_jumpers(part, jumpers_on(family["plugs"]["p"], legs), other["positions"])
    jumped = together.melted(jumped, list(groups.values()))
    called = [together.called(written, one) for one in (original, part)]
    circuits = {
        wire: {
            name
            for name in (
                *(one.get("circuit") for one in further.wires_in(about)),
                called[0].get(wire),
                *(called[1].get(pin) for pin in groups.get(place[wire], [place[wire]])),
            )
            if name
        }
        for wire, about in family["plugs"]["p"]["wires"].items()
    }
    return is_safe(jumped, place, circuits, other["positions"])


def main(books: int, first: int = 0) -> None:
    """Prints every disagreement of so many books, and how many verdicts of each kind there were; of leads that fan a wire out and of parts
    that go together apart."""
    counts: Counter[tuple[str, str]] = Counter()
    for seed in range(first, first + books):
        for line in disagreements(seed, counts):
            print(line, flush=True)
    for what in ("all", "fans", "together"):
        kinds = {kind: count for (of, kind), count in counts.items() if of == what}
        print(f"{what}: {sum(kinds.values())} pairs of {books} books: {kinds}")


def made_of(seed: int) -> tuple[list[Node], list[Node]]:
    """A world with every position by what it means, and what somebody writes of it."""
    rng = random.Random(seed)
    true = world(rng)
    apart, live, dated, joint = (random.Random(seed + far * 1_000_000) for far in (1, 2, 3, 4))
    fed, cut = joint.random() < 0.5, joint.random() < 0.6
    if fed or cut:
        add_twins(joint, true)
    powered = live.random() < 0.6
    if powered:
        further.electrify(live, true)
    how = apart.randrange(4)
    if fed:
        together.share_a_feed(joint, true)
    if how < 2:
        split(apart, true)
    if fed:
        together.make_lead(joint, true)
    if cut:
        (together.take_apart if how < 2 else together.put_lamps_apart)(joint, true)
    if how and not powered:
        true = notions(rng, true)
    if dated.random() < 0.4:
        further.condition(dated, true)
    written = book_of(rng, true, rng.choice([0.0, 0.0, 0.02, 0.1]))
    return by_meaning(true), written


def disagreements(seed: int, counts: Counter[tuple[str, str]]) -> Iterator[str]:
    """Each pair of a book whose verdict is not right in the world; ``counts`` gets the kinds of verdicts, of all pairs and of those where a
    lead fans a wire out or parts go together."""
    from rangebook.fitting.fitter import Fitter
    from tests import making

    true, written = made_of(seed)
    made = making.book(*written)
    fitter = Fitter(made)
    seats = {(seat.family.id, seat.original.number): seat for seat in fitter.seats}
    parts = {part.number: part for part in made.parts}
    for pair in pairs(true):
        seat, part = seats.get((pair[0]["id"], pair[1]["number"])), parts[pair[3]["number"]]
        if seat is None or pair[1]["number"] == pair[3]["number"] or further.contradicts_itself(pair[0], pair[1]):
            continue
        if _is_misnamed(pair[0], pair[1], written):
            continue
        found = fitter.verdict(seat, part)
        sides = _both(true, pair)
        natural = list(natural_places(true, pair[0]["plugs"]["p"], sides[1]))
        for of, is_so in (
            ("all", True),
            ("fans", any(together.branches(place, legs) for legs, place in natural)),
            ("together", any("members" in one for one in sides)),
        ):
            counts[of, found.kind.value] += is_so
        said = {one["number"]: one for entry in written if entry["kind"] == "switch" for one in entry["parts"]}
        for slip in _slips(true, pair, sides, said, found, natural):
            yield f"seed {seed}: {pair[1]['number']} -> {pair[3]['number']} {slip}"


def _both(true: Sequence[Node], pair: tuple[Node, Node, Node, Node]) -> tuple[Node, Node]:
    """The original and the part of a pair, each with what does some of its work."""
    known = together.numbered(true)
    built = pair[1].get("goes_with", ())
    brought = together.along(known, pair[1], pair[3])
    beside = [known[number] for number in dict.fromkeys([*brought, *built])]
    return (
        whole(true, pair[0], pair[1], [[known[number] for number in built]], prefixed=False),
        whole(true, pair[0], pair[3], [[one for one in beside if one["number"] in brought], beside]),
    )


def _slips(
    true: Sequence[Node],
    pair: tuple[Node, Node, Node, Node],
    sides: tuple[Node, Node],
    said: Mapping[str, Node],
    found: Any,
    natural: Sequence[tuple[Legs, dict[str, str]]],
) -> Iterator[str]:
    """What of a verdict is not right."""
    from rangebook.desk.fit import plugs_on

    kind = found.kind.value
    if kind == "no" and any(True in right_in_each(true, pair, place, said, legs) for legs, place in natural):
        yield f"is refused ({[reason.detail.code for reason in found.reasons]}) and is right"
    if not found.goes_on:
        return
    on = plugs_on(found) or {"": found.part.sockets[0].name}
    kits = {leg.plug.name: next((one for one in true if leg.kits and one["id"] == leg.kits[0].id), None) for leg in found.way.legs}
    led = {wire: _led(wire, kits[wire.rpartition(".")[0]]) for wire in pair[0]["plugs"]["p"]["wires"]}
    place = {wire: _renamed(found.moves.get(wire, there), on) for wire, there in led.items()}
    if {*right_in_each(true, pair, place, said, {name: (on[name], kit) for name, kit in kits.items()})} != {True}:
        yield f"goes on ({kind}, {dict(found.moves)}, {on}) and is not right"
    needed = any(kits.values()) or together.asks_for_more(together.numbered(true), pair[1], pair[3])
    if kind == ("straight" if needed else "with_parts"):
        yield f"goes on {kind}, and {'more' if needed else 'nothing'} is needed"
    laid = (pair[0], sides[0], pair[2], sides[1])
    bare = [place for legs, place in natural if not any(kit for _, kit in legs.values())]
    alike = {name: (housing, None) for name, housing in on.items()}
    if kind in ("straight", "with_parts") and not any(kits.values()) and not all(safe_at(laid, other, said, alike) for other in bare):
        yield "goes on, and with its plugs on each other's connectors it is not safe"


def _is_misnamed(family: Node, original: Node, written: Sequence[Node]) -> bool:
    """Whether of some wire the book says only by the original's pin what it is for, and that is something else: then it tells a lie."""
    said = next(one for one in written if one["id"] == family["id"])
    pins = next(one for one in said["parts"] if one["number"] == original["number"]).get("pins", {})
    return any(
        "circuit" not in one and pins.get(cavity) not in (None, true.get("circuit"))
        for cavity, about in said["plugs"]["p"]["wires"].items()
        for one, true in zip(further.wires_in(about), further.wires_in(family["plugs"]["p"]["wires"][cavity]), strict=True)
    )


def _led(wire: str, kit: Node | None) -> str:
    """Where a wire lies in the plug that goes on."""
    name, _, cavity = wire.rpartition(".")
    there = together.places(kit, cavity)[0] if kit else cavity
    return f"{name}.{there}" if name else there


def _renamed(label: str, names: Mapping[str, str]) -> str:
    """A cavity of a plug as that of the connector that it goes on."""
    name, _, cavity = label.rpartition(".")
    return f"{names[name]}.{cavity}" if names[name] else cavity


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
