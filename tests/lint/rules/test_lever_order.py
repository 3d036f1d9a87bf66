"""lever-order. Source: 49 CFR 571.102 S3.1.1 and S3.1.1.1 (neutral between reverse and forward; park at the end, next to
reverse). The levers below are typed by hand from that text; there is no other oracle."""

from __future__ import annotations

import pytest

from tests.lint.marking import found_at_marks, part, parts

NO_CONTACTS = "        contacts: []\n"


def _lever(positions: str, lever: str = "") -> str:
    text = "    kind: switch\n    positions: " + positions + "\n" + parts(part(contacts=NO_CONTACTS)).removeprefix("    kind: switch\n")
    if lever:
        text += (
            "    applications:\n      - {vehicle: Corran Delver 2.4, years: 2003-2008, gearbox: Tamblin Short, plug: six-wire, "
            f"came_with: TB-20417, lever: {lever}}}\n"
        )
    return text + "    fitting: {method: as usual}\n"


@pytest.mark.parametrize(
    "positions",
    [
        "[P, R, N, D]",
        "[P, R, N, D, 2, 1]",
        "[1, 2, D, N, R, P]",
        "[R, N, D]",
        "[D, N, R]",
        "[P, R, N]",
        "[P, R, N, D, 3, L, S, M]",
        "[P, N, D]",  # without reverse nothing is said of what park stands next to
        "[D, 2, 1]",
        "[N, D]",
        "[P, R]",
    ],
)
def test_levers_in_order(positions: str) -> None:
    found_at_marks("lever-order", _lever(positions), alone=False)


@pytest.mark.parametrize(
    "positions",
    [
        "[P, »N, R, D]",
        "[P, R, D, 2, 1, »N]",
        "[»N, R, D]",
        "[R, »P, N, D]",
        "[P, R, »2, N, D]",
        "[P, R, »3, »2, N, D]",
        "[R, N, D, »P]",
        "[D, R, »N]",
        "[P, »R, D]",  # no neutral at all
        "[D, N, »P, R]",
    ],
)
def test_levers_out_of_order_at_the_position_that_is_out_of_place(positions: str) -> None:
    assert all("49 CFR 571.102" in one.message for one in found_at_marks("lever-order", _lever(positions), alone=False))


def test_an_application_s_lever_goes_in_the_family_s_order() -> None:
    (found,) = found_at_marks("lever-order", _lever("[P, R, N, D, 2, 1]", "[P, N, »R, D]"))
    assert "Corran Delver 2.4 has R after N" in found.message and "P, R, N, D" in found.fix
    found_at_marks("lever-order", _lever("[P, R, N, D, 2, 1]", "[D, »N, R, P]"))


@pytest.mark.parametrize("lever", ["[P, R, N, D]", "[P, R, N, 2]", "[R, N, D, 1]"])
def test_a_lever_with_fewer_positions_is_fine(lever: str) -> None:
    found_at_marks("lever-order", _lever("[P, R, N, D, 2, 1]", lever), alone=False)


def test_a_position_that_is_there_twice_or_not_at_all_is_another_rule() -> None:
    found_at_marks("lever-order", _lever("[P, R, N, D, N]"), alone=False)
    found_at_marks("lever-order", _lever("[P, R, N, D, 2, 1]", "[P, R, X, N, D]"), alone=False)
