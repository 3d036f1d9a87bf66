"""cranking. Source: 49 CFR 571.102 S3.1.3 (the starter is inoperative in forward and reverse positions)."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "cranking"


@operator("a vehicle that is said to crank in reverse", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        if "R" not in [one.value for one in source.at("positions").items]:
            continue
        for _, node in source.nodes("applications", "*"):
            last = node.pairs[-1]
            if last[0].value != "note":
                yield source.seed((last[1].end, last[1].end, ", cranks: {in: [P, R]}"))


def plug(cranks: str) -> str:
    return (
        "    kind: switch\n    plugs:\n      six-wire:\n        connector: oval-9\n        cranks: " + cranks + "\n        wires:\n"
        "          1: {circuit: start_feed, colour: RD}\n          2: {circuit: start_out, colour: YE}\n"
    )


@pytest.mark.parametrize(
    "cranks",
    ["{in: [P]}", "{in: [P, N]}", "{by: module}", "{by: module, in: [P, N, D], sources: [{kind: service-manual}]}", "{side: ground}"],
)
def test_where_an_engine_may_crank(cranks: str) -> None:
    found_at_marks(RULE, plug(cranks), alone=False)


@pytest.mark.parametrize(
    "cranks",
    [
        "{in: [P, »R]}",
        "{in: [»D]}",
        "{by: module, in: [P, N, »D]}",
        "{by: switch, in: [P, »D], sources: [{kind: service-manual}]}",
        "{by: module, in: [P, »R, D], sources: [{kind: service-manual}]}",
    ],
)
def test_where_it_must_not(cranks: str) -> None:
    found_at_marks(RULE, plug(cranks), alone=False)


def test_a_vehicle_s_own() -> None:
    text = (
        "    kind: switch\n    applications:\n      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, "
        "plug: six-wire, came_with: TB-20417, cranks: {in: [P, »R]}}\n"
    )
    (found,) = found_at_marks(RULE, text, alone=False)
    assert "Corran Delver 2.4" in found.message


def test_park_alone_where_that_is_said() -> None:
    """A start contact that closes in P only is a slip, but where the vehicle cranks in P only."""
    from tests.lint.marking import CONTACTS, part, parts

    text = parts(part(contacts=CONTACTS.replace("closed: [P, N]", "closed: [P]")))
    application = "    applications: [{vehicle: Corran Delver 2.4, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417%s}]\n"
    assert found_at_marks("start-path", text.replace("closed: [P]", "closed: »[P]") + application % "", alone=False)
    found_at_marks("start-path", text + application % ", cranks: {in: [P]}", alone=False)
    wide = parts(part(contacts=CONTACTS.replace("closed: [P, N]", "closed: [P, N, »D]")))
    assert found_at_marks("start-path", wide + application % ", cranks: {in: [P]}", alone=False)
