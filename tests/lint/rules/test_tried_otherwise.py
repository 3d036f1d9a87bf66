"""tried-otherwise."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
from tests.lint.marking import found_at_marks, part, parts
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "tried-otherwise"


def _tried(record: str) -> str:
    return parts(part(more=f"fitted: [{{{record}}}]"))


def test_what_failed_and_fits_is_told_at_the_record() -> None:
    (found,) = found_at_marks(RULE, _tried("vehicle: Corran Delver 2.4, outcome: »fails"))
    assert "said to have failed in the Corran Delver 2.4" in found.message


@pytest.mark.parametrize(
    "record",
    ["vehicle: Corran Delver 2.4, outcome: works", "vehicle: Corran Nowhere 9.9, outcome: fails", "outcome: fails"],
)
def test_what_agrees_or_is_of_no_vehicle_of_the_book_is_fine(record: str) -> None:
    found_at_marks(RULE, _tried(record))


def test_what_worked_and_is_not_safe_is_told_so() -> None:
    """That it worked says nothing of the position in which the engine cranks."""
    other = part("TB-20455", "oval-13", more="fitted: [{vehicle: corran  delver 2.4, outcome: »works}]").replace(
        "closed: [P, N]", "closed: [P, N, D]"
    )
    (found,) = found_at_marks(RULE, parts(part(), other), alone=False)
    assert "TB-20455 is said to have worked" in found.message and "it is not safe there" in found.message
    assert "do not go by the record" in found.fix


def test_what_worked_and_does_not_fit_is_told() -> None:
    other = part("TB-20455", "oval-9", more="fitted: [{vehicle: Corran Delver 2.4, outcome: »works}]").replace("closed: [R]", "closed: []")
    (found,) = found_at_marks(RULE, parts(part(), other), alone=False)
    assert "by what is stated of both it does not fit" in found.message


def test_what_failed_and_goes_on_with_what_is_listed_is_told_as_that() -> None:
    """A record does not say whether the kit was there, or the wires moved."""
    other = part("TB-20455", "oval-13", more="fitted: [{vehicle: Corran Delver 2.4, outcome: »fails}]")
    (found,) = found_at_marks(RULE, parts(part(), other), alone=False)
    assert "it goes on there with what the answer lists" in found.message


def test_one_that_stands_under_a_vehicle_is_of_what_it_came_with() -> None:
    vehicle = """    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417, fitted: [{outcome: %s}]}
"""
    found_at_marks(RULE, parts(part()) + vehicle % "works", alone=False)
    (found,) = found_at_marks(RULE, parts(part()) + vehicle % "»fails", alone=False)
    assert "TB-20417 is said to have failed in the Corran Delver 2.4" in found.message


@operator("a record of the bay turned round", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    """It is of a vehicle that the part fits on each of its gearboxes: on one that it fits on some of, it may well have failed."""
    fitter = Fitter(ground.loaded.book)
    seats: dict[str, list[Seat]] = {}
    for seat in fitter.seats:
        for vehicle in dict.fromkeys(one.vehicle for one in seat.applications):
            seats.setdefault(vehicle, []).append(seat)
    for source in ground.of("switch"):
        for path, node in source.scalars("parts", "*", "fitted", "*", "outcome"):
            tried = fitter.book.part(source.at(*path[:2], "number").value)
            there = source.at(*path[:-1], "vehicle")
            fits = [name for name, all_of in seats.items() if all(fitter.verdict(seat, tried).fits for seat in all_of)]
            if fits and node.value == "works":
                yield source.seed((there.start, there.end, fits[0]), (node.start, node.end, "fails"))
