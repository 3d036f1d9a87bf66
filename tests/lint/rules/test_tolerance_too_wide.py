"""tolerance-too-wide."""

from __future__ import annotations

import pytest

from tests.lint.seeding.operators.entering import sow

PINS = "pins: {5: range_signal, 6: range_return}"
LADDER = "contacts: [{pins: [5, 6], ohms: {P: 91000, R: 9100, N: 910, D: 91, 2: 9.1, 1: 1.5}, tolerance_percent: %s}]"


@pytest.mark.parametrize(("percent", "told"), [("1", 0), ("20", 0), ("20.5", 1), ("100", 1)])
def test_twenty_percent_is_the_widest(look_at_part, percent, told):
    found = look_at_part("tolerance-too-wide", PINS, LADDER % percent)
    assert len(found) == told and all(one.at.startswith(percent) for one in found)


def test_a_contact_without_resistances_has_none(look_at_part):
    assert look_at_part("tolerance-too-wide", PINS, "contacts: [{pins: [5, 6], closed: [P], tolerance_percent: 50}]") == []


sow("a tolerance with a nought too many", "tolerance-too-wide", "switch", "parts.*.contacts.*.tolerance_percent", lambda value: f"{value}0")
