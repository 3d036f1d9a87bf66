"""overlap-apart. That an overlap lies between two neighbouring detents follows from the shaft's turning; common practice, no source."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.lint.marking import CONTACTS, found_at_marks, part, parts
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "overlap-apart"


@operator("a contact that overlaps into a position at the other end of the lever", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        lever = [one.value for one in source.at("positions").items]
        for _, node in source.nodes("parts", "*", "contacts", "*", "closed"):
            places = {lever.index(one.value) for one in node.items}
            far = next((at for index, at in enumerate(lever) if all(abs(index - place) > 1 for place in places)), None)
            if places and far is not None:
                yield source.seed((node.end, node.end, f", overlaps: [{far}]"))


def contacts(overlaps: str, closed: str = "[D, 2]") -> str:
    return parts(part(contacts=CONTACTS.rstrip("\n") + f"\n          - {{pins: [5, case], closed: {closed}, overlaps: {overlaps}}}\n"))


@pytest.mark.parametrize("overlaps", ["[1]", "[N]", "[N, 1]"])
def test_a_neighbour(overlaps: str) -> None:
    found_at_marks(RULE, contacts(overlaps), alone=False)


@pytest.mark.parametrize("overlaps", ["[»P]", "[»R]", "[»D]", "[N, »R]"])
def test_no_neighbour_or_closed_anyhow(overlaps: str) -> None:
    assert all("next to one" in one.message for one in found_at_marks(RULE, contacts(overlaps), alone=False))


def test_resistances_overlap_into_nothing() -> None:
    ladder = CONTACTS.replace("tolerance_percent: 5", "tolerance_percent: 5, overlaps: [»D]")
    found_at_marks(RULE, parts(part(contacts=ladder.replace("{P: 9100, R", "{P: 9100, R"))), alone=False)
