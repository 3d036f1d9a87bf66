"""unknown-gearbox."""

VEHICLES = "    kind: switch\n    applications: [{vehicle: Corran Delver 2.4%s}]\n"


def test_another_spelling_is_found_with_the_right_one(look):
    (found,) = look("unknown-gearbox", VEHICLES % ", gearbox: tamblin short")
    assert found.at.startswith("tamblin short") and "did you mean Tamblin Short" in found.fix


def test_a_family_that_lists_none(look):
    (found,) = look("unknown-gearbox", VEHICLES % ", gearbox: Tamblin Short" + "    gearboxes: []\n")
    assert "none" in found.message and "add Tamblin Short" in found.fix


def test_a_vehicle_whose_gearbox_is_not_stated_is_let_be(look):
    assert look("unknown-gearbox", VEHICLES % "") == []
