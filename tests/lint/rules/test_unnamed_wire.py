"""unnamed-wire."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "unnamed-wire"


@operator("a wire without a circuit that meets no pin", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    for source in ground.of("switch"):
        family = book.families[source.at("id").value]
        pins = {pin for one in family.applications for pin in (book.part(one.came_with or "").pins or ())}
        came = {one.plug for one in family.applications}
        for name in came & set(family.plugs):
            wires = source.at("plugs", name, "wires")
            plug = family.plugs[name]
            labels = [one.label(cavity) for one in plug.sockets for cavity in book.connectors[one.connector].cavities]
            free = [one for one in labels if one not in pins and one not in plug.wires]
            if free and isinstance(free[0], str):
                key, last = wires.pairs[-1]
                end = source.text.index("\n", last.end)
                indent = source.text[source.text.rindex("\n", 0, key.start) : key.start]
                seed = source.seed((end, end, f"{indent}{free[0]}: {{colour: GN}}"))
                yield replace(seed, places=frozenset({(source.file, source.line(end) + 1)}))


def _plug(wires: str) -> str:
    return (
        "    kind: switch\n    plugs:\n      six-wire:\n        connector: oval-9\n        wires:\n"
        "          1: {circuit: start_feed, colour: RD}\n          2: {circuit: start_out, colour: YE}\n" + wires
    )


def test_a_wire_without_a_name_where_there_is_no_pin() -> None:
    found_at_marks(RULE, _plug("          »7: {colour: GN}\n          »8: {}\n"), alone=False)


def test_the_pin_of_the_vehicle_s_own_part_names_it() -> None:
    found_at_marks(RULE, _plug("          3: {colour: GN}\n"))


def test_a_part_without_pins_names_nothing() -> None:
    other = "    parts:\n      - {number: TB-20417, connector: oval-9, mount: short-boss, sources: [{kind: seen}]}\n"
    found_at_marks(RULE, _plug("          »3: {colour: GN}\n") + other, alone=False)


def test_a_plug_that_no_vehicle_has_is_left_alone() -> None:
    found_at_marks(RULE, _plug("          7: {colour: GN}\n") + "    applications: []\n", alone=False)


def test_it_goes_by_the_pin_that_the_wire_meets() -> None:
    """A plug on another housing by a map: its 7 meets pin 3, which has a circuit, and its 3 meets 7, where there is none."""
    wires = "          1: {circuit: start_feed}\n          2: {circuit: start_out}\n          7: {colour: GN}\n          »3: {colour: BU}\n"
    plug = _plug("").split("        connector")[0] + "        connector: oval-13\n        wires:\n" + wires
    connector = "\nand\n\n    # entries/connectors/oval-9.md\n    kind: connector\n"
    connector += "    mates: [{connector: oval-13, cavities: {1: 1, 2: 2, 7: 3, 3: 7}}]\n"
    found_at_marks(RULE, plug + connector, alone=False)
