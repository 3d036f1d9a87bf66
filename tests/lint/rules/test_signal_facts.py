"""signal-facts."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "signal-facts"
PINS = "pins: {5: range_signal, 6: signal_ground, 7: supply}"


@operator("the least and the most supply changed about", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, least in source.scalars("parts", "*", "signals", "*", "supply_volts", "min"):
            most = source.at(*path[:-1], "max")
            yield source.seed((least.start, least.end, most.value), (most.start, most.end, least.value))


@operator("a protocol for something that is no data", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, kind in source.scalars("parts", "*", "signals", "*", "kind"):
            if kind.value != "serial":
                yield source.seed((kind.end, kind.end, ", protocol: house"))


@pytest.mark.parametrize(
    ("signal", "what"),
    [
        ("kind: duty_percent, protocol: house", "only `serial` data have a protocol"),
        ("kind: duty_percent, ratiometric: yes", "only `volts` go with their supply"),
        ("kind: volts, supply_volts: {min: 16, max: 9}", "the least supply is more than the most"),
        ("kind: volts, supply_volts: [16, 9]", "the least supply is more than the most"),
    ],
)
def test_what_its_kind_does_not_have(look_at_part, signal, what):
    (found,) = look_at_part(RULE, PINS, f"signals: [{{pin: 5, supply: 7, ground: 6, {signal}}}]")
    assert what in found.message


@pytest.mark.parametrize(
    "signal",
    [
        "kind: serial, protocol: house",
        "kind: volts, ratiometric: yes",
        "kind: duty_percent, ratiometric: no",
        "protocol: house",
        "supply_volts: 5",
    ],
)
def test_what_it_has_is_fine(look_at_part, signal):
    assert look_at_part(RULE, PINS, f"signals: [{{pin: 5, supply: 7, ground: 6, {signal}}}]") == []
