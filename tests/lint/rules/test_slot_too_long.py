"""slot-too-long."""

MOUNT = (
    "    kind: switch\n    mounts: {short-boss: {%sbolts: [{at_mm: 38, at_deg: 0, slot_deg: 12}, {at_mm: 38, at_deg: 90, slot_deg: %s}]}}\n"
)
HUB = "hub: {position: N, at_deg: 35, steps_deg: [18, 16, 16, 18, 18]}, "


def test_it_is_found_at_the_slot(look):
    (found,) = look("slot-too-long", MOUNT % (HUB, 16))
    assert found.at.startswith("16}]") and "bolt 2" in found.message and "below 16" in found.message
    (found,) = look("slot-too-long", MOUNT % ("", 30))
    assert "below 30" in found.message


def test_a_slot_shorter_than_a_detent_is_let_be(look):
    assert look("slot-too-long", MOUNT % (HUB, 15.9)) == [] == look("slot-too-long", MOUNT % ("", 29))
