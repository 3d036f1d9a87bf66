"""contact-without-pin."""

PINS = "pins: {1: start_feed, 2: start_out}"


def test_both_ends_are_looked_at(look_at_part):
    found = look_at_part("contact-without-pin", PINS, "contacts: [{pins: [7, 2], closed: [P]}, {pins: [1, 8], closed: [P]}]")
    assert [one.at.split("]")[0] for one in found] == ["7, 2", "8"]


def test_the_housing_is_no_pin(look_at_part):
    assert look_at_part("contact-without-pin", PINS, "contacts: [{pins: [1, case], closed: [P]}, {pins: [1, 2], closed: [N]}]") == []


def test_a_contact_from_a_missing_pin_to_itself_is_told_once(look_at_part):
    assert len(look_at_part("contact-without-pin", PINS, "contacts: [{pins: [7, 7], closed: [P]}]")) == 1


def test_where_the_pins_are_not_stated_nothing_is_checked(look_at_part):
    assert look_at_part("contact-without-pin", "contacts: [{pins: [7, 2], closed: [P]}]") == []


def test_a_part_stated_to_have_no_pins_has_none(look_at_part):
    assert len(look_at_part("contact-without-pin", "pins: {}", "contacts: [{pins: [1, 2], closed: [P]}]")) == 2
