"""The volts on a proof sheet are those by which the verdict goes: over the whole part, at the plug's cavities as they meet its pins."""

from __future__ import annotations

import pytest
from tests import making

from rangebook.desk.prove import prove
from rangebook.fitting.fitter import Fitter


def volts(part: dict, housing: dict, wires: dict[str, str]) -> dict[str, float]:
    plug = making.plug(wires, reads={"pins": [*wires], "pull_up_ohms": 1000, "volts": 5})
    family = making.family("f", [part], plugs={"p": plug}, applications=[making.application("p", part["number"])])
    fitter = Fitter(making.book(making.connector("c", 2), housing, family))
    ((_, windows),) = prove(fitter, part["number"]).windows
    return {at: found.nominal for at, found in windows.items() if found}


OHMS = {"P": 1000, "R": 4000, "N": 250, "D": "open"}


def test_two_ladders_side_by_side_are_one() -> None:
    two = [{"pins": ["1", "2"], "ohms": dict.fromkeys(OHMS, 1000)}, {"pins": ["1", "2"], "ohms": OHMS}]
    found = volts(
        making.part("A-1", pins={"1": "range_signal", "2": "range_return"}, contacts=two),
        making.connector("x", 2),
        {"1": "range_signal", "2": "range_return"},
    )
    # Ohm's law: 1000 beside 1000 is 500, beside 4000 is 800, beside 250 is 200.
    assert found == pytest.approx({"P": 5 * 500 / 1500, "R": 5 * 800 / 1800, "N": 5 * 200 / 1200, "D": 5 * 1000 / 2000})


def test_by_the_map_of_the_cavities() -> None:
    housing = making.connector("d", 4, mates=[{"connector": "c", "cavities": {"1": "3", "2": "4"}}])
    part = making.part("A-1", connector="d", pins={"3": "range_signal", "4": "range_return"}, contacts=[{"pins": ["3", "4"], "ohms": OHMS}])
    assert volts(part, housing, {"1": "range_signal", "2": "range_return"})["P"] == pytest.approx(2.5)
