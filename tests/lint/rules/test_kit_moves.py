"""kit-moves."""

from __future__ import annotations

from tests.lint.marking import found_at_marks


def test_the_second_of_two_wires_to_one_cavity_is_found() -> None:
    (found,) = found_at_marks("kit-moves", "    kind: kit\n    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: »2}\n")
    assert "the wires from cavities 2 and 6 both go to cavity 2" in found.message


def test_a_cavity_that_the_old_plug_does_not_have_stands_at_its_key() -> None:
    (found,) = found_at_marks("kit-moves", "    kind: kit\n    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6, »10: 7}\n")
    assert "oval-9 does not have (it has 1, 2, 3, 4, 5, 6, 7, 8, 9)" in found.message


def test_a_cavity_that_the_new_plug_does_not_have_stands_at_its_value() -> None:
    (found,) = found_at_marks("kit-moves", "    kind: kit\n    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: »14}\n")
    assert "oval-13 does not have" in found.message


def test_both_ends_may_be_wrong_at_once() -> None:
    assert len(found_at_marks("kit-moves", "    kind: kit\n    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, »A: »B, 6: 6}\n")) == 2


def test_labels_are_text() -> None:
    found_at_marks("kit-moves", "    kind: kit\n    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6, »01: 7}\n")


def test_a_kit_to_its_own_connector_is_allowed() -> None:
    text = "    # entries/kits/oval-9-crossed.md\n    kind: kit\n    id: oval-9-crossed\n    number: TW-7707\n"
    text += "    from: oval-9\n    to: oval-9\n"
    found_at_marks("kit-moves", text + "    moves: {1: 1, 2: 2, 3: 4, 4: 3, 5: 5, 6: 6}\n    seals: [6]\n")


def test_where_a_connector_is_not_known_only_what_does_not_need_it_is_looked_at() -> None:
    found_at_marks("kit-moves", "    kind: kit\n    from: oval-99\n    moves: {9: 1, X: 2, 3: »2}\n", alone=False)
    found_at_marks("kit-moves", "    kind: kit\n    to: oval-33\n    moves: {»10: 91, 2: 92}\n", alone=False)


def test_where_a_lead_fans_one_wire_out() -> None:
    for moves in ("{1: [1, »77], 2: 2, 3: »2}", "{1: [1, 4], 2: 2, 3: »4}", "{1: [1, 4], 2: 2}"):
        found_at_marks("kit-moves", f"    kind: kit\n    joins: plug_in\n    moves: {moves}\n    seals: []\n    blanks: 0\n", alone=False)
