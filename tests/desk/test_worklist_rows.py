"""What is missing of a housing, a bag, the rating of a contact and the wires of a plug is a row of its own, of the thing that lacks it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from tests.fitting.test_traps import bait, book_of

from rangebook.desk.worklists import Work, measurements
from rangebook.fitting.fitter import Fitter

World = dict[str, Any]


def housing(world: World) -> None:
    world["candidate"]["connector"] = "d"
    del world["d"]["terminal"]["width_mm"]


def bag(world: World) -> None:
    world["candidate"]["connector"] = "e"
    world["e"]["sealed"] = "yes"


def rating(world: World) -> None:
    world["wires"]["1"]["carries_a"] = world["wires"]["2"]["carries_a"] = 12
    world["original"]["contacts"][0]["rated_a"] = 15
    world["candidate"]["pins"]["2"] = "park_neutral"


@pytest.mark.parametrize(
    ("change", "name", "what", "code"),
    [
        (housing, "d", Work.HOUSING, "mating.terminal_not_stated"),
        (bag, "k", Work.BAG, "mating.bag_not_stated"),
        (rating, "B-2002", Work.RATING, "behaviour.rating_not_stated"),
    ],
)
def test_it_is_asked_of_what_lacks_it(change: Callable[[World], None], name: str, what: Work, code: str) -> None:
    world = bait()
    change(world)
    fitter = Fitter(book_of(world))
    found = measurements((seat, verdict) for seat in fitter.seats for verdict in fitter.candidates(seat))
    assert [(one.name, one.what, one.how.code) for one in found] == [(name, what, code)]
    assert [verdict.part.number for _, verdict in found[0].settles] == ["B-2002"]


def test_a_wire_that_nobody_names_is_asked_of_the_plug() -> None:
    world = bait()
    world["wires"]["8"] = {}
    fitter = Fitter(book_of(world))
    found = measurements((seat, verdict) for seat in fitter.seats for verdict in fitter.candidates(seat))
    assert (found[0].name, found[0].what, found[0].how.code) == ("p", Work.WIRES, "safety.wire_not_named")
