"""mount-incomplete."""

MOUNT = "    kind: switch\n    mounts: {short-boss: {%sbolts: [{at_mm: 38, at_deg: 0%s}, {at_mm: 38, at_deg: 90, spacer_mm: 0}]}}\n"
HUB = "hub: {position: N, at_deg: 35, steps_deg: [18, 16, 16, 18, 18]}, "


def test_it_says_what_is_not_stated(look):
    (found,) = look("mount-incomplete", MOUNT % ("", ", spacer_mm: 4"))
    assert "hub" in found.message and "spacer" not in found.message
    (found,) = look("mount-incomplete", MOUNT % (HUB, ""))
    assert "hub" not in found.message and "spacer of bolt 1" in found.message


def test_half_a_hub_is_asked_for_too(look):
    (found,) = look("mount-incomplete", MOUNT % ("hub: {position: N, at_deg: 35}, ", ", spacer_mm: 4"))
    assert "hub" in found.message


def test_a_mount_that_states_all_or_that_no_part_has_is_let_be(look):
    assert look("mount-incomplete", MOUNT % (HUB, ", spacer_mm: 4")) == []
    assert look("mount-incomplete", (MOUNT % ("", "")).replace("short-boss", "tall-boss")) == []
