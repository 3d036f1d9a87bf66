"""supersession-contradicted. Which verdict follows from which facts is tested with the engine; here, what is made of it."""

from __future__ import annotations

import pytest

from tests.lint.marking import CONTACTS, PINS, found_at_marks, part, parts

RULE = "supersession-contradicted"
OTHER_OHMS = CONTACTS.replace("9100", "5100")
KIT = "needs: [oval-9-renewal]"


def _old(link: str = f"{{number: TB-20455, {KIT}}}", contacts: str = CONTACTS) -> str:
    return part(contacts=contacts, more=f"status: superseded\nsuperseded_by: [{link}]")


def _new(
    number: str = "TB-20455", connector: str = "oval-13", contacts: str = CONTACTS, more: str = "status: current", **facts: str
) -> str:
    return part(number, connector, contacts=contacts, more=more, **facts)


def test_a_successor_that_does_something_else_is_found_at_its_number() -> None:
    (found,) = found_at_marks(RULE, parts(_old(f"{{number: »TB-20455, {KIT}}}"), _new(contacts=OTHER_OHMS)))
    assert "TB-20455 is said to take the place of TB-20417, but it does not fit" in found.message
    assert "9100 ohm in the original, 5100 ohm in this one" in found.message
    assert "tamblin-gate six-wire with TB-20417 (Corran Delver 2.4)" in found.message


def test_one_that_agrees_is_fine() -> None:
    found_at_marks(RULE, parts(_old(), _new()))


def test_more_pins_than_before_are_no_contradiction() -> None:
    # Common practice, no source: a part may be replaced by one with more pins in the same housing; here nine for six.
    contacts = CONTACTS + "          - {pins: [7, case], closed: [P, R, N, D, 2, 1]}\n          - {pins: [8, case], closed: [P]}\n"
    contacts += "          - {pins: [9, case], closed: [1]}\n"
    more = "6: range_return, 7: ground, 8: park_signal, 9: low_signal"
    found_at_marks(RULE, parts(_old(), _new(contacts=contacts, pins=PINS.replace("6: range_return", more))))


def test_unknown_contradicts_nothing() -> None:
    found_at_marks(RULE, parts(_old(), _new(contacts="")))
    found_at_marks(RULE, parts(_old(), _new(contacts=CONTACTS.replace("P: 9100, ", ""))), others=["incomplete-table"])
    found_at_marks(RULE, parts(_old(contacts=""), _new()))


def test_one_that_fits_only_with_wires_moved() -> None:
    # 1 and 2 are feed and out, 3 and 4 too: here the two pairs have changed places.
    contacts = CONTACTS.replace("[1, 2]", "[0, 0]").replace("[3, 4]", "[1, 2]").replace("[0, 0]", "[3, 4]")
    pins = "        pins: {1: backup_feed, 2: backup_out, 3: start_feed, 4: start_out, 5: range_signal, 6: range_return}\n"
    text = parts(_old("{number: »TB-20455, needs: []}"), _new(connector="oval-9", contacts=contacts, pins=pins))
    (found,) = found_at_marks(RULE, text, alone=False)
    assert "fits only with wires moved" in found.message and "->" in found.message


@pytest.mark.parametrize(("link", "names"), [("{number: TB-20455, needs: »[]}", "no kit"), ("{number: »TB-20455}", "no kit")])
def test_a_kit_that_is_needed_and_not_named(link: str, names: str) -> None:
    (found,) = found_at_marks(RULE, parts(_old(link), _new()), alone=False)
    assert f"it needs oval-9-renewal, which the claim does not name (it names {names})" in found.message
    assert "add the kit to `needs`" in found.fix


def test_a_kit_that_is_named_and_not_needed() -> None:
    text = parts(_old("{number: TB-20455, needs: [»oval-9-renewal]}"), _new(connector="oval-9"))
    (found,) = found_at_marks(RULE, text)
    assert "oval-9-renewal is said to be needed with TB-20455, but it goes on without" in found.message
    spelt_out = parts(_old("{number: TB-20455, needs: [»{kit: oval-9-renewal, seal: 6}]}"), _new(connector="oval-9"))
    found_at_marks(RULE, spelt_out)


def test_another_seal_than_the_wires_ask_for() -> None:
    text = parts(_old("{number: TB-20455, needs: [{kit: oval-9-renewal, seal: »4}]}"), _new())
    (found,) = found_at_marks(RULE, text)
    assert "TB-20455 is said to need the seal for 4, but the plug has wires for the one for 6" in found.message
    assert "tamblin-gate six-wire with TB-20417" in found.message and "`seal: 6`" in found.fix
    found_at_marks(RULE, parts(_old("{number: TB-20455, needs: [{kit: oval-9-renewal, seal: 6}]}"), _new()))


def test_a_kit_that_leads_elsewhere_is_named_and_not_needed() -> None:
    back = "    # entries/kits/back.md\n    kind: kit\n    id: back\n    number: TW-2\n    from: oval-13\n    to: oval-9\nand\n"
    text = parts(_old("{number: TB-20455, needs: [oval-9-renewal, »back]}"), _new())
    found_at_marks(RULE, back + text, alone=False)


def test_a_seal_or_blanks_alone_are_no_kit() -> None:
    found_at_marks(RULE, parts(_old("{number: TB-20455, needs: [{blanks: 1}]}"), _new(connector="oval-9")), alone=False)


OTHER_KIT = """
    # entries/kits/other.md
    kind: kit
    id: other
    number: TW-2
    title: The dearer kit

and
"""


def test_of_two_kits_that_do_either_may_be_named() -> None:
    found_at_marks(RULE, OTHER_KIT + parts(_old("{number: TB-20455, needs: [other]}"), _new()), alone=False)
    found_at_marks(RULE, OTHER_KIT + parts(_old(), _new()), alone=False)


def test_a_kit_that_leads_elsewhere_does_not_do() -> None:
    elsewhere = OTHER_KIT.replace("title:", "from: oval-13\n    title:")
    (found,) = found_at_marks(RULE, elsewhere + parts(_old("{number: TB-20455, needs: »[other]}"), _new()), alone=False)
    assert "it names other" in found.message


def test_down_the_chain_the_kits_of_the_links_before_count() -> None:
    middle = _new("TB-20450", more="status: superseded\nsuperseded_by: [{number: TB-20455, needs: []}]")
    found_at_marks(RULE, parts(_old(f"{{number: TB-20450, {KIT}}}"), middle, _new()))


def test_down_the_chain_the_first_link_that_is_wrong_is_told() -> None:
    middle = _new("TB-20450", more="status: superseded\nsuperseded_by: [{number: »TB-20455, needs: []}]")
    (found,) = found_at_marks(RULE, parts(_old(f"{{number: TB-20450, {KIT}}}"), middle, _new(contacts=OTHER_OHMS)))
    assert "take the place of TB-20450" in found.message and "with TB-20417" in found.message
    # Where the first one does not fit nothing is said of what comes after it.
    middle = middle.replace("»", "").replace("9100", "5100")
    found_at_marks(RULE, parts(_old(f"{{number: »TB-20450, {KIT}}}"), middle, _new(contacts=CONTACTS)))


def test_all_vehicles_of_a_seat_are_one_finding() -> None:
    more = """    applications:
      - {vehicle: Corran Delver 2.4, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
      - {vehicle: Corran Delver 2.0, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
"""
    (found,) = found_at_marks(RULE, parts(_old(f"{{number: »TB-20455, {KIT}}}"), _new(contacts=OTHER_OHMS)) + more)
    assert "(Corran Delver 2.4 and 1 more)" in found.message


FOUR_WIRES = """    plugs:
      six-wire:
        connector: oval-9
        wires: {1: {}, 2: {}, 3: {}, 4: {}, 5: {}, 6: {}}
      four-wire:
        connector: oval-9
        wires: {1: {}, 2: {}, 3: {}, 4: {}}
    applications:
      - {vehicle: Corran Delver 2.4, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
      - {vehicle: Corran Delver 2.0, gearbox: Tamblin Short, plug: four-wire, came_with: TB-20417}
"""


def test_only_the_seats_that_contradict_are_named() -> None:
    # The four-wire plug does not read the ladder.
    (found,) = found_at_marks(RULE, parts(_old(f"{{number: »TB-20455, {KIT}}}"), _new(contacts=OTHER_OHMS)) + FOUR_WIRES)
    assert "six-wire" in found.message and "four-wire" not in found.message


def test_of_two_successors_on_conditions_each_need_not_fit_everywhere() -> None:
    right = _new("TB-20460")
    for_four = _new(contacts=OTHER_OHMS)
    link = '{{number: {mark}TB-20455, {kit}{note}}}, {{number: TB-20460, {kit}, note: "with a gear display"}}'
    on_condition = link.format(mark="", kit=KIT, note=', note: "without a gear display"')
    found_at_marks(RULE, parts(_old(on_condition), for_four, right) + FOUR_WIRES)
    # Without a condition it is said to fit all of them.
    found_at_marks(RULE, parts(_old(link.format(mark="»", kit=KIT, note="")), for_four, right) + FOUR_WIRES)
    # And on whatever condition, it must fit somewhere.
    only_six = FOUR_WIRES.replace("plug: four-wire", "plug: six-wire")
    found_at_marks(RULE, parts(_old(link.format(mark="»", kit=KIT, note=', note: "some"')), for_four, right) + only_six)


def test_where_no_successor_on_conditions_fits_each_is_told() -> None:
    link = f"{{number: »TB-20455, {KIT}, note: a}}, {{number: »TB-20460, {KIT}, note: b}}"
    bad = parts(_old(link), _new(contacts=OTHER_OHMS), _new("TB-20460", contacts=OTHER_OHMS))
    assert len(found_at_marks(RULE, bad + FOUR_WIRES)) == 2


def test_a_part_that_no_vehicle_came_with_cannot_be_contradicted() -> None:
    found_at_marks(RULE, parts(_old(), _new(contacts=OTHER_OHMS)) + "    applications: []\n", alone=False)


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        ("start-path", parts(_old(contacts=CONTACTS.replace("[P, N]", "[P, N, D]")), _new())),
        ("contact-without-pin", parts(_old(), _new(contacts=CONTACTS.replace("[1, 2]", "[1, 9]")))),
        ("positions-alike", parts(_old(), _new(contacts=CONTACTS.replace("9100", "3900")))),
        ("duplicate-number", parts(_old(), _new(contacts=OTHER_OHMS), _new("tb20455"))),
        ("unknown-kit", parts(_old("{number: TB-20455, needs: [oval-9-renewel]}"), _new())),
    ],
)
def test_what_another_rule_tells_is_not_told_again(rule: str, text: str) -> None:
    found_at_marks(RULE, text, others={rule})


def test_a_fault_in_another_part_of_the_family_hides_nothing() -> None:
    wrong = part("TB-9", contacts=CONTACTS.replace("[P, N]", "[P, N, D]"))
    found_at_marks(RULE, parts(_old(f"{{number: »TB-20455, {KIT}}}"), _new(contacts=OTHER_OHMS), wrong), alone=False)


def test_what_the_entry_allows_hides_nothing() -> None:
    # D closed in the original, allowed, and not in the successor.
    allow = "    allow: [{rule: start-path, reason: seen with two meters}]\n"
    old = _old(f"{{number: »TB-20455, {KIT}}}", contacts=CONTACTS.replace("[P, N]", "[P, N, D]"))
    found_at_marks(RULE, parts(old, _new()) + allow)


def test_while_something_else_is_wrong_its_allowance_does_not_look_unneeded() -> None:
    allow = f"    allow: [{{rule: {RULE}, reason: the list says so}}]\n"
    old = _old(contacts=CONTACTS.replace("[P, N]", "[P, N, D]"))
    found_at_marks(RULE, parts(old, _new(contacts=OTHER_OHMS)) + allow, others=["start-path"])


def test_it_can_be_allowed_itself() -> None:
    allow = f"    allow: [{{rule: {RULE}, reason: the list says so}}]\n"
    found_at_marks(RULE, parts(_old(), _new(contacts=OTHER_OHMS)) + allow)


def test_a_kit_that_could_not_be_read_may_be_the_one_that_leads_there() -> None:
    broken = "    kind: kit\n    moves: [1, 2]\nand\n"
    found_at_marks(RULE, broken + parts(_old("{number: TB-20455, needs: []}"), _new()), alone=False)


def test_a_kit_to_a_connector_that_is_misspelt_may_lead_there() -> None:
    misspelt = "    kind: kit\n    to: oval-33\nand\n"
    found_at_marks(RULE, misspelt + parts(_old(), _new()), alone=False)
