"""Laws of verdicts over random worlds, and that each of them fails where the engine forgets it."""

from __future__ import annotations

import copy
import random
from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from rangebook.fitting import cases, check_mating, judge
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.verdict import RANK, Verdict, VerdictKind
from tests.fitting import test_loops_and_meanings as jumpers
from tests.fitting import worlds
from tests.making import book

Node = dict[str, Any]


def entries_of(seed: int, split: bool) -> list[Node]:
    """What somebody writes of a random world, who leaves out a little."""
    rng = random.Random(seed)
    true = worlds.world(rng)
    worlds.add_twins(rng, true)
    if split:
        worlds.split(rng, true)
    return worlds.book_of(rng, true, rng.choice([0.0, 0.03]))


def every(entries: list[Node]) -> dict[tuple[str, str, str], Verdict]:
    """The vehicle, what it came with and the candidate -> the verdict."""
    fitter = Fitter(book(*entries))
    return {
        (one.vehicle, seat.original.number, part.number): fitter.verdict(seat, part)
        for seat in fitter.seats
        for one in seat.applications
        for part in fitter.book.parts
        if part.key != seat.original.key
    }


# A plug more ------------------------------------------------------------------------------------------------------------------


def with_one_plug(entries: list[Node]) -> list[Node]:
    """The same vehicles without their second plug."""
    made = copy.deepcopy(entries)
    for one in made:
        if one["kind"] == "switch":
            plug = one["plugs"]["p"]
            plug["connectors"] = {"main": plug["connectors"]["main"]}
            plug["wires"] = {cavity: about for cavity, about in plug["wires"].items() if cavity.startswith("main.")}
            plug.pop("reads", None)
    return made


def a_plug_more_is_never_better(seeds: range) -> Counter[tuple[str, str]]:
    found: Counter[tuple[str, str]] = Counter()
    for seed in seeds:
        entries = entries_of(seed, split=True)
        many, few = every(entries), every(with_one_plug(entries))
        for key, one in few.items():
            if key in many:
                found[str(one.kind), str(many[key].kind)] += 1
                assert RANK[many[key].kind] >= RANK[one.kind], (seed, key, one.reasons, many[key].reasons)
    return found


def test_a_plug_more_never_makes_a_verdict_better() -> None:
    found = a_plug_more_is_never_better(range(400, 406))
    assert found["straight", "straight"] and found["straight", "no"] and found["unknown", "no"], found


# A loop is a contact of the plug --------------------------------------------------------------------------------------------------


def a_jumper_is_a_contact(seeds: range) -> None:
    for seed in seeds:
        jumpers.test_a_jumper_is_a_contact_of_every_part(seed)


# A condition split in two ---------------------------------------------------------------------------------------------------------


CHANGE = {"to": "2008-12"}, {"from": "2009-01"}


def in_two(seed: int) -> Iterator[tuple[Node, list[Node], list[Node], list[Node]]]:
    """A family whose first part is of two designs, by the month in which the vehicle was built: the book with the condition, and the books
    where it is of the one or of the other alone."""
    entries = entries_of(seed, split=False)
    rng = random.Random(seed)
    for at, family in enumerate(entries):
        if family["kind"] != "switch" or not family["parts"][0].get("contacts"):
            continue
        changed = copy.deepcopy(family["parts"][0]["contacts"])
        closing = [one for one in changed if "closed" in one]
        if closing and rng.random() < 0.7:
            one = rng.choice(closing)
            one["closed"] = sorted(set(one["closed"]) ^ {rng.choice(family["positions"])})
        both, early, late = (copy.deepcopy(entries) for _ in range(3))
        both[at]["parts"][0]["revisions"] = [{"when": {"built": CHANGE[1]}, "contacts": changed}]
        late[at]["parts"][0]["contacts"] = changed
        (used,) = [one for one in family["applications"] if one["came_with"] == family["parts"][0]["number"]]
        both[at]["applications"] = [
            {**used, "vehicle": name, **({"when": {"built": when}} if when else {})}
            for name, when in (("early", CHANGE[0]), ("late", CHANGE[1]), ("unsaid", None))
        ]
        for other in (early, late):
            other[at]["applications"] = [{**used, "vehicle": "it"}]
        yield family, both, early, late


def answer(found: Verdict) -> object:
    return found.kind, (found.needs, found.also, dict(found.moves)) if found.goes_on else ()


def each_half_has_its_own_answer(seeds: range) -> Counter[str]:
    kinds: Counter[str] = Counter()
    for seed in seeds:
        for family, both, early, late in in_two(seed):
            number = family["parts"][0]["number"]
            found, first, second = every(both), every(early), every(late)
            for (vehicle, built, candidate), one in first.items():
                if (vehicle, built) != ("it", number):
                    continue
                other = second["it", number, candidate]
                assert answer(found["early", number, candidate]) == answer(one), (seed, candidate)
                assert answer(found["late", number, candidate]) == answer(other), (seed, candidate)
                whole = found["unsaid", number, candidate]
                if answer(one) == answer(other):
                    assert answer(whole) == answer(one), (seed, candidate)
                    kinds["alike"] += 1
                else:
                    assert whole.kind is VerdictKind.UNKNOWN, (seed, candidate)
                    assert "behaviour.depends" in {reason.code for reason in whole.reasons}, (seed, candidate)
                    kinds["apart"] += 1
    return kinds


def test_a_condition_split_in_two_gives_each_half_its_own_answer() -> None:
    kinds = each_half_has_its_own_answer(range(500, 504))
    assert kinds["alike"] > 10 and kinds["apart"] > 10, kinds


# That they can fail -----------------------------------------------------------------------------------------------------------------


def leave_plugs_hanging(patch: pytest.MonkeyPatch) -> None:
    """A plug that finds no connector is forgotten."""
    patch.setattr(judge, "no_way", lambda book, seat, part: [])


def forget_jumpers(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(check_mating, "loops_in", lambda plug, leg: [])


def take_the_first_design(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(cases, "_vehicles", lambda book, seat, routes: [cases._Vehicle(seat.original, True)])


@pytest.mark.parametrize(
    ("law", "seeds", "forget"),
    [
        (a_plug_more_is_never_better, range(400, 406), leave_plugs_hanging),
        (a_jumper_is_a_contact, range(3, 12), forget_jumpers),
        (each_half_has_its_own_answer, range(500, 504), take_the_first_design),
    ],
)
def test_each_law_can_fail(
    law: Callable[[range], object], seeds: range, forget: Callable[[pytest.MonkeyPatch], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    forget(monkeypatch)
    with pytest.raises(AssertionError):
        law(seeds)
