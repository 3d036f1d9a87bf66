"""signal-without-pin."""

PINS = "pins: {5: range_signal, 6: signal_ground, 7: supply}"


def test_pin_supply_and_ground_are_looked_at(look_at_part):
    found = look_at_part("signal-without-pin", PINS, "signals: [{pin: 1, supply: 2, ground: 3}, {pin: 5, supply: 7, ground: 6}]")
    assert [one.at[0] for one in found] == ["1", "2", "3"]
    assert ["the signal" in one.message for one in found] == [True, False, False]


def test_it_may_be_measured_against_the_housing(look_at_part):
    assert look_at_part("signal-without-pin", PINS, "signals: [{pin: 5, ground: case}]") == []


def test_where_the_pins_are_not_stated_nothing_is_checked(look_at_part):
    assert look_at_part("signal-without-pin", "signals: [{pin: 1}]") == []
