"""What the worlds of :mod:`tests.fitting.worlds` get of how things go together: leads that fan one wire out to two pins, adapter leads
beside plugs that are cut on, and parts that do the work of one together; and what is so of these.

Like all of the reckoning it shares no code with the engine. Where a lead brings one wire to two pins these two are one point of the
network: :func:`melted` gives them one name. Parts that go together are one network with one metal: :func:`one_of` lays their entries side
by side.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any

from tests.fitting.reckoning import CASE

Node = dict[str, Any]

FED, SPARE = "1", "3"
"""The cavity of the one feed, and that of the second, which the plugs of such a world lack."""

READY = ("plug_in", "splice")
"""Leads whose terminals and seals are in already."""


# Worlds: one wire out to two -------------------------------------------------------------------------------------------------


def share_a_feed(rng: random.Random, entries: list[Node]) -> None:
    """Vehicles whose one feed serves the starter and the lamps, in place, before plugs are split: some parts have a pin for it, and some
    have two."""
    for family in entries:
        if family["kind"] != "switch":
            continue
        wires = family["plugs"]["p"]["wires"]
        gone = wires.pop(SPARE, None)
        if gone and FED not in wires:
            wires[FED] = gone
        elif not wires:
            wires[FED] = {"circuit": "start_feed"}
        for at, part in enumerate(family["parts"]):
            if at == 0 or rng.random() < 0.4:
                _melt_pins(part, FED, SPARE)
            if at > 2 and rng.random() < (0.9 if at > 4 else 0.5):
                part["connector"] = "e"


def _melt_pins(part: Node, kept: str, gone: str) -> None:
    if gone in part["pins"]:
        named = part["pins"].pop(gone)
        part["pins"].setdefault(kept, named)
    for contact in part["contacts"]:
        contact["pins"] = [kept if end == gone else end for end in contact["pins"]]
    part["contacts"] = [one for one in part["contacts"] if one["pins"][0] != one["pins"][1]] or [{"pins": [kept, CASE], "closed": []}]


def make_lead(rng: random.Random, entries: list[Node]) -> None:
    """The kit of a world as a lead that brings the feed's wire, mostly, to two cavities; and the pins of parts that it is made for, in
    most cases, where it brings the wires."""
    for kit in entries:
        if kit["kind"] != "kit" or SPARE not in kit["moves"]:
            continue
        straight = dict(kit["moves"])
        kit["joins"] = rng.choice(["plug_in", "plug_in", "splice", "cut"])
        if kit["joins"] in READY:
            kit.pop("seals", None)
            kit.pop("blanks", None)
        second = kit["moves"].pop(SPARE)
        branches = [FED] if rng.random() < 0.85 else rng.sample(list(kit["moves"]), 1)
        for cavity in branches:
            kit["moves"][cavity] = [kit["moves"][cavity], second]
        for family in entries:
            for part in family["parts"] if family["kind"] == "switch" else ():
                if rng.random() < 0.75:
                    for name, housing in (part.get("connectors") or {"": part["connector"]}).items():
                        if housing == kit["to"]:
                            _relabel(part, {_at(name, old): _at(name, new) for old, new in straight.items()})


def _at(name: str, cavity: str) -> str:
    return f"{name}.{cavity}" if name else cavity


def _relabel(part: Node, names: Mapping[str, str]) -> None:
    part["pins"] = {names.get(pin, pin): circuit for pin, circuit in part["pins"].items()}
    for contact in part["contacts"]:
        contact["pins"] = [names.get(end, end) for end in contact["pins"]]
    for signal in part.get("signals", ()):
        signal |= {key: names.get(signal[key], signal[key]) for key in ("pin", "supply", "ground")}


# Worlds: one number became two ----------------------------------------------------------------------------------------------


def take_apart(rng: random.Random, entries: list[Node]) -> None:
    """Of each family some parts cut in two, each half with a connector and a number of its own, in place: of what a vehicle was built with
    in some, and of what takes its place. The half with the smaller figures says what goes along."""
    for family in entries:
        if family["kind"] != "switch":
            continue
        whole = [part for part in family["parts"] if len(part.get("connectors", ())) == 2]
        chosen = [part for at, part in enumerate(whole) if rng.random() < (0.5 if at == 0 else 0.3 if at < 5 else 0.9)]
        for part in chosen:
            family["parts"].append(_cut(rng, family, part))


def _cut(rng: random.Random, family: Node, part: Node) -> Node:
    _, second = part["connectors"]
    named = part in family["parts"][:3] or rng.random() < 0.5
    other: Node = {"number": f"{part['number'][0]}-2{part['number'][3:]}", "contacts": [], "pins": {}}
    other["connectors"] = {second: part["connectors"].pop(second)}
    mount = rng.choice([None, None, part["mount"], "boss", "ear"])
    other |= {"mount": mount} if mount else {}
    other |= {"plating": part["plating"]} if "plating" in part else {}
    there = lambda end: end.startswith(f"{second}.")  # noqa: E731
    for pin in [pin for pin in part["pins"] if there(pin)]:
        other["pins"][pin] = part["pins"].pop(pin)
    contacts = part["contacts"]
    other["contacts"] = [one for one in contacts if all(end == CASE or there(end) for end in one["pins"])]
    part["contacts"] = [one for one in contacts if not any(there(end) for end in one["pins"])]
    if part.get("signals") and there(part["signals"][0]["pin"]):
        other["signals"] = part.pop("signals")
    if not named:
        for one in (part, other):
            (name,) = one["connectors"]
            one["connector"] = one.pop("connectors")[name]
            _relabel(one, {pin: pin.removeprefix(f"{name}.") for pin in one["pins"]})
    _say_so(rng, family, part, other)
    if rng.random() < 0.7:
        other["goes_with"] = [part["number"]]
    if rng.random() < 0.2:
        rng.choice([part, other])["needs"] = [*part.get("needs", ()), {"item": "bolt", "count": 2}]
    return other


def _say_so(rng: random.Random, family: Node, part: Node, other: Node) -> None:
    built = family["parts"][0]
    how = rng.randrange(4) if part not in family["parts"][:3] else 0
    if how == 3 and "superseded_by" not in built:
        built["superseded_by"] = [{"number": part["number"], "needs": [{"part": other["number"]}]}]
    elif how == 2:
        part["needs"] = [{"part": other["number"]}]
    else:
        part["goes_with"] = [other["number"]]


def put_lamps_apart(rng: random.Random, entries: list[Node]) -> None:
    """Of parts with one connector some lose a contact to a switch of its own, for which the vehicle has no plug."""
    for family in entries:
        if family["kind"] != "switch":
            continue
        for part in rng.sample(family["parts"][3:], 2):
            if len(part["contacts"]) < 2 or "connector" not in part:
                continue
            contact = part["contacts"].pop(1)
            pins = {end: part["pins"][end] for end in contact["pins"] if end != CASE}
            for end in pins:
                if not any(end in one["pins"] for one in part["contacts"]):
                    del part["pins"][end]
            number = f"{part['number'][0]}-2{part['number'][3:]}"
            family["parts"].append({"number": number, "connector": rng.choice(["d", "e"]), "pins": pins, "contacts": [contact]})
            part["goes_with"] = [number]


# What is so: one wire out to two ----------------------------------------------------------------------------------------------


def places(kit: Node, cavity: str) -> list[str]:
    """Every cavity of a kit's plug to which a wire goes."""
    there = kit["moves"].get(cavity, [])
    return there if isinstance(there, list) else [there]


def branches(place: Mapping[str, str], legs: Mapping[str, tuple[str, Node | None]]) -> list[list[str]]:
    """The pins of a part that a lead makes one point, the first of each being where its wire lies. A plug that is cut on has branches
    where there is a wire to branch; a lead has them whether there is or not."""
    found = []
    for name, (on, kit) in legs.items():
        for cavity in kit["moves"] if kit else ():
            to, wire = places(kit, cavity), _at(name, cavity)
            if len(to) > 1 and (wire in place or kit.get("joins") in READY):
                found.append([place.get(wire, _at(on, to[0])), *(_at(on, one) for one in to[1:])])
    return found


def all_apart(place: Mapping[str, str], legs: Mapping[str, tuple[str, Node | None]]) -> bool:
    """Whether no two wires, nor branches of different wires, are in one cavity."""
    found = branches(place, legs)
    taken = [*place.values(), *(end for group in found for end in (group[1:] if group[0] in place.values() else group))]
    return len(taken) == len(set(taken))


def melted(part: Node, groups: Iterable[Sequence[str]]) -> Node:
    """A part on which several pins are one point each, by the first one's label."""
    name = {end: group[0] for group in groups for end in group}
    contacts = [{**one, "pins": [name.get(end, end) for end in one["pins"]]} for one in part["contacts"]]
    signals = [{**one, **{key: name.get(one[key], one[key]) for key in ("pin", "supply", "ground")}} for one in part.get("signals", ())]
    pins = {**part["pins"], **{group[0]: part["pins"].get(group[0], "not_connected") for group in groups}}
    return {**part, "pins": pins, "contacts": contacts, **({"signals": signals} if "signals" in part else {})}


# What is so: parts that go together -------------------------------------------------------------------------------------------


def numbered(entries: Sequence[Node]) -> dict[str, Node]:
    """Every part of a world by its number."""
    return {part["number"]: part for one in entries if one["kind"] == "switch" for part in one["parts"]}


def along(known: Mapping[str, Node], original: Node, part: Node) -> list[str]:
    """The numbers of what a part brings along that may do some of the work: what it goes with or needs, and what the makers ask for on the
    way to it."""
    asked = [*part.get("goes_with", ()), *_parts_of(part), *(one["part"] for one in on_the_way(known, original, part) if "part" in one)]
    return [one for one in dict.fromkeys(asked) if one != part["number"]]


def _parts_of(part: Node) -> list[str]:
    return [one["part"] for one in part.get("needs", ()) if "part" in one]


def on_the_way(known: Mapping[str, Node], original: Node, part: Node) -> list[Node]:
    """What the makers ask for on any way from one number to another."""
    found, seen = [], set()

    def walk(here: Node, asked: tuple[Node, ...]) -> None:
        for link in here.get("superseded_by", ()):
            more = (*asked, *link.get("needs", ()))
            if link["number"] == part["number"]:
                found.extend(more)
            if (here["number"], link["number"]) not in seen and link["number"] in known:
                seen.add((here["number"], link["number"]))
                walk(known[link["number"]], more)

    walk(original, ())
    return found


def asks_for_more(known: Mapping[str, Node], original: Node, part: Node) -> bool:
    """Whether anything is needed beside a part and the plug's kits."""
    along_with = [one for one in part.get("goes_with", ()) if one not in original.get("goes_with", ())]
    of_these = [need for one in along_with for need in known[one].get("needs", ()) if need.get("part") != part["number"]]
    return bool(along_with or part.get("needs") or of_these or on_the_way(known, original, part))


def one_of(part: Node, others: Sequence[Node], prefixed: bool) -> Node:
    """Parts as one: every connector of each, their contacts in one network. ``members`` tells whose each connector is."""
    if not others:
        return part
    members = dict.fromkeys(_sockets(part), part)
    labels: list[tuple[str, Callable[[str], str]]] = [(part["number"], str)]
    pins, contacts, sockets = dict(part["pins"]), [*part["contacts"]], dict(_sockets(part))
    signals = [*part.get("signals", ())]
    for other in others:
        for name, housing in _sockets(other).items():
            label = " ".join(filter(None, (other["number"], name))) if prefixed else name
            sockets[label], members[label] = housing, other
        named = renamer(other, prefixed)
        labels.append((other["number"], named))
        pins |= {named(pin): circuit for pin, circuit in other["pins"].items()}
        contacts += [{**one, "pins": [named(end) for end in one["pins"]]} for one in other["contacts"]]
        signals += [{**one, **{key: named(one[key]) for key in ("pin", "supply", "ground")}} for one in other.get("signals", ())]
    made = {key: value for key, value in part.items() if key not in ("connector", "revisions")}
    made |= {"connectors": sockets, "pins": pins, "contacts": contacts, "members": members, "labels": labels}
    return made | ({"signals": signals} if signals else {})


def called(written: Mapping[str, Node], part: Node) -> dict[str, str]:
    """What the book calls each pin of a part, or of parts as one; ``written`` has the book's by their numbers."""
    labels = part.get("labels", [(part["number"], str)])
    return {named(pin): name for number, named in labels for pin, name in written[number].get("pins", {}).items()}


def renamer(other: Node, prefixed: bool) -> Callable[[str], str]:
    """What each pin of a part is called beside those of others."""

    def named(pin: str) -> str:
        if pin == CASE or not prefixed:
            return pin
        name, _, cavity = pin.rpartition(".")
        return f"{' '.join(filter(None, (other['number'], name)))}.{cavity}"

    return named


def _sockets(part: Node) -> Mapping[str, str]:
    return part.get("connectors") or {"": part["connector"]}


def designs(part: Node) -> Iterator[Node]:
    """A part as each of the designs that there are under its number."""
    bare = {key: value for key, value in part.items() if key != "revisions"}
    yield bare
    yield from ({**bare, **one} for one in part.get("revisions", ()))


def every_set(others: Sequence[Node]) -> Iterator[tuple[Node, ...]]:
    """Several parts, each in every design."""
    yield from itertools.product(*(tuple(designs(one)) for one in others))


def seats_of(original: Node, candidate: Node, legs: Mapping[str, tuple[str, Node | None]]) -> list[tuple[Node, Node]] | None:
    """Whose place each part takes whose mount has to be held against another one's: by the plugs that it takes over. ``None`` where a part
    is in the way in which nothing goes on it, so that the answer would not be one about it."""
    of_old, of_new = original.get("members"), candidate.get("members")
    takers = {of_new[on]["number"] if of_new else candidate["number"] for on, _ in legs.values()}
    if candidate["number"] not in takers:
        return None
    found: list[tuple[Node, Node]] = []
    for name, (on, _) in legs.items():
        old, new = (of_old[name] if of_old else original), (of_new[on] if of_new else candidate)
        if (old, new) not in found:
            found.append((old, new))
    return found
