"""An independent reckoning of the same question, from the entries' own nodes, for the engine to be held against.

It shares no code with the engine: merging by networkx, reduction by numpy's pseudo-inverse (the Schur complement of the
Laplacian), wires moved by trying every assignment. Slow and plain on purpose.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache
from typing import Any

import networkx as nx
import numpy as np

CASE = "case"
POSITIONS = ("P", "R", "N", "D")
CAVITIES = tuple("12345678")


def network(part: Mapping[str, Any], position: str, diodes_closed: bool = True) -> tuple[list, list]:
    """Joins and resistors of a part's node in a position, diodes as if they were closed, or open. Everything must be stated."""
    joins, resistors, diodes = with_diodes(part, position)
    return [*joins, *(diodes if diodes_closed else ())], resistors


def with_diodes(part: Mapping[str, Any], position: str) -> tuple[list, list, list]:
    """The same with the diodes that are closed by themselves, each from where it lets current through to where."""
    joins, resistors, diodes = [], [], []
    for contact in part["contacts"]:
        a, b = contact["pins"]
        if "closed" in contact:
            if position in contact["closed"] or position in contact.get("overlaps", ()):
                (diodes if contact.get("one_way") else joins).append((a, b))
        else:
            ohms = contact["ohms"][position]
            if ohms == 0:
                joins.append((a, b))
            elif ohms != "open":
                resistors.append((a, b, ohms, contact.get("tolerance_percent", 10)))
    return joins, resistors, diodes


def seen(
    part: Mapping[str, Any], position: str, pin_of: Mapping[str, str | None], diodes_closed: bool = True
) -> tuple[dict, np.ndarray, dict]:
    """Terminal -> merged node, the reduced Laplacian over the terminals' nodes, and node -> narrowest tolerance around it."""
    joins, resistors = network(part, position, diodes_closed)
    merge = nx.Graph()
    merge.add_nodes_from([*part["pins"], CASE])
    merge.add_edges_from(joins)
    of = {node: min(group) for group in nx.connected_components(merge) for node in group}
    nodes = sorted(set(of.values()))
    laplacian = np.zeros((len(nodes), len(nodes)))
    around = nx.Graph()
    for a, b, ohms, _ in resistors:
        i, j = nodes.index(of[a]), nodes.index(of[b])
        if i != j:
            around.add_edge(of[a], of[b])
            laplacian[i, i] += 1 / ohms
            laplacian[j, j] += 1 / ohms
            laplacian[i, j] -= 1 / ohms
            laplacian[j, i] -= 1 / ohms
    narrowest: dict[str, float] = {}
    for group in nx.connected_components(around):
        least = min(percent for a, _, _, percent in resistors if of[a] in group)
        narrowest.update(dict.fromkeys(group, least))
    at: dict[str, str] = {}
    for terminal, pin in pin_of.items():
        # A cavity without a pin is a terminal by itself.
        at[terminal] = of[pin] if pin is not None and (pin == CASE or pin in part["pins"]) else f"alone {terminal}"
    kept = sorted({node for node in at.values() if not node.startswith("alone")})
    inner = [nodes.index(node) for node in nodes if node not in kept]
    outer = [nodes.index(node) for node in kept]
    reduced = laplacian[np.ix_(outer, outer)]
    if inner and reduced.size:
        rest = np.linalg.pinv(laplacian[np.ix_(inner, inner)], hermitian=True)
        reduced = reduced - laplacian[np.ix_(outer, inner)] @ rest @ laplacian[np.ix_(inner, outer)]
    return at, reduced, {node: (kept.index(node) if node in kept else None, narrowest.get(node)) for node in set(at.values())}


def _between(view: tuple, a: str, b: str) -> tuple[str, float, float | None]:
    at, reduced, index = view
    if at[a] == at[b]:
        return "joined", 0.0, None
    i, j = index[at[a]][0], index[at[b]][0]
    if i is None or j is None:
        return "open", 0.0, None
    g = -reduced[i, j]
    return ("ohms", 1 / g, index[at[a]][1]) if g > 1e-12 else ("open", 0.0, None)


def same(original: Mapping[str, Any], candidate: Mapping[str, Any], wires: Sequence[str], place: Mapping[str, str]) -> bool:
    """Whether the two do the same on the wires, ``place`` telling the pin of the candidate that each wire meets."""
    terminals = [*wires, CASE]
    for position in POSITIONS:
        one = seen(original, position, {wire: wire for wire in terminals})
        other = seen(candidate, position, {**place, CASE: CASE})
        for a, b in itertools.combinations(terminals, 2):
            left, right = _between(one, a, b), _between(other, a, b)
            if left[0] != right[0]:
                return False
            if left[0] == "ohms" and abs(right[1] - left[1]) > left[1] * (left[2] / 100 + 1e-9):
                return False
    return True


def resistances(part: Mapping[str, Any], position: str, sign: int = 0) -> Callable[[str, str], float]:
    """Two pins -> the ohms between them with nothing on the others, every resistor at its nominal value or at one end (-1, 1) of its
    tolerance: by the pseudo-inverse of the whole Laplacian (Klein and Randic, J. Math. Chem. 12 (1993) 81-95)."""
    joins, resistors = network(part, position)
    merge, reach = nx.Graph(joins), nx.Graph([*joins, *((one[0], one[1]) for one in resistors)])
    for graph in (merge, reach):
        graph.add_nodes_from([*part["pins"], CASE])
    of = {node: min(group) for group in nx.connected_components(merge) for node in group}
    met = {node: min(group) for group in nx.connected_components(reach) for node in group}
    nodes = sorted(set(of.values()))
    laplacian = np.zeros((len(nodes), len(nodes)))
    for c, d, ohms, percent in resistors:
        i, j = nodes.index(of[c]), nodes.index(of[d])
        step = np.zeros(len(nodes))
        step[i] += 1
        step[j] -= 1
        laplacian += np.outer(step, step) / (ohms * (1 + sign * percent / 100))
    inverse = np.linalg.pinv(laplacian, hermitian=True)

    def between(a: str, b: str) -> float:
        if of[a] == of[b]:
            return 0.0
        if met[a] != met[b]:
            return float("inf")
        i, j = nodes.index(of[a]), nodes.index(of[b])
        return float(inverse[i, i] + inverse[j, j] - 2 * inverse[i, j])

    return between


def crowded(original: Mapping[str, Any], candidate: Mapping[str, Any], wires: Sequence[str], place: Mapping[str, str]) -> bool:
    """Whether a resistance may at the worst be on the far side of 2ab/(a+b), where windows of one width in percent meet, for two of the
    original's resistances a and b: between the ends of each contact of either part that has several."""
    own = {**{wire: wire for wire in wires}, CASE: CASE}

    @cache
    def ohms(candidates: bool, position: str, sign: int = 0) -> Callable[[str, str], float]:
        return resistances(candidate if candidates else original, position, sign)

    for part, at in ((original, own), (candidate, {**place, CASE: CASE})):
        wire_of = {pin: wire for wire, pin in at.items()}
        for contact in part["contacts"]:
            values = {contact.get("ohms", {}).get(position, 0) for position in POSITIONS} - {0, "open"}
            ends = [wire_of.get(end) for end in contact["pins"]]
            if len(values) < 2 or None in ends or ends[0] == ends[1]:
                continue
            nominal = [ohms(False, position)(own[ends[0]], own[ends[1]]) for position in POSITIONS]
            for one, its in ((original, own), (candidate, {**place, CASE: CASE})):
                for here, position in zip(nominal, POSITIONS, strict=True):
                    if here in (0.0, float("inf")) or any(its[end] not in (*one["pins"], CASE) for end in ends):
                        continue
                    low, high = (ohms(one is candidate, position, sign)(its[ends[0]], its[ends[1]]) for sign in (-1, 1))
                    for there in nominal:
                        if abs(there - here) > 1e-6 * here and there:
                            middle = 2 / (1 / here + 1 / there)
                            if high > middle * (1 + 1e-6) if there > here else low < middle * (1 - 1e-6):
                                return True
    return False


def best_moves(original: Mapping[str, Any], candidate: Mapping[str, Any], wires: Sequence[str]) -> tuple[int, int] | None:
    """By trying every assignment: the fewest wires that move, and how many assignments move so few; ``None`` if none agrees."""
    found: dict[int, int] = {}
    for slots in itertools.permutations(CAVITIES, len(wires)):
        moved = sum(wire != slot for wire, slot in zip(wires, slots, strict=True))
        if found and moved > min(found):
            continue
        if same(original, candidate, wires, dict(zip(wires, slots, strict=True))):
            found[moved] = found.get(moved, 0) + 1
    return (min(found), found[min(found)]) if found else None


# Random parts ----------------------------------------------------------------------------------------------------------


def random_part(rng: random.Random, number: str = "A-1", pins: int | None = None) -> dict[str, Any]:
    """A part with everything stated: switching contacts, ladders, shared pins, contacts to the housing, dead pins."""
    populated = sorted(rng.sample(CAVITIES, pins or rng.randint(3, 8)))
    contacts = []
    for _ in range(rng.randint(1, 5)):
        a, b = rng.sample([*populated, CASE], 2)
        if rng.random() < 0.6:
            contacts.append({"pins": [a, b], "closed": sorted(rng.sample(POSITIONS, rng.randint(1, 3)))})
        else:
            # No value is ten times another: in parallel they would differ from one alone by 10 percent to the digit, a tie.
            ohms = {position: rng.choice([0, "open", 200, 430, 820, 1800, 3900, 9100]) for position in POSITIONS}
            contacts.append({"pins": [a, b], "ohms": ohms, **({"tolerance_percent": rng.choice([1, 5, 20])} if rng.random() < 0.7 else {})})
    touched = {end for contact in contacts for end in contact["pins"]}
    circuits = {pin: "range_signal" if pin in touched else "not_connected" for pin in populated}
    return {"number": number, "connector": "c", "mount": "boss", "pins": circuits, "contacts": contacts}


def look_alike(rng: random.Random, original: Mapping[str, Any], number: str = "B-2") -> dict[str, Any]:
    """A part like another one: the same, or changed in one of the ways in which look-alikes differ."""
    pins = dict(original["pins"])
    contacts = [
        {key: (dict(value) if isinstance(value, dict) else list(value) if isinstance(value, list) else value) for key, value in one.items()}
        for one in original["contacts"]
    ]
    for _ in range(rng.choice([0, 1, 1, 1, 2])):
        change = rng.randrange(7)
        contact = rng.choice(contacts)
        if change == 0:  # one pin more, idle or with a contact of its own
            free = [cavity for cavity in CAVITIES if cavity not in pins]
            if free:
                pins[free[0]] = "not_connected"
                if rng.random() < 0.5:
                    pins[free[0]] = "ground"
                    contacts.append({"pins": [free[0], rng.choice([CASE, *original["pins"]])], "closed": ["D"]})
        elif change == 1 and "closed" in contact:
            position = rng.choice(POSITIONS)
            contact["closed"] = sorted(set(contact["closed"]) ^ {position})
        elif change == 2 and "ohms" in contact:  # within the tolerance or out of it
            factor = rng.choice([0.8, 0.97, 1.0, 1.004, 1.04, 1.3])
            contact["ohms"] = {at: round(value * factor, 3) if value not in ("open", 0) else value for at, value in contact["ohms"].items()}
        elif change == 3:  # wires on other pins
            order = list(CAVITIES)
            rng.shuffle(order)
            moved = dict(zip(CAVITIES, order, strict=True)) | {CASE: CASE}
            pins = {moved[pin]: circuit for pin, circuit in pins.items()}
            for one in contacts:
                one["pins"] = [moved[end] for end in one["pins"]]
        elif change == 4:  # two pins change places
            a, b = rng.sample(CAVITIES, 2)
            swap = {a: b, b: a}
            pins = {swap.get(pin, pin): circuit for pin, circuit in pins.items()}
            for one in contacts:
                one["pins"] = [swap.get(end, end) for end in one["pins"]]
        elif change == 5 and len(pins) > 2:  # a pin less
            gone = rng.choice(sorted(pins))
            if all(gone not in one["pins"] for one in contacts):
                del pins[gone]
        else:  # a contact the other way round: nothing at all
            contact["pins"].reverse()
    return {"number": number, "connector": "c", "mount": "boss", "pins": pins, "contacts": contacts}


def completions(part: Mapping[str, Any], rng: random.Random, count: int) -> Iterator[dict[str, Any]]:
    """Parts that agree with all that is stated of ``part`` and have the rest filled in at random."""
    for _ in range(count):
        contacts = []
        for contact in part["contacts"]:
            if "closed" in contact:
                contacts.append(contact)
                continue
            stated = contact.get("ohms", {})
            guess = {position: stated.get(position, rng.choice([0, "open", 470])) for position in POSITIONS}
            contacts.append({**contact, "ohms": guess})
        yield {**part, "contacts": contacts}
