"""kit-seal-for-all-wires."""

from __future__ import annotations

from tests.lint.marking import found_at_marks, part, parts

RULE = "kit-seal-for-all-wires"
PLUGS = """
    plugs:
      six-wire:
        connector: oval-9
        wires: {1: {}, 2: {}, 3: {}, 4: {}, 5: {}, 6: {}}
      four-wire:
        connector: oval-9
        wires: {1: {}, 2: {}, 3: {}, 4: {}}
"""


def _kit(facts: str) -> str:
    return f"    kind: kit\n{facts}\nand\n" + parts(part()) + PLUGS.lstrip("\n")


def test_the_plug_with_the_most_wires_is_named() -> None:
    (found,) = found_at_marks(RULE, _kit("    seals: »[3, 4]\n"))
    assert (
        "largest rear seal is for 4 wires" in found.message
        and "plug six-wire of tamblin-gate" in found.message
        and "has 6" in found.message
    )


def test_a_seal_that_is_large_enough_is_fine() -> None:
    found_at_marks(RULE, _kit("    seals: [4, 6]\n"))


def test_a_plug_that_the_kit_has_no_place_for_is_not_its_business() -> None:
    found_at_marks(RULE, _kit("    moves: {1: 1, 2: 2, 3: 3, 4: 4}\n    seals: [4]\n"))


def test_a_kit_that_seals_each_wire_by_itself_and_one_of_which_it_is_not_known() -> None:
    found_at_marks(RULE, _kit("    seals: []\n"), others=["kit-without-seals"])


def test_a_kit_from_another_plug_is_left_alone() -> None:
    found_at_marks(RULE, _kit("    from: oval-13\n    to: oval-13\n    seals: [3]\n"), alone=False)
