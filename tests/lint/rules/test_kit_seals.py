"""kit-seals."""

from __future__ import annotations

from tests.lint.marking import found_at_marks


def test_more_holes_than_the_new_plug_has_cavities() -> None:
    (found,) = found_at_marks("kit-seals", "    kind: kit\n    seals: [6, 7, »9]\n")
    assert "9 wire holes, but oval-13 has only 8 cavities" in found.message


def test_as_many_holes_as_cavities_are_fine() -> None:
    found_at_marks("kit-seals", "    kind: kit\n    seals: [6, 7, 8]\n")


def test_one_kit_with_seals_for_six_seven_and_eight_wires() -> None:
    # Common practice, no source: one renewal kit carries three rear seals, for six, seven and eight wires.
    found_at_marks("kit-seals", "    kind: kit\n    seals: [8, 6, 7]\n")


def test_listed_twice_and_too_large_twice() -> None:
    found = found_at_marks("kit-seals", "    kind: kit\n    seals: [6, »6, »9, »9, »6]\n")
    assert [("listed twice" in one.message) for one in found] == [True, False, False, True]


def test_without_the_connector_its_cavities_are_not_counted() -> None:
    found_at_marks("kit-seals", "    kind: kit\n    to: oval-88\n    seals: [6, 99, »6]\n", alone=False)


def test_no_seals_and_seals_that_are_not_known_are_fine() -> None:
    found_at_marks("kit-seals", "    kind: kit\n    seals: []\n")
