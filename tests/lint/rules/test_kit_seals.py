"""kit-seals."""

from __future__ import annotations

from tests.lint.marking import found_at_marks


def test_more_holes_than_the_new_plug_has_cavities() -> None:
    (found,) = found_at_marks("kit-seals", "    kind: kit\n    seals: [4, 6, »14]\n")
    assert "14 wire holes, but oval-13 has only 13 cavities" in found.message


def test_as_many_holes_as_cavities_are_fine() -> None:
    found_at_marks("kit-seals", "    kind: kit\n    seals: [4, 6, 13]\n")


def test_one_kit_with_seals_for_several_numbers_of_wires() -> None:
    # Common practice, no source: one renewal kit carries several rear seals, each for another number of wires; in any order.
    found_at_marks("kit-seals", "    kind: kit\n    seals: [9, 4, 6]\n")


def test_listed_twice_and_too_large_twice() -> None:
    found = found_at_marks("kit-seals", "    kind: kit\n    seals: [6, »6, »14, »14, »6]\n")
    assert [("listed twice" in one.message) for one in found] == [True, False, False, True]


def test_without_the_connector_its_cavities_are_not_counted() -> None:
    found_at_marks("kit-seals", "    kind: kit\n    to: oval-33\n    seals: [6, 99, »6]\n", alone=False)


def test_no_seals_and_seals_that_are_not_known_are_fine() -> None:
    found_at_marks("kit-seals", "    kind: kit\n    seals: []\n", others=["kit-without-seals"])
