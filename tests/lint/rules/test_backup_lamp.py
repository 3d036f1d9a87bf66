"""backup-lamp. Source: 49 CFR 571.108 Table I-a (lit in reverse, not in forward motion), seen in a transcription; UN Regulation No. 48,
paragraph 6.4.7 (only if the reverse gear is engaged), from memory: both ask for the lamp in R and nowhere else."""

from __future__ import annotations

import pytest

from tests.lint.marking import CONTACTS, PINS, found_at_marks, part, parts


def _closed(positions: str) -> str:
    return CONTACTS.replace("[3, 4], closed: [R]", f"[3, 4], closed: {positions}")


@pytest.mark.parametrize("positions", ["[»P, R]", "[R, »N]", "[R, »D, »2]"])
def test_each_position_outside_reverse_is_found_where_it_stands(positions: str) -> None:
    found = found_at_marks("backup-lamp", parts(part(contacts=_closed(positions))))
    assert all("backup_out" in one.message and "only in R" in one.message for one in found)


def test_never_in_reverse_is_found_at_the_list() -> None:
    (found,) = found_at_marks("backup-lamp", parts(part(contacts=_closed("»[]"))))
    assert "is open in R;" in found.message and "stay dark" in found.message


def test_in_another_position_in_place_of_reverse_both_are_found() -> None:
    found_at_marks("backup-lamp", parts(part(contacts=_closed("»[»D]"))))


def test_the_starter_is_no_concern_of_it() -> None:
    contacts = CONTACTS.replace("[1, 2], closed: [P, N]", "[1, 2], closed: [R]")
    found_at_marks("backup-lamp", parts(part(contacts=contacts)), alone=False)


def test_a_feed_that_several_contacts_share_is_its_feed_too() -> None:
    pins = PINS.replace("backup_feed", "common_feed")
    found_at_marks("backup-lamp", parts(part(pins=pins, contacts=_closed("[R, »D]"))), alone=False)


@pytest.mark.parametrize("other", ["supply", "lamp_feed", "ground", "signal_ground", "shift_lock", "start_feed", "not_connected"])
def test_whatever_it_is_joined_to_counts_as_a_path(other: str) -> None:
    pins = PINS.replace("backup_feed", other)
    found_at_marks("backup-lamp", parts(part(pins=pins, contacts=_closed("[R, »D]"))), alone=False)
    found_at_marks("backup-lamp", parts(part(pins=pins, contacts=_closed("[]"))), alone=False)


def test_a_lever_without_reverse_needs_no_backup_lamp() -> None:
    text = "    kind: switch\n    positions: [P, N, D]\n    parts:\n"
    contacts = (
        "        contacts:\n          - {pins: [1, 2], closed: [P, N]}\n          - {pins: [3, 4], closed: []}\n"
        "          - {pins: [5, 6], ohms: {P: 3900, N: 1800, D: 910}}\n"
    )
    found_at_marks("backup-lamp", text + part(contacts=contacts), alone=False)
    found_at_marks("backup-lamp", text + part(contacts=contacts.replace("closed: []", "closed: [»D]")), alone=False)
