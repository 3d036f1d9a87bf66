"""A sample of the defects that ``benchmarks/seeding.py`` sows everywhere: each is found, by its rule, where it is to be mended."""

from __future__ import annotations

import random
from datetime import date
from pathlib import Path

import pytest

from rangebook.lint.registry import all_rules
from tests.lint.seeding.operators import OPERATORS
from tests.lint.seeding.sowing import Ground, Operator

ROOT = Path(__file__).resolve().parents[3]
SAMPLE = 2


@pytest.fixture(scope="module")
def ground() -> Ground:
    return Ground(ROOT, date.today())


def test_nothing_is_found_in_the_clean_book(ground: Ground) -> None:
    assert ground.lint() == []


def test_there_are_enough_kinds_of_slips_and_every_rule_has_one() -> None:
    assert len({one.name for one in OPERATORS}) == len(OPERATORS) >= 60
    assert set().union(*(one.rules for one in OPERATORS)) == set(all_rules())


@pytest.mark.parametrize("operator", OPERATORS, ids=lambda one: one.name)
def test_a_defect_is_told_in_the_right_file_by_the_right_rule_on_the_right_line(ground: Ground, operator: Operator) -> None:
    seeds = list(operator.seeds(ground))
    assert seeds, "it fits nowhere in the demo book"
    for seed in random.Random(operator.name).sample(seeds, min(SAMPLE, len(seeds))):
        outcome = ground.try_out(operator, seed)
        assert outcome.found and outcome.right_rule and outcome.right_line, (seed.what, seed.places, outcome.findings)
