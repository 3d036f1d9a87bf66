"""nowhere-to-read."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

VEHICLE = "    kind: switch\n    applications: [{vehicle: Corran Delver 2.4, years: 2007-2012, when: {%s}}]\n"


@pytest.mark.parametrize("when", ["serial: {from: 17}", "gearbox_serial: [17]", "marked: K"])
def test_it_is_not_said_where(look, when):
    (found,) = look("nowhere-to-read", VEHICLE % when)
    assert found.at.startswith("{") and "Corran Delver" in found.message
    assert look("nowhere-to-read", VEHICLE % f"{when}, stamped_at: on the lid") == []


@pytest.mark.parametrize("when", ["vin: {from: 17}", "built: {from: 2009}", "steering: left", "built_for: taxis"])
def test_everybody_knows_where(look, when):
    assert look("nowhere-to-read", VEHICLE % when) == []


@operator("where a mark is stamped left out", "nowhere-to-read")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.scalars("parts", "*", "revisions", "*", "when", "stamped_at"):
            before = source.text.rindex(",", 0, source.key(*path).start)
            yield source.seed((before, node.end, ""), told=source.at(*path[:-1]).start)
