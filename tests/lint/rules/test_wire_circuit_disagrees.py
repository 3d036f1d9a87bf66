"""wire-circuit-disagrees."""

from __future__ import annotations

from tests.lint.marking import CONTACTS, PINS, found_at_marks, part, parts

RULE = "wire-circuit-disagrees"


def _plug(wires: str, connector: str = "oval-9", more: str = "", came_with: str = "TB-20417") -> str:
    return f"""    plugs:
      six-wire:
        connector: {connector}
        wires: {{{wires}}}
    applications:
      - {{vehicle: Corran Delver 2.4, gearbox: Tamblin Short, plug: six-wire, came_with: {came_with}}}
{more}"""


def test_the_wire_is_found_at_its_circuit() -> None:
    text = parts(part()) + _plug("1: {circuit: start_feed}, 2: {colour: RD, circuit: »backup_out}")
    (found,) = found_at_marks(RULE, text)
    assert "cavity 2 of plug six-wire is backup_out, but the pin that it meets is start_out in TB-20417" in found.message


def test_two_wires_that_changed_places_are_two_findings() -> None:
    text = parts(part()) + _plug("1: {circuit: »start_out}, 2: {circuit: »start_feed}")
    assert len(found_at_marks(RULE, text)) == 2


def test_start_and_backup_changed_about_are_told_as_labels_only() -> None:
    # The safety check goes by the labels too, and refuses the original itself: that is not told a second time.
    wires = "1: {circuit: »backup_feed}, 2: {circuit: »backup_out}, 3: {circuit: »start_feed}, 4: {circuit: »start_out}"
    found_at_marks(RULE, parts(part(more="status: current")) + _plug(wires))


def test_what_is_not_stated_is_left_alone() -> None:
    found_at_marks(RULE, parts(part()) + _plug("1: {}, 2: {colour: RD}"))
    found_at_marks(RULE, parts(part(pins="", contacts="")) + _plug("1: {circuit: ground}"))


def test_a_cavity_without_a_pin_and_a_pin_that_is_joined_to_nothing() -> None:
    pins = PINS.replace(", 6: range_return", "").replace("5: range_signal", "5: not_connected")
    contacts = CONTACTS.rsplit("          - {pins: [5, 6]", 1)[0]
    found_at_marks(RULE, parts(part(pins=pins, contacts=contacts)) + _plug("5: {circuit: display}, 6: {circuit: ground}"))


def test_a_circuit_that_is_not_on_the_list_is_another_rule() -> None:
    found_at_marks(RULE, parts(part()) + _plug("1: {circuit: start_fed}"), alone=False)


def test_one_plug_that_came_with_two_parts_is_one_finding() -> None:
    second = part("TB-20418", pins=PINS.replace("1: start_feed", "1: common_feed"))
    more = "      - {vehicle: Corran Delver 2.0, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20418}\n"
    (found,) = found_at_marks(RULE, parts(part(), second) + _plug("1: {circuit: »start_feed}, 2: {circuit: start_out}", more=more))
    assert "common_feed in TB-20418" in found.message and "TB-20417" not in found.message


def test_the_part_may_be_of_another_family() -> None:
    other = """
    # entries/switches/other.md
    kind: switch
    id: other
    parts:
      - {number: O-1, connector: oval-9, mount: short-boss, pins: {1: park_signal}, sources: [{kind: seen}]}
    applications: []
and
"""
    found_at_marks(RULE, other + parts(part()) + _plug("1: {circuit: »start_feed}", came_with="o1"), alone=False)


def test_where_the_plug_does_not_go_on_nothing_meets() -> None:
    found_at_marks(RULE, parts(part()) + _plug("1: {circuit: ground}", connector="oval-13"), alone=False)
    mates = "    # entries/connectors/oval-9.md\n    kind: connector\n    id: oval-9\n    mates: [oval-13]\n"
    mates += "    rows: [[1, 2, 3, 4, 5], [6, 7, 8, 9]]\nand\n"
    found_at_marks(RULE, mates + parts(part()) + _plug("1: {circuit: »ground}", connector="oval-13"), alone=False)
