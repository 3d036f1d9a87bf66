"""signal-twice."""

from __future__ import annotations

from collections.abc import Iterator

from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

PINS = "pins: {5: range_signal, 6: range_signal_2, 7: supply}"


def test_the_second_one_is_told_and_each_further_one(look_at_part):
    found = look_at_part("signal-twice", PINS, "signals: [{pin: 5, supply: 7}, {pin: 6, supply: 7}, {pin: 5}, {pin: 5}]")
    assert [one.at[0] for one in found] == ["5", "5"] and "second signal on pin 5" in found[0].message


def test_one_for_each_pin_is_fine(look_at_part):
    assert look_at_part("signal-twice", PINS, "signals: [{pin: 5, supply: 7}, {pin: 6, supply: 7}]") == []


@operator("a signal entered twice", "signal-twice")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.nodes("parts", "*", "signals"):
            for item in node.items:
                start, end = source.line_span(item.start)
                line = source.text[start:end]
                if line.lstrip().startswith("- {"):
                    yield source.seed((end, end, line))
