"""original-misfit."""

from __future__ import annotations

from tests.lint.marking import CONTACTS, found_at_marks, part, parts

RULE = "original-misfit"


def _applications(*facts: str, plug: str = "oval-9") -> str:
    lines = [f"      - {{vehicle: Corran Delver {index}, gearbox: Tamblin Short, {one}}}" for index, one in enumerate(facts)]
    return f"""    plugs:
      six-wire:
        connector: {plug}
        wires: {{1: {{}}, 2: {{}}, 3: {{}}}}
    applications:
""" + "\n".join([*lines, ""])


def test_a_plug_that_does_not_go_on_is_found_at_the_part() -> None:
    text = parts(part()) + _applications("plug: six-wire, came_with: »TB-20417", plug="oval-13")
    (found,) = found_at_marks(RULE, text, alone=False)
    assert "Corran Delver 0 is said to have come with TB-20417 on plug six-wire" in found.message
    assert "no kit in the book leads there" in found.message


def test_a_plug_that_goes_on_only_with_a_kit() -> None:
    # The kit of the example book leads from oval-9 to oval-13: no vehicle leaves the works with it.
    text = parts(part(connector="oval-13")) + _applications("plug: six-wire, came_with: »TB-20417")
    (found,) = found_at_marks(RULE, text, alone=False)
    assert "goes onto oval-13 only with oval-9-renewal" in found.message


def test_one_finding_for_a_seat_at_its_first_vehicle() -> None:
    text = parts(part()) + _applications(
        "plug: six-wire, came_with: »TB-20417", "plug: six-wire, came_with: TB-20417", "plug: six-wire, came_with: TB 20417", plug="oval-13"
    )
    (found,) = found_at_marks(RULE, text, alone=False)
    assert "(and 2 more)" in found.message


def test_a_plug_that_mates_is_fine() -> None:
    mates = "    # entries/connectors/oval-9.md\n    kind: connector\n    id: oval-9\n    mates: [oval-13]\n"
    mates += "    rows: [[1, 2, 3, 4, 5], [6, 7, 8, 9]]\nand\n"
    found_at_marks(RULE, mates + parts(part()) + _applications("plug: six-wire, came_with: TB-20417", plug="oval-13"), alone=False)


def test_mating_works_one_way_only() -> None:
    same = ", ".join(f"{one}: {one}" for one in range(1, 10))
    # On oval-13: a plug of oval-9 goes on it, not the other way about.
    mates = f"    kind: connector\n    mates: [{{connector: oval-9, cavities: {{{same}}}}}]\nand\n"
    found_at_marks(RULE, mates + parts(part()) + _applications("plug: six-wire, came_with: »TB-20417", plug="oval-13"), alone=False)
    found_at_marks(RULE, mates + parts(part(connector="oval-13")) + _applications("plug: six-wire, came_with: TB-20417"), alone=False)


def test_what_is_not_stated_or_not_in_the_book_is_fine() -> None:
    no_connector = part().replace("        connector: oval-9\n", "")
    found_at_marks(RULE, parts(no_connector) + _applications("plug: six-wire, came_with: TB-20417", plug="oval-13"), alone=False)
    found_at_marks(RULE, parts(part()) + _applications("plug: six-wire, came_with: TB-20417", plug="oval-33"), alone=False)
    found_at_marks(RULE, parts(part(connector="oval-99")) + _applications("plug: six-wire, came_with: TB-20417"), alone=False)


def test_a_part_of_another_family_without_the_lever_s_positions() -> None:
    other = """
    # entries/switches/three.md
    kind: switch
    id: three
    positions: [P, R, N, D]
    mounts: {short-boss: {shaft: {shape: double-flat, across_mm: 9.5}}}
    parts:
      - number: T-3
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: ground}
        contacts: [{pins: [1, 2], closed: [P, N]}, {pins: [3, case], closed: [P, R, N, D]}]
        sources: [{kind: seen}]
    applications: []
and
"""
    text = other + parts(part()) + _applications("plug: six-wire, came_with: »T-3")
    (found,) = found_at_marks(RULE, text, alone=False)
    assert "no positions 2 and 1" in found.message
    fine = other + parts(part()) + _applications("plug: six-wire, came_with: T-3, lever: [P, R, N, D]")
    found_at_marks(RULE, fine, alone=False)


def test_an_unsafe_original_is_told_by_the_rule_that_looks_into_it() -> None:
    unsafe = part(contacts=CONTACTS.replace("[P, N]", "[P, N, D]"))
    found_at_marks(RULE, parts(unsafe), others=["start-path"])


def test_a_lever_with_a_position_that_the_family_lacks_is_another_rule() -> None:
    lever = "plug: six-wire, came_with: TB-20417, lever: [P, R, N, D, M]"
    found_at_marks(RULE, parts(part()) + _applications(lever), others=["unknown-position"])
