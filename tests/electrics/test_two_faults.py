"""Two faults at once, of any two kinds, against the plainest way to get their readings: the part built with both, read by nodal analysis
(numpy). Its terminals are nodes of their own, so that a wire can be lost, or changed about, before or after something else goes wrong."""

from __future__ import annotations

import random
from typing import Any

import pytest
from tests.electrics.test_diagnosis import Meter, amount, conducts, every_fault, is_among, meter, random_model, refuted, same
from tests.electrics.test_proof import called, model, pins_of
from tests.fitting.reckoning import CASE, POSITIONS

from rangebook.electrics.diagnosis import Reading, diagnose
from rangebook.electrics.faults import Explanation
from rangebook.electrics.proof import proof_sheet

Fault = tuple[str, tuple[str, ...]]
INFINITE = float("inf")
ALL = dict.fromkeys(POSITIONS)


class Faulty:
    """A part to which one fault after the other is done. ``leads_to`` is the node that the wire of a terminal leads to."""

    def __init__(self, node: dict[str, Any]) -> None:
        ends = [*node["pins"], CASE]
        contacts = [{**one, "pins": [f"in {end}" for end in one["pins"]]} for one in node["contacts"]]
        self.node = {**node, "contacts": contacts}
        self.leads_to = {end: f"in {end}" for end in ends}
        self.shift, self.end, self.leads = 0, "own", 0.0

    def path(self, one: str, other: str, ohms: float) -> None:
        self.node["contacts"].append({"pins": [one, other], "ohms": dict.fromkeys(POSITIONS, ohms)})

    def do(self, kind: str, about: tuple[str, ...], contact: int | None, ohms: float, factor: float, end: str) -> None:
        contacts = self.node["contacts"]
        one = contacts[contact] if contact is not None else {}
        row = {at: 0 if at in one["closed"] else "open" for at in POSITIONS} if "closed" in one else dict(one.get("ohms", {}))
        match kind:
            case "stuck_open" | "stuck_closed":
                row = dict.fromkeys(POSITIONS, "open" if kind == "stuck_open" else 0)
            case "burnt" | "step_open":
                row[about[2]] = "open"
            case "step_wrong":
                row[about[2]] = ohms
            case "resistance":
                row = {at: ohms if row[at] != "open" else "open" for at in POSITIONS}
            case "drift":
                plate, grown = {f"in {end}" for end in about}, True
                while grown:
                    more = {end for one in contacts if plate & set(one["pins"]) for end in one["pins"]}
                    grown, plate = not more <= plate, plate | more
                for at, one in enumerate(contacts):
                    if "ohms" in one and set(one["pins"]) <= plate:
                        contacts[at] = {**one, "ohms": {p: v if v == "open" else v * factor for p, v in one["ohms"].items()}}
            case "shunted":
                self.path(*(f"in {end}" for end in about), ohms)
            case "leakage" | "shorted" | "grounded":
                self.path(*(self.leads_to[end] for end in (*about, CASE)[:2]), ohms if kind == "leakage" else 0)
            case "open":
                self.leads_to[about[0]] = f"off {about[0]}"
            case "swapped":
                a, b = about
                self.leads_to[a], self.leads_to[b] = self.leads_to[b], self.leads_to[a]
            case "detent":
                self.shift, self.end = int(about[0]), end
            case "leads":
                self.leads = ohms
        if contact is not None:
            contacts[contact] = {"pins": one["pins"], "ohms": row}

    def meter(self) -> Meter:
        wires = [{"pins": [end, inner], "closed": list(POSITIONS)} for end, inner in self.leads_to.items()]
        read = meter({**self.node, "contacts": [*self.node["contacts"], *wires]})

        def shown(a: str, b: str, at: str) -> float:
            place = POSITIONS.index(at) + self.shift
            if not 0 <= place < len(POSITIONS):
                if self.end == "out":
                    return INFINITE
                place = POSITIONS.index(at)
            return read(a, b, POSITIONS[place]) + self.leads

        return shown


OF_ONE = ("stuck_open", "stuck_closed", "burnt", "resistance", "step_open", "step_wrong")


def contacts_of(node: dict, kind: str, about: tuple[str, ...]) -> list[int | None]:
    """The contacts that a fault can be of."""
    if kind not in OF_ONE:
        return [None]
    here = [at for at, one in enumerate(node["contacts"]) if tuple(one["pins"]) == about[:2]]
    ladder = {"burnt": False, "resistance": False, "step_open": True, "step_wrong": True}.get(kind)
    if kind in ("burnt", "step_open"):
        here = [at for at in here if about[2] in conducts(node["contacts"][at])]
    return [at for at in here if ladder is None or ladder == ("ohms" in node["contacts"][at])]


def done(node: dict, faults: list[tuple[Fault, int | None]], much: list[dict[str, Any]]) -> Meter:
    part = Faulty(node)
    # What has drifted is the plate as it was made: a contact that another fault sets is set to what it then reads.
    for ((kind, about), contact), how in sorted(zip(faults, much, strict=True), key=lambda one: one[0][0][0] != "drift"):
        part.do(kind, about, contact, **how)
    return part.meter()


def amount_of(kind: str, rng: random.Random) -> dict[str, Any]:
    """How much a fault does, where its kind leaves that open."""
    return {**amount(rng), **({"ohms": rng.choice([2, 7])} if kind == "leads" else {})}


def planted(rng: random.Random, node: dict) -> tuple[list[tuple[Fault, int | None]], Meter] | None:
    """Two faults of any two kinds, and the meter on a part with both."""
    every = [one for one in every_fault(node) if one[0] != "leads_open"]
    kinds = rng.sample(sorted({kind for kind, _ in every}), 2)
    two = [rng.choice([one for one in every if one[0] == kind]) for kind in (kinds if rng.random() < 0.8 else kinds[:1] * 2)]
    if two[0] == two[1] or (two[0][0] == two[1][0] and two[0][0] in ("detent", "leads", "drift")):
        return None
    faults = [(one, rng.choice(contacts_of(node, *one))) for one in two]
    if faults[0][1] is not None and faults[0][1] == faults[1][1]:
        return None  # two of one contact: one of them leaves nothing of the other, or they are one step and another
    much = [amount_of(kind, rng) for (kind, _), _ in faults]
    return faults, done(node, faults, much)


def cannot_be(node: dict, told: Explanation, readings: list[Reading]) -> bool:
    """Whether no amount of two faults makes these readings, whichever was first: reckoned at both ends of what they can do, and at some of
    the factors of a drift."""
    two = [(one.kind, one.about) for one in told.of]
    factors = [0.2 * 1.08**step for step in range(43)] if any(kind == "drift" for kind, _ in two) else [1.0]
    limits = {"step_wrong": (0.0, 1e6), "leads": (1.0, 10.0)}
    for first, second in (two, two[::-1]):
        for one in contacts_of(node, *first):
            for other in contacts_of(node, *second):
                for factor in factors:
                    for end in ("own", "out"):
                        much = [[{"ohms": limits.get(kind, (1.0, 1e6))[most], "factor": factor, "end": end} for kind, _ in (first, second)] for most in (0, 1)]  # fmt: skip  # noqa: E501
                        low, high = (done(node, [(first, one), (second, other)], how) for how in much)
                        if all(_within(at.ohms, low(at.a, at.b, at.position), high(at.a, at.b, at.position), end) for at in readings):
                            return False
    return True


def _within(ohms: float, low: float, high: float, end: str) -> bool:
    return low * 0.7 <= ohms <= high * 1.3 or same(ohms, low, 0.3) or same(ohms, high, 0.3) or (end == "out" and ohms > 1e6)


def is_told(node: dict, faults: list[tuple[Fault, int | None]], told: tuple[Explanation, ...]) -> bool:
    """Whether two faults are among what is told."""
    (one, _), (other, _) = faults
    return any(
        (is_among(*one, (first,), node) and is_among(*other, (second,), node))
        for each in told
        for first, second in (each.of, each.of[::-1])
    )


@pytest.mark.parametrize("block", range(6))
@pytest.mark.slow
def test_any_two_faults_are_told_or_fewer_that_explain_the_same(block: int) -> None:
    tried, kinds = [], set()
    for seed in range(3_000 + 5 * block, 3_005 + 5 * block):
        rng, node, part = random_model(seed)
        what = (part, pins_of(part), POSITIONS)
        lines = proof_sheet(*what, called(part)).lines
        for _ in range(8):
            made = planted(rng, node)
            if made is None:
                continue
            faults, way = made
            readings = [Reading(one.a, one.b, at, way(one.a, one.b, at)) for one in lines for at in POSITIONS]
            told = diagnose(*what, readings, called(part)).told
            if told and told[0].kind != "pair":
                assert told[0].kind in ("good", "not_proved") or not all(refuted(node, one, readings) for one in told), (faults, told)
                continue
            assert is_told(node, faults, told), (seed, faults, told)
            for one in rng.sample(told, min(len(told), 3)):
                assert not cannot_be(node, one, readings), (seed, faults, one)
            tried.append(len(told))
            kinds |= {kind for (kind, _), _ in faults}
    assert tried and len(kinds) > 5


def test_a_step_that_is_wrong_reads_the_same_wherever_it_is_read() -> None:
    """One detent off towards the first position the lever has two positions for it there: what reads 352 ohms in one of them and 752 in the
    other is no one resistance."""
    node = {
        "number": "A-1", "connector": "c", "mount": "boss",
        "pins": {"1": "start_feed", "2": "start_out", "3": "range_signal", "4": "range_return"},
        "contacts": [
            {"pins": ["1", "2"], "closed": ["P"]},
            {"pins": ["3", "4"], "ohms": dict(zip(POSITIONS, (220, 470, 820, 1500), strict=False))},
        ],
    }  # fmt: skip
    (part,) = model(node)
    first, second = POSITIONS[:2]
    off_and_wrong = {frozenset({("detent", ("-1",)), ("step_wrong", ("3", "4", first))})}

    def told(in_first: float, in_second: float) -> set:
        readings = [Reading("3", "4", first, in_first), Reading("3", "4", second, in_second), Reading("1", "2", second, 0.1)]
        found = diagnose(part, pins_of(part), POSITIONS, readings, called(part)).told
        return {frozenset((of.kind, of.about) for of in one.of) for one in found}

    assert off_and_wrong <= told(352, 352) and not off_and_wrong & told(352, 752)
