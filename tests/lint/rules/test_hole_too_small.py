"""hole-too-small."""

MOUNT = "    kind: switch\n    mounts: {short-boss: {bolts: [{at_mm: 38, at_deg: 0, %s}, {at_mm: 38, at_deg: 90, %s}]}}\n"


def test_it_is_found_at_the_hole(look):
    (found,) = look("hole-too-small", MOUNT % ("bolt_mm: 6, hole_mm: 6.6", "bolt_mm: 8, hole_mm: 6.6"))
    assert found.at.startswith("6.6}]}}") and "bolt 2" in found.message and "short-boss" in found.message


def test_a_hole_of_the_bolts_own_size_and_sizes_that_are_not_stated_are_let_be(look):
    assert look("hole-too-small", MOUNT % ("bolt_mm: 6, hole_mm: 6", "hole_mm: 6")) == []
