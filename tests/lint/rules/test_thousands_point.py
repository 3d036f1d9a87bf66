"""thousands-point: 4.700 under ohms."""

from __future__ import annotations

from collections.abc import Iterator

from tests.lint.marking import CONTACTS, found_at_marks, part, parts
from tests.lint.seeding.operators.entering import each, operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "thousands-point"


@operator("thousands of ohms parted by a point", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source, _, node in each("switch", "parts", "*", "contacts", "*", "ohms", "*")(ground):
        if node.value.isdigit() and len(node.value) == 4:
            yield source.seed((node.start, node.end, f"{node.value[0]}.{node.value[1:]}"))


def test_it_is_asked_which_is_meant() -> None:
    (found,) = found_at_marks(RULE, parts(part(contacts=CONTACTS.replace("P: 9100", "P: »9.100"))), alone=False)
    assert "`9.100` is read as 9.1 ohm" in found.message and "`9100`" in found.fix and "`9.1`" in found.fix


def test_other_points_are_points() -> None:
    found_at_marks(RULE, parts(part(contacts=CONTACTS.replace("1: 200", "1: 200.5"))), alone=False)
    found_at_marks(RULE, parts(part(contacts=CONTACTS.replace("tolerance_percent: 5", "tolerance_percent: 5.125"))), alone=False)
