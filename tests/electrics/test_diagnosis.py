"""What readings tell against the plainest way to get them: the part built faulty, read by nodal analysis (numpy)."""

from __future__ import annotations

import random
from collections.abc import Callable
from itertools import combinations
from typing import Any

import pytest
from tests.electrics.test_insulation import kept_apart, ohms_between, random_starter
from tests.electrics.test_proof import called, model, pins_of
from tests.fitting.reckoning import CASE, POSITIONS

from rangebook.electrics.cells import Between, Either, reading_fits
from rangebook.electrics.diagnosis import Reading, diagnose
from rangebook.electrics.faults import SHORTS, Explanation
from rangebook.electrics.proof import proof_sheet
from rangebook.electrics.relation import JOINED, OPEN, PathKind, Relation

Meter = Callable[[str, str, str], float]
INFINITE = float("inf")


def meter(node: dict[str, Any]) -> Meter:
    return lambda a, b, at: ohms_between(node, a, b, at)


def with_contact(node: dict, index: int, **changed: Any) -> dict:
    contacts = list(node["contacts"])
    contacts[index] = {"pins": contacts[index]["pins"], **changed}
    return {**node, "contacts": contacts}


def with_path(node: dict, a: str, b: str, ohms: float) -> dict:
    return {**node, "contacts": [*node["contacts"], {"pins": [a, b], "ohms": dict.fromkeys(POSITIONS, ohms)}]}


def conducts(contact: dict) -> list[str]:
    return list(contact["closed"]) if "closed" in contact else [at for at, ohms in contact["ohms"].items() if ohms != "open"]


def built(node: dict, kind: str, about: tuple[str, ...], ohms: float = 0.0, factor: float = 1.0, end: str = "own") -> list[Meter]:
    """The meter on a part with a fault, built for itself: one for each contact that it may be. ``ohms``, ``factor`` and ``end`` are how
    much it does where its kind leaves that open."""
    here = [at for at, one in enumerate(node["contacts"]) if tuple(one["pins"]) == about[:2]]
    ladders = [at for at in here if "ohms" in node["contacts"][at]]
    found: list[dict] = []
    match kind:
        case "stuck_open":
            found = [with_contact(node, at, closed=[]) for at in here]
        case "stuck_closed":
            found = [with_contact(node, at, closed=list(POSITIONS)) for at in here]
        case "burnt":
            plain = [at for at in here if at not in ladders]
            found = [with_contact(node, at, closed=[p for p in conducts(node["contacts"][at]) if p != about[2]]) for at in plain]
        case "step_open" | "step_wrong":
            value = "open" if kind == "step_open" else ohms
            found = [with_contact(node, at, ohms={**node["contacts"][at]["ohms"], about[2]: value}) for at in ladders]
        case "resistance":
            plain = [at for at in here if at not in ladders]
            rows = [{p: ohms if p in conducts(node["contacts"][at]) else "open" for p in POSITIONS} for at in plain]
            found = [with_contact(node, at, ohms=row) for at, row in zip(plain, rows, strict=True)]
        case "drift":
            # All the resistors on one plate, which is all that hang together.
            plate, grown = set(about), True
            while grown:
                more = {end for one in node["contacts"] if plate & set(one["pins"]) for end in one["pins"]}
                grown, plate = not more <= plate, plate | more
            contacts = [
                {**one, "ohms": {at: v if v == "open" else v * factor for at, v in one["ohms"].items()}}
                if "ohms" in one and set(one["pins"]) <= plate
                else one
                for one in node["contacts"]
            ]
            found = [{**node, "contacts": contacts}]
        case "shunted" | "leakage":
            found = [with_path(node, *about, ohms)]
        case "shorted":
            found = [with_path(node, *about, 0)]
        case "grounded":
            found = [with_path(node, about[0], CASE, 0)]
        case "open":
            off = f"off {about[0]}"
            contacts = [{**one, "pins": [off if pin == about[0] else pin for pin in one["pins"]]} for one in node["contacts"]]
            found = [{**node, "contacts": contacts}]
        case "detent":
            good, shift = meter(node), int(about[0])

            def shifted(a: str, b: str, at: str) -> float:
                place = POSITIONS.index(at) + shift
                if 0 <= place < len(POSITIONS):
                    return good(a, b, POSITIONS[place])
                return good(a, b, at) if end == "own" else INFINITE

            return [shifted]
        case "swapped":
            good, place = meter(node), {about[0]: about[1], about[1]: about[0]}
            return [lambda a, b, at: good(place.get(a, a), place.get(b, b), at)]
        case "leads_open":
            return [lambda a, b, at: INFINITE]
        case "leads":
            good = meter(node)
            return [lambda a, b, at: good(a, b, at) + ohms if good(a, b, at) < 0.01 else good(a, b, at)]
    return [meter(one) for one in found]


def every_fault(node: dict) -> list[tuple[str, tuple[str, ...]]]:
    """All that can be wrong with a part, under the name by which it is told."""
    ends = [*node["pins"], CASE]
    found: list[tuple[str, tuple[str, ...]]] = [("detent", ("1",)), ("detent", ("-1",)), ("leads_open", ()), ("leads", ())]
    pairs = {frozenset(one["pins"]) for one in node["contacts"]}
    ladders = {frozenset(one["pins"]) for one in node["contacts"] if "ohms" in one}
    for contact in node["contacts"]:
        both, on = tuple(contact["pins"]), conducts(contact)
        found += [("stuck_open", both), ("stuck_closed", both)]
        found += [("burnt" if "closed" in contact else "step_open", (*both, at)) for at in on if len(on) > 1]
        found += [("step_wrong", (*both, at)) for at in POSITIONS] if "ohms" in contact else [("resistance", both)] if on else []
        found += [("drift", both), ("shunted", tuple(sorted(both)))] if "ohms" in contact else []
    for a, b in combinations(ends, 2):
        if b != CASE:
            found.append(("swapped", (a, b)))
        if frozenset((a, b)) not in pairs:
            found.append(("grounded", (a,)) if b == CASE else ("shorted", (a, b)))
        if frozenset((a, b)) not in ladders:
            found.append(("leakage", (a, b)))
    on_pin = [pin for contact in node["contacts"] for pin in contact["pins"]]
    return list(dict.fromkeys([*found, *(("open", (pin,)) for pin in node["pins"] if on_pin.count(pin) > 1)]))


def random_model(seed: int) -> tuple[random.Random, dict, Any]:
    """A part with outputs, its ladders of ten percent."""
    rng = random.Random(seed)
    node, outputs = random_starter(rng)
    kept_apart(node, outputs)
    for contact in node["contacts"]:
        contact.pop("tolerance_percent", None)
    on = {pin for contact in node["contacts"] for pin in contact["pins"]}
    node["pins"] = {pin: circuit if pin in on else "not_connected" for pin, circuit in node["pins"].items()}
    node["contacts"].append({"pins": [next(iter(node["pins"])), CASE], "closed": []}) if CASE not in on else None
    (part,) = model(node)
    return rng, node, part


def amount(rng: random.Random) -> dict[str, Any]:
    return {
        "ohms": rng.choice([2, 7, 60, 900, 12_000, 300_000]),
        "factor": rng.choice([0.3, 0.6, 1.5, 3.0]),
        "end": rng.choice(["own", "out"]),
    }


def same(one: float, other: float, slack: float = 0.25) -> bool:
    """Whether two readings may be the same one, the tolerances of both as wide as they get."""
    for value in (one, other):
        if value < 1 or value > 1e6:
            return (one < 1) == (other < 1) and (one > 1e6) == (other > 1e6)
    return abs(one - other) <= slack * max(one, other)


def refuted(node: dict, told: Explanation, readings: list[Reading]) -> bool:
    """Whether no amount of a fault makes these readings: reckoned at both ends of what it can do, and at some of its factors."""
    match told.kind:
        case "drift":
            made = [built(node, told.kind, told.about, factor=0.2 * 1.05**step)[0] for step in range(66)]
            return not any(all(same(one.ohms, way(one.a, one.b, one.position)) for one in readings) for way in made)
        case "leak":
            return False  # of whatever leads out of it
        case "detent":
            made = [built(node, told.kind, told.about, end=end)[0] for end in ("own", "out")]
            return not all(any(same(one.ohms, way(one.a, one.b, one.position)) for way in made) for one in readings)
    lows = built(node, told.kind, told.about, ohms=0.0 if told.kind == "step_wrong" else 1.0)
    highs = built(node, told.kind, told.about, ohms=10.0 if told.kind == "leads" else 1e6)
    for low, high in zip(lows, highs, strict=True):
        spans = [(one.ohms, low(one.a, one.b, one.position), high(one.a, one.b, one.position)) for one in readings]
        if all(least * 0.75 <= ohms <= most * 1.25 or same(ohms, least) or same(ohms, most) for ohms, least, most in spans):
            return False
    return True


def is_among(kind: str, about: tuple[str, ...], told: tuple[Explanation, ...], node: dict) -> bool:
    if any(one.kind == kind and (one.about == about or one.about == about[::-1]) for one in told):
        return True
    if kind == "drift":  # named by the first ladder of those that hang together
        return any(one.kind == kind for one in told)
    return kind in SHORTS and any(one.kind == "leak" and one.about[0] in (*about, CASE) for one in told)


@pytest.mark.parametrize("seed", range(30))
def test_every_single_fault_is_told_and_none_that_the_readings_refute(seed: int) -> None:
    rng, node, part = random_model(seed)
    lines = proof_sheet(part, pins_of(part), POSITIONS, called(part)).lines
    good = {(one.a, one.b, at): reading for one in lines for at, reading in zip(POSITIONS, one.expected, strict=True)}
    seen = set()
    for kind, about in rng.sample(every := every_fault(node), min(len(every), 25)):
        much = {**amount(rng), **({"ohms": rng.choice([2, 7])} if kind == "leads" else {})}
        for way in built(node, kind, about, **much):
            readings = [Reading(one.a, one.b, at, way(one.a, one.b, at)) for one in lines for at in POSITIONS]
            # Far from what stands between good and bad only: there is a reading that neither fits.
            if all(reading_fits(None if row.path is PathKind.UNKNOWN else row, one.ohms) for one in readings for row in [good[one.a, one.b, one.position]]):  # fmt: skip  # noqa: E501
                continue
            told = diagnose(part, pins_of(part), POSITIONS, readings, called(part)).told
            assert is_among(kind, about, told, node), (kind, about, told)
            for one in told:
                if one.kind != "pair":
                    assert not refuted(node, one, readings), (kind, about, one)
            seen.add(kind)
    assert seen


def with_both(node: dict, faults: list[tuple[str, tuple[str, ...]]], much: list[dict[str, Any]]) -> Meter | None:
    """The meter on a part with two faults, the second built into what the first made of it; contacts keep their places."""
    for (kind, about), how in zip(faults[:-1], much, strict=False):
        changed = changed_by(node, kind, about, how["ohms"])
        if changed is None:
            return None
        node = changed
    ways = built(node, *faults[-1], **much[-1])
    return ways[0] if len(ways) == 1 else None


def changed_by(node: dict, kind: str, about: tuple[str, ...], ohms: float) -> dict | None:
    here = [at for at, one in enumerate(node["contacts"]) if tuple(one["pins"]) == about[:2]]
    match kind:
        case "stuck_open" | "stuck_closed" if len(here) == 1:
            return with_contact(node, here[0], closed=[] if kind == "stuck_open" else list(POSITIONS))
        case "burnt" if len(here) == 1:
            return with_contact(node, here[0], closed=[p for p in conducts(node["contacts"][here[0]]) if p != about[2]])
        case "step_open" | "step_wrong" if len(here) == 1:
            row = {**node["contacts"][here[0]]["ohms"], about[2]: "open" if kind == "step_open" else ohms}
            return with_contact(node, here[0], ohms=row)
        case "shorted":
            return with_path(node, *about, 0)
    return None


HARD = ("stuck_open", "stuck_closed", "burnt", "step_open", "step_wrong", "shorted")


def of_one_contact(one: tuple[str, tuple[str, ...]], other: tuple[str, tuple[str, ...]]) -> bool:
    return one[1][:2] == other[1][:2]


@pytest.mark.parametrize("block", range(8))
@pytest.mark.slow
def test_two_faults_are_told_or_fewer_that_explain_the_same(block: int) -> None:
    """In one bundle as well as in two. Where a single fault makes the same readings that is what is told, and none is refuted by them."""
    tried = 0
    for seed in range(900 + 4 * block, 904 + 4 * block):
        rng, node, part = random_model(seed)
        lines = proof_sheet(part, pins_of(part), POSITIONS, called(part)).lines
        hard = [one for one in every_fault(node) if one[0] in HARD]
        for two in [rng.sample(hard, 2) for _ in range(6)]:
            way = None if of_one_contact(*two) else with_both(node, two, [amount(rng), amount(rng)])
            if way is None:
                continue
            readings = [Reading(one.a, one.b, at, way(one.a, one.b, at)) for one in lines for at in POSITIONS]
            told = diagnose(part, pins_of(part), POSITIONS, readings, called(part)).told
            if told and told[0].kind in ("good", "not_proved"):
                continue  # nothing of the sheet shows either
            if told and told[0].kind != "pair":
                assert not any(refuted(node, one, readings) for one in told if one.kind not in ("leak", "pair")), (two, told)
                continue
            tried += 1
            among = [{(of.kind, frozenset(of.about)) for of in one.of} for one in told]
            assert {(kind, frozenset(about)) for kind, about in two} in among, (two, told)
    assert tried


def test_what_is_not_known_takes_any_reading() -> None:
    assert reading_fits(None, 0.1) and reading_fits(None, float("inf"))
    assert not reading_fits(JOINED, 5) and not reading_fits(OPEN, 5) and not reading_fits(Relation(PathKind.OHMS, 100, 5), 5)
    assert reading_fits(Between(1, 10), 1) and not reading_fits(Between(1, 10), 0.9) and reading_fits(Between(5, INFINITE), INFINITE)
    assert reading_fits(Either((JOINED, OPEN)), 0.1) and reading_fits(Either((JOINED, OPEN)), 2e6) and not reading_fits(Either((JOINED, OPEN)), 50)  # fmt: skip  # noqa: E501
