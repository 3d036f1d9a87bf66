"""unsafe-loop. Source: 49 CFR 571.102 S3.1.3 and 571.108 Table I-a."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "unsafe-loop"


@operator("a jumper across the start contact", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        family = ground.loaded.book.families[source.at("id").value]
        came = {one.plug for one in family.applications if one.came_with and ground.loaded.book.part(one.came_with)}
        for name in sorted(came & set(family.plugs)):
            by = {wire.circuit: cavity for cavity, wire in family.plugs[name].wires.items()}
            ends = [by.get("start_feed"), by.get("start_out")]
            wires = source.at("plugs", name, "wires")
            if None in ends or source.at("plugs", name, "loops") is not None:
                continue
            key = source.key("plugs", name, "wires")
            indent = source.text[source.text.rindex("\n", 0, key.start) + 1 : key.start]
            _, end = source.line_span(wires.end - 1)
            if not indent.strip():
                seed = source.seed((end, end, f"{indent}loops: [[{ends[0]}, {ends[1]}]]\n"))
                yield type(seed)(seed.what, seed.files, frozenset({(source.file, source.line(end))}))


def plug(loops: str, mark: str = "") -> str:
    return (
        "    kind: switch\n    plugs:\n      six-wire:\n        connector: oval-9\n        wires:\n"
        "          1: {circuit: start_feed, colour: RD}\n          2: {circuit: start_out, colour: YE}\n"
        "          7: {circuit: ground, colour: BK}\n"
        f"        {mark}loops: {loops}\n"
    )


@pytest.mark.parametrize("loops", ["[[1, 2]]", "[[2, 7]]", "[[8, 9], [1, 8, 2]]", "[[2, 5]]"])
def test_a_jumper_that_lets_it_crank_in_gear(loops: str) -> None:
    if loops == "[[2, 5]]":  # over the ladder to no wire: 6 carries none here
        found_at_marks(RULE, plug(loops), alone=False)
    else:
        (found,) = found_at_marks(RULE, plug(loops, "»"), alone=False)
        assert "start_out" in found.message


@pytest.mark.parametrize("loops", ["[[8, 9]]", "[[1, 7]]", "[[7, 8]]"])
def test_a_jumper_that_does_not(loops: str) -> None:
    found_at_marks(RULE, plug(loops), alone=False)
