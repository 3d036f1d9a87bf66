"""contact-to-itself."""


def test_it_is_found_at_the_second_end(look_at_part):
    (found,) = look_at_part("contact-to-itself", "contacts: [{pins: [1, 2], closed: [P]}, {pins: [3, 3], ohms: {P: 10}}]")
    assert found.at.startswith("3], ohms")


def test_the_housing_to_itself_too(look_at_part):
    assert len(look_at_part("contact-to-itself", "contacts: [{pins: [case, case], closed: [P]}]")) == 1


def test_two_contacts_between_the_same_pins_are_let_be(look_at_part):
    assert look_at_part("contact-to-itself", "contacts: [{pins: [1, 2], closed: [P]}, {pins: [2, 1], closed: [N]}]") == []
