"""A ladder as the module reads it."""

from __future__ import annotations

import random

import eseries
import pytest

from rangebook.book.model import Reads
from rangebook.electrics.ladder import decode, volts, window
from rangebook.electrics.relation import JOINED, OPEN, UNKNOWN, PathKind, Relation

READS = Reads(("5", "6"), 1000, 5)
LADDER = {"P": 9100, "R": 3900, "N": 1800, "D": 910, "2": 430, "1": 200}


def windows(ohms: dict[str, float], percent: float = 5):
    return {at: window(Relation(PathKind.OHMS, value, percent), READS) for at, value in ohms.items()}


def test_the_voltage_divider() -> None:
    # Ohm's law: 1 kohm against 1 kohm halves the voltage.
    assert volts(1000, READS) == pytest.approx(2.5)
    assert volts(0, READS) == 0
    assert volts(float("inf"), READS) == 5
    assert volts(9100, READS) == pytest.approx(5 * 9100 / 10100)


def test_the_ladder_of_the_examples_uses_preferred_values() -> None:
    # IEC 60063, by PyPI's eseries.
    for ohms in LADDER.values():
        assert eseries.find_nearest(eseries.E24, ohms) == pytest.approx(ohms)


def test_equal_ladders_read_alike_with_room() -> None:
    found = decode(windows(LADDER), windows(LADDER))
    assert found.mistaken == {} and found.margin > 0.1


def test_a_ladder_that_differs_but_reads_alike() -> None:
    other = {at: ohms * 1.12 for at, ohms in LADDER.items()}
    found = decode(windows(LADDER), windows(other))
    assert found.mistaken == {} and 0 < found.margin < decode(windows(LADDER), windows(LADDER)).margin


def test_a_ladder_one_detent_off_is_named() -> None:
    shifted = dict(zip(LADDER, [*list(LADDER.values())[1:], 68], strict=True))
    found = decode(windows(LADDER), windows(shifted))
    assert found.mistaken["P"] == "R" and found.mistaken["N"] == "D"
    assert "P" in found.sure and found.margin <= 0


def test_right_at_nominal_but_not_at_the_worst_of_the_tolerances() -> None:
    close = {"P": 1000, "R": 1300}
    found = decode(windows(close, 1), windows({"P": 1100, "R": 1300}, 10))
    assert found.mistaken == {"P": "R", "R": "P"} or found.mistaken.get("P") == "R"
    assert "P" not in found.sure


def test_short_and_open_are_readings_too() -> None:
    assert window(JOINED, READS).nominal == 0 and window(OPEN, READS).nominal == 5
    assert window(UNKNOWN, READS) is None


def test_against_random_resistors_within_the_tolerances() -> None:
    """What decodes with room left must decode whatever the resistors really are, by the nearest of the original's readings."""
    rng = random.Random(7)
    room = no_room = 0
    for _ in range(400):
        picked = rng.sample([68, 150, 330, 470, 620, 820, 1100, 1500, 2000, 3300, 4300, 9100], 5)
        ours = dict(zip("PRND2", picked, strict=True))
        theirs = {at: ohms * rng.uniform(0.75, 1.3) for at, ohms in ours.items()}
        found = decode(windows(ours, 5), windows(theirs, 8))
        wrong = set()
        for _ in range(60):
            real = {at: volts(ohms * rng.uniform(0.95, 1.05), READS) for at, ohms in ours.items()}
            for at, ohms in theirs.items():
                read = volts(ohms * rng.choice([0.92, 1.08, rng.uniform(0.92, 1.08)]), READS)
                if min(real, key=lambda one: abs(real[one] - read)) != at:
                    wrong.add(at)
        assert wrong <= set(found.mistaken)
        room += not found.mistaken
        no_room += bool(found.mistaken)
    assert room > 20 and no_room > 20
