"""wire-size."""

from __future__ import annotations

from collections.abc import Iterator

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "wire-size"
OVAL = "    # entries/connectors/oval-9.md\n    kind: connector\n    id: oval-9\n"
TERMINAL = "    terminal: {style: blade, width_mm: 2.8, on_switch: male, wire_mm2: [0.5, 1.5]}\n"


@operator("the smallest and the largest wire changed about", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("connector"):
        for path in (("terminal", "wire_mm2"), ("seal_wire_mm2",)):
            node = source.at(*path)
            if node is not None:
                first, second = (one.value for one in node.items)
                yield source.seed((node.start, node.end, f"[{second}, {first}]"))


def wired(size: str) -> str:
    plugs = f"    plugs:\n      six-wire:\n        connector: oval-9\n        wires: {{1: {{circuit: start_feed, size_mm2: {size}}}}}\n"
    return f"and\n    kind: switch\n{plugs}"


def test_a_wire_that_the_terminals_are_not_made_for() -> None:
    (found,) = found_at_marks(RULE, OVAL + TERMINAL + wired("»2.5"), alone=False)
    assert "the terminal of oval-9 takes wire of 0.5 to 1.5 mm2, and this one has 2.5" in found.message
    found_at_marks(RULE, OVAL + TERMINAL + wired("1.5"), alone=False)


def test_a_wire_that_the_seal_does_not_close_round() -> None:
    (found,) = found_at_marks(RULE, OVAL + "    seal_wire_mm2: [0.5, 1]\n" + wired("»0.35"), alone=False)
    assert "the seal of oval-9" in found.message


def test_a_range_the_wrong_way_round() -> None:
    (found,) = found_at_marks(RULE, OVAL + "    seal_wire_mm2: »[2, 1]\n")
    assert "larger than the largest" in found.message


def test_the_terminal_of_the_cavity_counts() -> None:
    mixed = TERMINAL + "    terminals: {1: {wire_mm2: [1.5, 4]}}\n"
    found_at_marks(RULE, OVAL + mixed + wired("2.5"), alone=False)
    found_at_marks(RULE, OVAL + mixed + wired("»1"), alone=False)
    found_at_marks(RULE, OVAL + "    terminals: {1: {wire_mm2: »[4, 1.5]}}\n")


def together(first: str, second: str, mark: str = "") -> str:
    two = f"[{{circuit: start_feed, size_mm2: {first}}}, {{circuit: start_feed, size_mm2: {second}}}]"
    return f"and\n    kind: switch\n    plugs:\n      six-wire:\n        connector: oval-9\n        wires: {{1: {mark}{two}}}\n"


def test_wires_that_share_a_terminal_are_added_up() -> None:
    found_at_marks(RULE, OVAL + TERMINAL + together("0.75", "0.75"), alone=False)
    (found,) = found_at_marks(RULE, OVAL + TERMINAL + together("1", "0.75", "»"), alone=False)
    assert "these have together 1.75" in found.message
    (found,) = found_at_marks(RULE, OVAL + TERMINAL.replace("]}", "], wires: 1}") + together("0.75", "0.75", "»"), alone=False)
    assert "takes 1 at the most, and here are 2 wires" in found.message


def test_over_the_insulation() -> None:
    sealed = TERMINAL.replace("]}", "], seal_mm: [1.2, 1.9]}")
    found_at_marks(RULE, OVAL + sealed + wired("1, outer_mm: »2.4"), alone=False)
    found_at_marks(RULE, OVAL + sealed + wired("1, outer_mm: 1.7"), alone=False)


def test_the_ranges_of_a_bag() -> None:
    found_at_marks(RULE, "    kind: kit\n    terminal: {wire_mm2: »[2, 1]}\n    wire_seals: [{count: 3, outer_mm: »[2, 1]}]\n", alone=False)
