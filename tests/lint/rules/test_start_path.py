"""start-path. Source: 49 CFR 571.102 S3.1.3 (starter inoperative in the forward and reverse positions)."""

from __future__ import annotations

import pytest

from tests.lint.marking import CONTACTS, PINS, found_at_marks, part, parts

REST = CONTACTS.replace("          - {pins: [1, 2], closed: [P, N]}\n", "")


def _contacts(*start: str) -> str:
    head, _, rest = REST.partition("\n")
    return f"{head}\n" + "".join(f"          - {one}\n" for one in start) + rest


@pytest.mark.parametrize("closed", ["[P, »R, N]", "[P, N, »D]", "[P, N, »2, »1]", "[»D, N, P]"])
def test_each_position_in_gear_is_found_where_it_stands(closed: str) -> None:
    found = found_at_marks("start-path", parts(part(contacts=_contacts(f"{{pins: [1, 2], closed: {closed}}}"))))
    assert all("start_feed" in one.message and "P and N" in one.message and "could turn in gear" in one.message for one in found)


@pytest.mark.parametrize(("closed", "lacking"), [("»[P]", "N"), ("»[N]", "P"), ("»[]", "P and N")])
def test_a_path_that_is_never_closed_is_found_at_its_list(closed: str, lacking: str) -> None:
    (found,) = found_at_marks("start-path", parts(part(contacts=_contacts(f"{{pins: [1, 2], closed: {closed}}}"))))
    assert f"is open in {lacking};" in found.message and "expected closed in P and N" in found.message


def test_moved_by_one_position_both_ends_are_found() -> None:
    found_at_marks("start-path", parts(part(contacts=_contacts("{pins: [1, 2], closed: »[P, »R]}"))))


def test_a_way_round_over_other_pins_is_found_at_the_contact_that_switches_it() -> None:
    # 7 is always joined to 2, which is wrong by itself; 1-7 is what switches in D.
    always = "{pins: [7, 2], closed: [P, »R, N, »D, »2, »1]}"
    contacts = _contacts("{pins: [1, 2], closed: [P, N]}", "{pins: [1, 7], closed: [»D]}", always)
    pins = PINS.replace("1: start_feed", "1: start_feed, 7: low_signal")
    found = found_at_marks("start-path", parts(part(connector="oval-13", pins=pins, contacts=contacts)), alone=False)
    assert sum("from pin 1 (start_feed) to pin 2 (start_out) (over 1-7, 7-2)" in one.message for one in found) == 1
    assert sum("from pin 7 (low_signal) to pin 2 (start_out)" in one.message for one in found) == 4


def test_a_path_over_the_housing_counts() -> None:
    contacts = _contacts("{pins: [1, 2], closed: [P, N]}", "{pins: [1, case], closed: [»R]}", "{pins: [case, 2], closed: [»R, P, N]}")
    found = found_at_marks("start-path", parts(part(contacts=contacts)))
    assert any("from the housing to pin 2 (start_out)" in one.message for one in found)


def test_contacts_in_a_row_are_one_path() -> None:
    pins = PINS.replace("1: start_feed", "1: start_feed, 7: low_signal")
    contacts = _contacts("{pins: [1, 7], closed: [P, R, N, D, 2, 1]}", "{pins: [7, 2], closed: [P, N]}")
    found_at_marks("start-path", parts(part(connector="oval-13", pins=pins, contacts=contacts)), alone=False)


def test_a_resistance_in_gear_is_a_path_and_stands_at_its_key() -> None:
    contacts = _contacts("{pins: [1, 2], ohms: {P: 0, R: open, N: 0, »D: 4700, 2: open, 1: open}}")
    (found,) = found_at_marks("start-path", parts(part(contacts=contacts)))
    assert "write `D: open`" in found.fix


def test_a_resistance_of_some_ohms_in_park_is_not_closed() -> None:
    # A closed contact reads under 1 ohm: common practice, no source.
    contacts = _contacts("{pins: [1, 2], ohms: {P: »4700, R: open, N: 0.4, D: open, 2: open, 1: open}}")
    (found,) = found_at_marks("start-path", parts(part(contacts=contacts)))
    assert "is 4700 ohm in P;" in found.message


def test_without_any_contact_between_them_it_stands_at_the_contacts() -> None:
    pins = PINS.replace("1: start_feed, 2: start_out", "1: start_feed, 2: start_out, 7: ground, 8: shift_lock")
    contacts = _contacts("{pins: [1, 7], closed: [P]}", "{pins: [2, 8], closed: [N]}").replace("contacts:", "»contacts:")
    found_at_marks("start-path", parts(part(connector="oval-13", pins=pins, contacts=contacts)), alone=False)


@pytest.mark.parametrize(
    "contacts",
    [
        "",  # nothing stated at all
        REST,  # nothing stated about pins 1 and 2
        _contacts("{pins: [1, 2]}"),  # a contact, but not when it closes
        _contacts("{pins: [1, 2], ohms: {P: 0, N: 0}}"),  # the others are not known
    ],
)
def test_what_is_not_stated_is_not_found_fault_with(contacts: str) -> None:
    found_at_marks("start-path", parts(part(contacts=contacts)), alone=False)


def test_a_misspelt_position_is_not_told_a_second_time_as_a_missing_one() -> None:
    found_at_marks("start-path", parts(part(contacts=_contacts("{pins: [1, 2], closed: [P, M]}"))), others=["unknown-position"])


def test_pins_under_other_names_are_no_start_path() -> None:
    pins = PINS.replace("start_feed", "ground").replace("start_out", "park_signal")
    found_at_marks("start-path", parts(part(pins=pins, contacts=_contacts("{pins: [1, 2], closed: [P, R]}"))), alone=False)


def test_a_lever_without_park_needs_the_path_in_neutral_only() -> None:
    text = """
    kind: switch
    positions: [R, N, D]
    parts:
"""
    contacts = (
        "        contacts:\n          - {pins: [1, 2], closed: [N]}\n          - {pins: [3, 4], closed: [R]}\n"
        "          - {pins: [5, 6], ohms: {R: 3900, N: 1800, D: 910}}\n"
    )
    found_at_marks("start-path", text + part(contacts=contacts), alone=False)


def test_two_parts_are_each_looked_at() -> None:
    bad = _contacts("{pins: [1, 2], closed: [P, N, »D]}")
    found = found_at_marks("start-path", parts(part(contacts=bad), part("TB-20418", contacts=bad)))
    assert [one.message[:8] for one in found] == ["TB-20417", "TB-20418"]


SHARED = "        pins: {1: common_feed, 2: start_out, 3: backup_out, 4: drive_signal}\n"


def _shared(start: str) -> str:
    rest = "          - {pins: [1, 3], closed: [R]}\n          - {pins: [1, 4], closed: [D]}\n"
    return f"        contacts:\n          - {{pins: [1, 2], closed: {start}}}\n{rest}"


def test_a_feed_that_several_contacts_share_is_the_start_feed_too() -> None:
    found_at_marks("start-path", parts(part(pins=SHARED, contacts=_shared("[P, N]"))), alone=False)
    (found,) = found_at_marks("start-path", parts(part(pins=SHARED, contacts=_shared("[P, N, »R]"))), alone=False)
    assert "pin 1 (common_feed) to pin 2 (start_out)" in found.message
    found_at_marks("start-path", parts(part(pins=SHARED, contacts=_shared("»[P]"))), alone=False)


def _signal(closed: str) -> str:
    pins = "        pins: {1: park_neutral, 2: ground}\n"
    return parts(part(pins=pins, contacts=f"        contacts: [{{pins: [1, 2], closed: {closed}}}]\n"))


@pytest.mark.parametrize("closed", ["[P, N]", "[N, P]", "»[»R, »D, »2, »1]"])
def test_a_park_neutral_signal_is_closed_in_p_and_n_and_nowhere_else(closed: str) -> None:
    found_at_marks("start-path", _signal(closed), alone=False)


@pytest.mark.parametrize("closed", ["[P, N, »D]", "»[N]", "[P, »R, N]", "»[P, »R]", "»[»R, »D, »2]", "»[»R, N, »D, »2, »1]", "»[]"])
def test_a_park_neutral_signal_that_does_not(closed: str) -> None:
    found = found_at_marks("start-path", _signal(closed), alone=False)
    assert all("park_neutral" in one.message and "the starter " in one.message for one in found)


def test_a_park_neutral_signal_with_a_misspelt_position_or_nothing_stated() -> None:
    found_at_marks("start-path", _signal("[P, X]"), alone=False)
    found_at_marks("start-path", _signal("[P, N]").replace(", closed: [P, N]", ""), alone=False)


@pytest.mark.parametrize("other", ["supply", "lamp_feed", "ground", "signal_ground", "shift_lock", "drive_signal", "start_out"])
@pytest.mark.parametrize("out", ["start_out", "park_neutral"])
def test_whatever_it_is_joined_to_in_gear_is_a_path(other: str, out: str) -> None:
    pins = PINS.replace("1: start_feed, 2: start_out", f"1: {other}, 2: {out}")
    for contact in ("{pins: [1, 2], closed: [P, N, »D]}", "{pins: [1, 2], ohms: {P: 0, R: open, N: 0, »D: 47000, 2: open, 1: open}}"):
        found_at_marks("start-path", parts(part(pins=pins, contacts=_contacts(contact))), alone=False)


def _powered(values: str) -> str:
    pins = "        pins: {1: supply, 2: ground, 3: start_out}\n"
    more = f"signals:\n  - {{pin: 3, supply: 1, ground: 2, kind: volts, values: {values}, tolerance: 0.2}}"
    return parts(part(pins=pins, contacts="", more=more))


def test_electronics_that_drive_the_starter_in_gear() -> None:
    (found,) = found_at_marks("start-path", _powered("{P: 12, R: 0, N: 12, D: »11.9, 2: 0, 1: 0}"), alone=False)
    assert "gives what it gives in P and N" in found.message
    found_at_marks("start-path", _powered("{P: 12, R: 0, N: 12, D: 0, 2: 0, 1: 0}"), alone=False)
    # What something in between would do is not known, and so not found fault with; the verdict is not known either.
    found_at_marks("start-path", _powered("{P: 12, R: 0, N: 12, D: 5, 2: 0, 1: 0}"), alone=False)
