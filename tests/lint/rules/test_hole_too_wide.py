"""hole-too-wide. Limits: ISO 273:1979, coarse series, as in a table that cites it."""

import pytest

MOUNT = (
    "    kind: switch\n    mounts: {short-boss: {bolts: [{at_mm: 38, at_deg: 0, bolt_mm: 6, hole_mm: 6.6}, {at_mm: 38, at_deg: 90, %s}]}}\n"
)


@pytest.mark.parametrize(("bolt", "hole"), [(4, 4.9), (5, 5.9), (6, 7.1), (8, 10.1), (10, 12.1), (6.35, 7.4)])
def test_it_is_found_at_the_hole(look, bolt: float, hole: float):
    (found,) = look("hole-too-wide", MOUNT % f"bolt_mm: {bolt}, hole_mm: {hole}")
    assert found.at.startswith(f"{hole}}}]") and "bolt 2" in found.message and "short-boss" in found.message


@pytest.mark.parametrize(
    "sizes", ["bolt_mm: 4, hole_mm: 4.8", "bolt_mm: 5, hole_mm: 5.8", "bolt_mm: 8, hole_mm: 10", "hole_mm: 40", "bolt_mm: 6"]
)
def test_the_widest_hole_and_sizes_that_are_not_stated_are_let_be(look, sizes: str):
    assert look("hole-too-wide", MOUNT % sizes) == []
