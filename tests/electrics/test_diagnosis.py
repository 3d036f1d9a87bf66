"""The signatures of single faults against the plainest way to get them: the part built faulty, read pair by pair."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import combinations

import pytest
from tests.electrics.test_proof import model, pins_of
from tests.fitting.reckoning import CASE, POSITIONS, random_part

from rangebook.book.model import Part
from rangebook.electrics.behaviour import behaviour
from rangebook.electrics.diagnosis import Explanation, Signature, reading_fits, signatures
from rangebook.electrics.relation import JOINED, OPEN, PathKind, Relation


def read(part: Part, pins: dict[str, str], positions: tuple[str, ...]) -> dict[tuple[str, str], tuple]:
    """Every pair, one at a time."""
    return {
        (a, b): tuple(
            None if one.path is PathKind.UNKNOWN else one for one in behaviour(part, ((a, pins[a]), (b, pins[b])), positions).between(a, b)
        )
        for a, b in combinations(pins, 2)
    }


def rows_of(signature: Signature, pins: dict[str, str]) -> dict[tuple[str, str], tuple]:
    return {pair: signature.row(*pair) for pair in combinations(pins, 2)}


def faulty(part: Part, pins: dict[str, str]) -> dict[Explanation, dict]:
    """Every single fault, each built for itself."""
    found = {}
    for index, contact in enumerate(part.contacts):
        for kind, closed in (("stuck_open", ()), ("stuck_closed", POSITIONS)):
            contacts = list(part.contacts)
            contacts[index] = replace(contact, closed=frozenset(closed), ohms=None)
            found.setdefault(Explanation(kind, (contact.a, contact.b)), []).append(
                read(replace(part, contacts=tuple(contacts)), pins, POSITIONS)
            )
    healthy = read(part, pins, POSITIONS)
    found[Explanation("detent", ("1",))] = [{pair: (*row[1:], None) for pair, row in healthy.items()}]
    found[Explanation("detent", ("-1",))] = [{pair: (None, *row[:-1]) for pair, row in healthy.items()}]
    for one, other in combinations([pin for pin in pins if pin != CASE], 2):
        found[Explanation("swapped", (one, other))] = [read(part, {**pins, one: pins[other], other: pins[one]}, POSITIONS)]
    return {kind: [row for row in rows if row != healthy] for kind, rows in found.items()}


@pytest.mark.parametrize("seed", range(40))
def test_every_signature(seed: int) -> None:
    (part,) = model(random_part(random.Random(seed), pins=5))
    good, *faults = signatures(part, pins_of(part), POSITIONS, {})
    pins = dict(pins_of(part))
    assert good.explanation == Explanation("good")
    assert rows_of(good, pins) == read(part, pins, POSITIONS)
    expected = faulty(part, pins)
    assert {one.explanation for one in faults} == {kind for kind, rows in expected.items() if rows}
    for kind, rows in expected.items():
        assert [rows_of(one, pins) for one in faults if one.explanation == kind] == rows


def test_what_is_not_known_takes_any_reading() -> None:
    assert reading_fits(None, 0.1) and reading_fits(None, float("inf"))
    assert not reading_fits(JOINED, 5) and not reading_fits(OPEN, 5) and not reading_fits(Relation(PathKind.OHMS, 100, 5), 5)
