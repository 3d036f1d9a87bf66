"""condition-impossible."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

VEHICLE = "    kind: switch\n    applications: [{vehicle: Corran Delver 2.4, years: 2007-2012, when: {%s, stamped_at: door}}]\n"


@pytest.mark.parametrize(
    "when",
    [
        "built: {from: 2010-02, to: 2010-01}",
        "built: {from: 2010, to: 2009-12}",
        "serial: {from: 1042, to: 1041}",
        "serial: {from: A1, to: B2}",
        "vin: {from: 104418, to: 104417}",
        "gearbox_serial: {from: T-20, to: T-9}",
    ],
)
def test_a_range_backwards_or_of_two_rows(look, when):
    (found,) = look("condition-impossible", VEHICLE % when)
    assert found.at.startswith("{from")


@pytest.mark.parametrize(
    "when",
    [
        "built: {from: 2010, to: 2010}",
        "built: {from: 2010-01, to: 2010}",
        "serial: {from: 999, to: 1000}",
        "serial: {to: A1}",
        "serial: [B2, A1]",
        # The ninth sign of a VIN is a check digit (49 CFR 565.15): it counts for nothing.
        "vin: {from: WX4GM1C29KL104417, to: WX4GM1C23KL104418}",
    ],
)
def test_let_be(look, when):
    assert look("condition-impossible", VEHICLE % when) == []


@operator("built from after it was built up to, on a condition", "condition-impossible")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.nodes("parts", "*", "revisions", "*", "when"):
            if "built:" not in source.text[node.start : node.end]:
                yield source.seed((node.start + 1, node.start + 1, "built: {from: 2009-04, to: 2008-11}, "))
