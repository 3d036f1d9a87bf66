"""serial-incomplete."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "serial-incomplete"
PINS = "pins: {5: range_signal, 6: signal_ground, 7: supply}"


@operator("a protocol left out", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.scalars("parts", "*", "signals", "*", "protocol"):
            start = re.search(r",? *protocol: *$", source.text[: node.start]).start()
            yield source.seed((start, node.end, ""))


def test_what_is_lacking_is_named(look_at_part):
    (found,) = look_at_part(RULE, PINS, "signals: [{pin: 5, supply: 7, ground: 6, kind: serial}]")
    assert "have no `supply_volts` or `protocol`" in found.message
    (found,) = look_at_part(RULE, PINS, "signals: [{pin: 5, supply: 7, ground: 6, kind: serial, protocol: house}]")
    assert "have no `supply_volts`" in found.message


def test_other_kinds_are_not_asked(look_at_part):
    assert look_at_part(RULE, PINS, "signals: [{pin: 5, supply: 7, ground: 6, kind: volts}]") == []
    assert look_at_part(RULE, PINS, "signals: [{pin: 5, supply: 7, ground: 6, kind: serial, protocol: house, supply_volts: 5}]") == []
