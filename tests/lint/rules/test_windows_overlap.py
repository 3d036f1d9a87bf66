"""windows-overlap. Tolerance where none is stated: 10 percent, common practice, no source."""

from __future__ import annotations

import pytest
from eseries import E12, E24, find_nearest, series

from tests.lint.marking import PINS, found_at_marks, part, parts


def _ladder(ohms: str, tolerance: str = ", tolerance_percent: 5", more: str = "") -> str:
    return (
        "        contacts:\n          - {pins: [1, 2], closed: [P, N]}\n          - {pins: [3, 4], closed: [R]}\n"
        f"          - {{pins: [5, 6], ohms: {{{ohms}}}{tolerance}}}\n{more}"
    )


def test_two_windows_that_overlap_are_found_at_the_later_position() -> None:
    # 430 and 5 %: 408.5 to 451.5. 390 and 5 %: 370.5 to 409.5.
    (found,) = found_at_marks("windows-overlap", parts(part(contacts=_ladder("P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: »390"))))
    assert "contact 5-6: 1 with 390 ohm (370.5 to 409.5) overlaps 2 with 430 ohm (408.5 to 451.5)" in found.message


def test_windows_that_only_touch_do_not_overlap() -> None:
    # 5 %: 1995 to 2205 and 1805 to 1995.
    found_at_marks("windows-overlap", parts(part(contacts=_ladder("P: 9100, R: 2100, N: 1900, D: 910, 2: 430, 1: 200"))))


def test_each_pair_of_three_close_ones_is_told() -> None:
    text = parts(part(contacts=_ladder("P: 1000, R: »1020, N: »1040, D: 750, 2: 430, 1: 200")))
    assert len(found_at_marks("windows-overlap", text)) == 3


def test_ten_percent_where_none_is_stated() -> None:
    # 10 %: 900 to 1100 and 1080 to 1320; with 5 % they are apart.
    ohms = "P: 9100, R: 1200, N: {mark}1000, D: 750, 2: 430, 1: 200"
    found_at_marks("windows-overlap", parts(part(contacts=_ladder(ohms.format(mark="»"), ""))))
    found_at_marks("windows-overlap", parts(part(contacts=_ladder(ohms.format(mark="")))))


@pytest.mark.parametrize(("name", "percent", "apart"), [(E12, 10, False), (E12, 5, True), (E24, 5, False), (E24, 2, True)])
def test_preferred_numbers_one_step_apart(name: object, percent: int, apart: bool) -> None:
    # Source: IEC 60063, by the library eseries. With the tolerance that a series goes with its neighbours cover everything
    # between them (E12 with 10 %, E24 with 5 %), so their windows overlap; with half of it they do not.
    steps = list(series(name))
    values = [find_nearest(name, ohms) for ohms in (1000, 1000 * steps[1] / steps[0])]
    assert values[0] != values[1]
    mark = "" if apart else "»"
    ohms = f"P: 47000, R: 10000, N: {values[1]:g}, D: {mark}{values[0]:g}, 2: 430, 1: 200"
    found_at_marks("windows-overlap", parts(part(contacts=_ladder(ohms, f", tolerance_percent: {percent}"))))


def test_the_same_figure_is_another_rule() -> None:
    text = parts(part(contacts=_ladder("P: 9100, R: 3900, N: 1800, D: 910, 2: 910, 1: 200")))
    found_at_marks("windows-overlap", text, alone=False)


def test_open_and_zero_have_no_window() -> None:
    found_at_marks("windows-overlap", parts(part(contacts=_ladder("P: open, R: 3900, N: 1800, D: 910, 2: 430, 1: 0"))))


def test_another_range_signal_may_tell_the_two_apart() -> None:
    pins = PINS.replace("6: range_return", "6: range_return, 7: range_signal_2")
    more = "          - {pins: [7, case], closed: [1]}\n"
    contacts = _ladder("P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 410", more=more)
    found_at_marks("windows-overlap", parts(part(connector="oval-13", pins=pins, contacts=contacts)), alone=False)
    as_low = contacts.replace("410", "»410")
    pins = pins.replace("range_signal_2", "low_signal")
    found_at_marks("windows-overlap", parts(part(connector="oval-13", pins=pins, contacts=as_low)), alone=False)


def test_powered_signals_have_windows_too() -> None:
    pins = "        pins: {5: range_signal, 6: signal_ground, 8: supply}\n"
    signals = (
        "signals:\n  - {pin: 5, supply: 8, ground: 6, kind: duty_percent, "
        "values: {P: 10, R: 20, N: 30, D: 40, 2: »43, 1: 60}, tolerance: 2}"
    )
    text = parts(part(connector="oval-13", pins=pins, contacts="", more=signals))
    (found,) = found_at_marks("windows-overlap", text, alone=False)
    assert "2 with 43 % duty (41 to 45) overlaps D with 40 % duty (38 to 42)" in found.message
    apart = text.replace("»43", "44.5")
    found_at_marks("windows-overlap", apart, alone=False)
