"""unknown-plug."""

VEHICLES = "    kind: switch\n    applications: [{vehicle: Corran Delver 2.4, came_with: TB-20417%s}]\n"


def test_it_is_found_at_the_name_with_the_nearest(look):
    (found,) = look("unknown-plug", VEHICLES % ", plug: Six-wire")
    assert found.at.startswith("Six-wire") and "did you mean six-wire" in found.fix


def test_a_vehicle_whose_plug_is_not_stated_is_let_be(look):
    assert look("unknown-plug", VEHICLES % "") == []
