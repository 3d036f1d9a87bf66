"""lever-incomplete. Source: 49 CFR 571.102 S3.1.1 (park, reverse, neutral, forward); the levers are typed by hand from that text."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.lint.marking import found_at_marks, part, parts
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "lever-incomplete"
NO_CONTACTS = "        contacts: []\n"


@operator("a vehicle's lever without reverse", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.nodes("applications", "*", "lever"):
            by = {one.value: one for one in node.items}
            if "R" in by and node.items[0].value != "R":
                yield source.seed((node.items[0].end, by["R"].end, ""))


def _lever(positions: str, lever: str = "") -> str:
    text = "    kind: switch\n    positions: " + positions + "\n" + parts(part(contacts=NO_CONTACTS)).removeprefix("    kind: switch\n")
    if lever:
        text += (
            "    applications:\n      - {vehicle: Corran Delver 2.4, years: 2003-2008, gearbox: Tamblin Short, plug: six-wire, "
            f"came_with: TB-20417, lever: {lever}}}\n"
        )
    return text + "    fitting: {method: as usual}\n"


@pytest.mark.parametrize("positions", ["[P, R, N, D]", "[R, N, D]", "[P, R, N, D, 2, 1]", "[1, 2, D, N, R, P]", "[R, N, L]"])
def test_levers_with_all_that_they_need(positions: str) -> None:
    found_at_marks(RULE, _lever(positions), alone=False)


@pytest.mark.parametrize("positions", ["»[P, N, D]", "»[D, 2, 1]", "»[N, D]", "»[P, R]", "»[P, R, N]", "»[R, D]"])
def test_positions_that_lack_one(positions: str) -> None:
    (found,) = found_at_marks(RULE, _lever(positions), alone=False)
    assert "49 CFR 571.102" in found.message


@pytest.mark.parametrize(
    ("lever", "lacking"),
    [
        ("»[R, N, D]", "P"),
        ("»[P, N, D]", "R"),
        ("»[P, R, N]", "a forward range"),
        ("»[P, N]", "R and a forward range"),
        ("»[D, 2]", "P, R and N"),
    ],
)
def test_a_lever_that_lacks_what_the_gearbox_has(lever: str, lacking: str) -> None:
    (found,) = found_at_marks(RULE, _lever("[P, R, N, D, 2, 1]", lever), alone=False)
    assert f"without {lacking} (" in found.message and "Corran Delver 2.4" in found.message


@pytest.mark.parametrize("lever", ["[P, R, N, D]", "[P, R, N, 1]", "[P, R, N, D, 2]"])
def test_a_lever_that_ends_sooner(lever: str) -> None:
    found_at_marks(RULE, _lever("[P, R, N, D, 2, 1]", lever))


def test_a_gearbox_without_park() -> None:
    found_at_marks(RULE, _lever("[R, N, D, 2]", "[R, N, D]"), alone=False)
    found_at_marks(RULE, _lever("[R, N, D, 2]", "»[R, N]"), alone=False)
