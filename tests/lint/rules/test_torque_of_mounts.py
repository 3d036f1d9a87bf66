"""torque-of-mounts."""

MOUNTS = "{short-boss: {bolts: [{at_mm: 38, at_deg: 0, bolt_mm: 6}]%s}, b: {bolts: [{at_mm: 38, at_deg: 0, bolt_mm: %s}]%s}}"
BOOK = "    kind: switch\n    mounts: " + MOUNTS + "\n%s"
FITTING = "    fitting: {set_in: N, torque_nm: 9}\n"


def test_it_is_found_at_the_familys_torque(look):
    (found,) = look("torque-of-mounts", BOOK % ("", 8, "", FITTING))
    assert found.at.startswith("9}") and "short-boss, b state" in found.message
    (found,) = look("torque-of-mounts", BOOK % (", torque_nm: 9", 8, "", FITTING))
    assert "short-boss" not in found.message


def test_bolts_of_one_size_and_mounts_with_their_own_are_let_be(look):
    assert look("torque-of-mounts", BOOK % ("", 6, "", FITTING)) == []
    assert look("torque-of-mounts", BOOK % (", torque_nm: 9", 8, ", torque_nm: 18", FITTING)) == []
    assert look("torque-of-mounts", BOOK % ("", 8, "", "    fitting: {set_in: N}\n")) == []
