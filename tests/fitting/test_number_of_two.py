"""A number that two parts go by tells nobody which of them is in the box, whether it is the maker's own or another supplier's."""

from __future__ import annotations

from typing import Any

from rangebook.fitting.fitter import Fitter
from tests import making

WHOLE: dict[str, Any] = {"pins": {"1": "start_feed", "2": "start_out"}, "contacts": [{"pins": ["1", "2"], "closed": ["P", "N"]}]}
CRANKS_IN_D = {**WHOLE, "contacts": [{"pins": ["1", "2"], "closed": ["P", "N", "D"]}]}


def verdicts(*more: dict[str, Any]) -> dict[str, str]:
    parts = [making.part("A-1001", **WHOLE), making.part("B-2002", **WHOLE), *more]
    wires = {"1": "start_feed", "2": "start_out"}
    family = making.family("f", parts, plugs={"p": making.plug(wires)}, applications=[making.application("p", "A-1001")])
    book = making.book(making.connector("c", 2), family)
    fitter = Fitter(book)
    (seat,) = fitter.seats
    return {part.number: str(fitter.verdict(seat, part).kind) for part in book.parts}


def test_a_number_of_its_own_goes_on() -> None:
    assert verdicts()["B-2002"] == "straight"
    assert verdicts(making.part("C-3003", also_numbered=[{"number": "99 7"}], **CRANKS_IN_D))["B-2002"] == "straight"


def test_a_number_by_which_another_part_goes_as_well_does_not() -> None:
    found = verdicts(making.part("C-3003", also_numbered=[{"number": "b 2002"}], **CRANKS_IN_D))
    assert found == {"A-1001": "straight", "B-2002": "unknown", "C-3003": "no"}
