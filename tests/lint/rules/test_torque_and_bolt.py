"""torque-and-bolt.

The band is held against a table of torques that cites ISO 898-1 (three quarters of the proof load, class 10.9, dry; cncexpo.com, read
2026-11): M5 78 inch-pounds, M6 133, M7 222. 1 N·m is 8.8507 inch-pounds.
"""

import pytest

from rangebook.mounting.torque import plausible_nm

BOOK = "    kind: switch\n    mounts: {short-boss: {bolts: [{at_mm: 38, at_deg: 0, bolt_mm: %s}]%s}}\n    fitting: {set_in: N%s}\n"


@pytest.mark.parametrize(("bolt", "inch_pounds"), [(5, 78), (6, 133), (7, 222)])
def test_the_most_is_the_proof_load_of_the_strongest_bolt(bolt: float, inch_pounds: float):
    assert plausible_nm(bolt)[1] * 0.75 * 8.8507 == pytest.approx(inch_pounds, rel=0.02)


@pytest.mark.parametrize(("bolt", "torque"), [(4, 2.5), (5, 3.5), (5, 5), (6, 4), (6, 6), (6, 9), (6, 12), (8, 16), (8, 24)])
def test_the_usual_is_let_be_and_the_same_in_inch_pounds_or_kilopond_metres_is_not(look, bolt: float, torque: float):
    assert look("torque-and-bolt", BOOK % (bolt, f", torque_nm: {torque}", "")) == []
    for wrong in (torque * 8.8507, torque * 0.102 if torque < plausible_nm(bolt)[1] * 0.9 else torque * 8.8507):
        (found,) = look("torque-and-bolt", BOOK % (bolt, f", torque_nm: {wrong:.3f}", ""))
        assert found.at.startswith(f"{wrong:.3f}")


def test_that_of_the_family_and_that_of_a_part_too(look):
    (found,) = look("torque-and-bolt", BOOK % (6, "", ", torque_nm: 80"))
    assert found.at.startswith("80}")
    part = "    parts: [{number: TB-20417, mount: short-boss, torque_nm: 80, sources: [{kind: seen}]}]\n"
    (found,) = look("torque-and-bolt", BOOK % (6, "", "") + part)
    assert found.at.startswith("80, sources")


def test_a_mounts_own_torque_stands_before_the_familys(look):
    assert look("torque-and-bolt", BOOK % (8, ", torque_nm: 18", ", torque_nm: 90")) == []
