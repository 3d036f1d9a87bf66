"""twin-families."""

from __future__ import annotations

from tests.lint.marking import CONTACTS, PINS, found_at_marks, part, parts

RULE = "twin-families"


def _twin(facts: str = "", contacts: str = CONTACTS, applications: bool = True, mark: str = "»", pins: str = PINS) -> str:
    text = f"    # entries/switches/corran-b.md\n    kind: switch\n    id: corran-b\n    title: {mark}Corran range switch\n{facts}"
    text += "    parts:\n"
    text += part("CD-5", contacts=contacts, pins=pins)
    vehicle = "\n      - {vehicle: Corran Delver 2.0, gearbox: Tamblin Short, plug: six-wire, came_with: CD-5}\n"
    return text + "    applications:" + (vehicle if applications else " []\n") + "and\n"


def test_the_later_file_is_found_at_its_title() -> None:
    (found,) = found_at_marks(RULE, _twin() + parts(part()))
    assert "corran-b computes as one with tamblin-gate: the same gearboxes (Tamblin Short)" in found.message


def test_one_that_no_vehicle_came_with_counts_by_its_parts() -> None:
    found_at_marks(RULE, _twin(applications=False) + parts(part()))


def test_another_gearbox_or_lever_is_no_twin() -> None:
    found_at_marks(RULE, _twin("    gearboxes: [Tamblin Stage, Tamblin Short]\n", mark="") + parts(part()), alone=False)
    contacts = CONTACTS.replace(", 1: 200", "")
    found_at_marks(RULE, _twin("    positions: [P, R, N, D, 2]\n", contacts, mark="") + parts(part()), alone=False)


def test_another_part_that_does_not_fit_makes_two_of_them() -> None:
    found_at_marks(RULE, _twin(mark="") + parts(part(), part("TB-20455", "oval-13")), alone=False)
    found_at_marks(RULE, _twin(contacts=CONTACTS.replace("9100", "6800"), mark="") + parts(part()), alone=False)


def test_unknown_is_not_the_same() -> None:
    found_at_marks(RULE, _twin(contacts="", mark="") + parts(part()), alone=False)


def test_without_any_vehicle_nothing_can_be_computed() -> None:
    found_at_marks(RULE, _twin(applications=False, mark="") + parts(part()) + "    applications: []\n", alone=False)


def test_without_gearboxes_nobody_knows() -> None:
    empty = "    gearboxes: []\n"
    text = _twin(empty, applications=False, mark="") + parts(part()) + empty + "    applications: []\n"
    found_at_marks(RULE, text, alone=False)
