"""adapter-bag."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from rangebook.lint.examples import example_book
from tests.lint.marking import found_at_marks, found_in
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "adapter-bag"


@operator("a lead that is ready made, with things to crimp in its bag", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("kit"):
        if source.at("seals") is not None and source.at("joins") is None:
            key = source.key("seals")
            yield source.seed((key.start, key.start, "joins: plug_in\n"), told=key.start + 1)


@pytest.mark.parametrize("joins", ["plug_in", "splice"])
def test_each_thing_in_the_bag_of_a_ready_lead(joins: str) -> None:
    bag = "    terminal: {plating: tin}\n    terminals: {1: {plating: gold}}\n"
    bag += "    wire_seals: [{count: 4}]\n    seals: [4, 6]\n    blanks: 2\n"
    found = [one for one in found_in(example_book(f"    kind: kit\n    joins: {joins}\n{bag}"), RULE) if one.rule == RULE]
    assert [one.message.split("`")[3] for one in found] == ["terminal", "terminals", "wire_seals", "seals", "blanks"]


def test_that_there_is_none_of_it_may_be_said() -> None:
    found_at_marks(RULE, "    kind: kit\n    joins: plug_in\n    seals: []\n    blanks: 0\n", alone=False)


def test_a_kit_that_is_crimped_on() -> None:
    found_at_marks(RULE, "    kind: kit\n    joins: cut\n", alone=False)
