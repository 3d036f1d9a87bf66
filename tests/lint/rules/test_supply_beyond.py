"""supply-beyond."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "supply-beyond"


@operator("ten times what a wire gives", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.scalars("plugs", "*", "wires", "*", "gives_volts", "max"):
            told = source.at(*path[:-1]).start
            yield source.seed((node.start, node.end, "49"), told=told)


def entry(given: str, supply: str) -> str:
    signal = "{pin: 2, supply: 1, ground: 3, kind: volts, values: {P: 1, R: 1.5, N: 2, D: 2.5, 2: 3, 1: 3.5}, tolerance: 0.1"
    return f"""
    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: current
        pins: {{1: supply, 2: range_signal, 3: signal_ground}}
        signals: [{signal}{supply}}}]
        sources: [{{kind: seen}}]
    plugs:
      six-wire:
        connector: oval-9
        wires: {{1: {{circuit: supply, gives_volts: {given}}}, 2: {{circuit: range_signal}}, 3: {{circuit: signal_ground}}}}
"""


@pytest.mark.parametrize(
    ("given", "supply"),
    [
        ("»12", ", supply_volts: 5"),
        ("»[11, 15]", ", supply_volts: {min: 8, max: 14}"),
        ("»[15, 11]", ", supply_volts: [8, 18]"),
        ("»[15, 11]", ""),
    ],
)
def test_what_it_is_not_made_for(given: str, supply: str) -> None:
    (found,) = found_at_marks(RULE, entry(given, supply))
    assert found.message.startswith("the wire in cavity 1 of the plug six-wire gives")


@pytest.mark.parametrize(("given", "supply"), [("12", ", supply_volts: [8, 18]"), ("[4.6, 5.4]", ", supply_volts: 5"), ("12", "")])
def test_what_it_is_made_for_is_fine(given: str, supply: str) -> None:
    found_at_marks(RULE, entry(given, supply))
