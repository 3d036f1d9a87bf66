"""positions-alike."""

from __future__ import annotations

import pytest

from tests.lint.marking import PINS, found_at_marks, part, parts

CODE_PINS = "        pins: {1: start_feed, 2: start_out, 5: code_1, 6: code_2, 7: code_3, 8: code_return}\n"


def _ladder(ohms: str) -> str:
    return (
        "        contacts:\n          - {pins: [1, 2], closed: [P, N]}\n          - {pins: [3, 4], closed: [R]}\n"
        f"          - {{pins: [5, 6], ohms: {{{ohms}}}, tolerance_percent: 5}}\n"
    )


def _code(one: str, two: str, three: str, mark: str = "") -> str:
    return (
        f"        {mark}contacts:\n          - {{pins: [1, 2], closed: [P, N]}}\n          - {{pins: [5, 8], closed: [{one}]}}\n"
        f"          - {{pins: [6, 8], closed: [{two}]}}\n          - {{pins: [7, 8], closed: [{three}]}}\n"
    )


def test_a_ladder_value_that_is_there_already_is_found_where_it_stands() -> None:
    (found,) = found_at_marks("positions-alike", parts(part(contacts=_ladder("P: 9100, R: 3900, N: 1800, D: 910, 2: »3900, 1: 200"))))
    assert "TB-20417 reads the same in 2 as in R: contact 5-6 3900 ohm" in found.message


def test_three_alike_are_two_findings() -> None:
    found_at_marks("positions-alike", parts(part(contacts=_ladder("P: 9100, R: »9100, N: »9100, D: 910, 2: 430, 1: 200"))))


def test_open_twice_is_alike_too() -> None:
    (found,) = found_at_marks("positions-alike", parts(part(contacts=_ladder("P: open, R: 3900, N: 1800, D: 910, 2: 430, 1: »open"))))
    assert "contact 5-6 open" in found.message


def test_the_same_figure_in_another_writing_is_the_same() -> None:
    found_at_marks("positions-alike", parts(part(contacts=_ladder("P: 9100, R: 3900, N: 1800, D: 910, 2: »910.0, 1: 200"))))


def test_a_code_word_that_is_there_already_is_found_at_the_contacts() -> None:
    # P 001, R 010, N 011, D 100, 2 101, and 1 again 101.
    text = parts(part(connector="oval-13", pins=CODE_PINS, contacts=_code("D, 2, 1", "R, N", "P, N, 2, 1", mark="»")))
    (found,) = found_at_marks("positions-alike", text, alone=False)
    assert "reads the same in 1 as in 2: contact 5-8 closed; contact 6-8 open; contact 7-8 closed" in found.message


def test_one_ground_is_as_good_as_another() -> None:
    # Lines 5, 6, 7. P 001, R 110, N 011, 1 100; D and 2 are 001 too, only that their 1 comes from the housing.
    contacts = _code("R, 1", "R, N", "P, N", mark="»") + "          - {pins: [7, case], closed: [D, 2]}\n"
    found = found_at_marks("positions-alike", parts(part(connector="oval-13", pins=CODE_PINS, contacts=contacts)), alone=False)
    assert sorted(one.message.partition(":")[0] for one in found) == [
        "TB-20417 reads the same in 2 as in P",
        "TB-20417 reads the same in D as in P",
    ]


def test_code_words_that_differ_are_fine() -> None:
    # P 001, R 010, N 011, D 100, 2 101, 1 110.
    text = parts(part(connector="oval-13", pins=CODE_PINS, contacts=_code("D, 2, 1", "R, N, 1", "P, N, 2")))
    found_at_marks("positions-alike", text, alone=False)


def test_a_code_line_about_which_nothing_is_stated_may_tell_them_apart() -> None:
    contacts = _code("D, 2, 1", "R, N", "P, N, 2, 1").replace("          - {pins: [7, 8], closed: [P, N, 2, 1]}\n", "")
    found_at_marks("positions-alike", parts(part(connector="oval-13", pins=CODE_PINS, contacts=contacts)), alone=False)


def test_outputs_are_judged_together() -> None:
    # The ladder reads D and 2 alike, and a second range signal tells them apart.
    pins = PINS.replace("6: range_return", "6: range_return, 7: range_signal_2")
    contacts = _ladder("P: 9100, R: 3900, N: 1800, D: 910, 2: 910, 1: 200") + "          - {pins: [7, case], closed: [2]}\n"
    found_at_marks("positions-alike", parts(part(connector="oval-13", pins=pins, contacts=contacts)), alone=False)


def test_a_line_for_one_position_is_not_what_reads_the_ladder() -> None:
    pins = PINS.replace("6: range_return", "6: range_return, 7: park_signal")
    contacts = _ladder("P: 9100, R: »9100, N: 1800, D: 910, 2: 430, 1: 200") + "          - {pins: [7, case], closed: [P]}\n"
    found_at_marks("positions-alike", parts(part(connector="oval-13", pins=pins, contacts=contacts)))


def test_the_start_contact_does_not_tell_positions_apart() -> None:
    # P and R differ in it, but a module that reads the ladder does not see it.
    found_at_marks("positions-alike", parts(part(contacts=_ladder("P: 9100, R: »9100, N: 1800, D: 910, 2: 430, 1: 200"))))


def test_a_powered_signal_that_repeats_a_value_is_found_where_it_stands() -> None:
    pins = "        pins: {5: range_signal, 6: signal_ground, 8: supply}\n"
    signals = (
        "signals:\n  - {pin: 5, supply: 8, ground: 6, kind: duty_percent, "
        "values: {P: 10, R: 20, N: 30, D: 40, 2: »10, 1: 60}, tolerance: 2}"
    )
    text = parts(part(connector="oval-13", pins=pins, contacts="", more=signals))
    (found,) = found_at_marks("positions-alike", text, alone=False)
    assert "signal on pin 5 10 % duty" in found.message


@pytest.mark.parametrize(
    "contacts",
    [
        _ladder("P: 9100, R: 3900, N: 1800, D: 910, 1: 200"),  # 2 is not stated
        "        contacts:\n          - {pins: [1, 2], closed: [P, N]}\n          - {pins: [5, 6]}\n",  # nor is any of them
        "        contacts:\n          - {pins: [1, 2], closed: [P, N]}\n          - {pins: [3, 4], closed: [R]}\n",  # no such output
        _ladder("P: 9100, R: 3900, N: 1800, D: 910, X: 910, 1: 200"),  # a position that is misspelt
    ],
)
def test_what_is_not_stated_is_not_found_fault_with(contacts: str) -> None:
    found_at_marks("positions-alike", parts(part(contacts=contacts)), alone=False)


def test_separate_lines_without_ladder_or_code_are_no_range_output() -> None:
    pins = "        pins: {1: start_feed, 2: start_out, 5: park_signal, 6: drive_signal}\n"
    contacts = "        contacts:\n          - {pins: [1, 2], closed: [P, N]}\n          - {pins: [5, case], closed: [P]}\n"
    contacts += "          - {pins: [6, case], closed: [D]}\n"
    found_at_marks("positions-alike", parts(part(pins=pins, contacts=contacts)), alone=False)
