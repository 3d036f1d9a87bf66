"""What was tried in the bay, and what the facts say of it.

A record under ``fitted`` agrees with what is computed for the vehicle that it names: what works there is not one that does not fit, and
what fails there is not one that fits as it is.

Why it matters: one of the two is wrong. Either a fact of the part, the plug or the mount is mistaken, and then the next vehicle gets the
wrong answer, or the record is, of another vehicle or another part. The record never changes the answer; somebody has to look.

Fails: the part was proved in a vehicle whose plug does not go on it.

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        fitted: [{on: 2026-03-02, by: bay 2, vehicle: Corran Delver 2.4, outcome: fails, note: "the starter turned in R"}]
        sources: [{kind: seen}]

Mended: it had been another part.

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        fitted: [{on: 2026-03-02, by: bay 2, vehicle: Corran Delver 2.4, outcome: works}]
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family, Fitted, Part
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import VerdictKind
from rangebook.lint.context import Verdicts
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule

_AGAINST = {"works": {VerdictKind.NO}, "fails": {VerdictKind.STRAIGHT, VerdictKind.WITH_PARTS}}
"""What was seen -> the verdicts that it contradicts. Wires that were moved otherwise than the book would are no contradiction."""


def check_seats(context: Verdicts) -> Iterator[Problem]:
    """Yield a finding at each record that contradicts every answer for the vehicle that it names."""
    records = [(family, *record) for family in context.book.families.values() for record in _records(context, family)]
    seats: dict[str, dict[Seat, None]] = {}
    for seat in context.seats if records else ():
        for application in seat.applications:
            seats.setdefault(_plain(application.vehicle), {})[seat] = None
    for family, part, one, vehicle in records:
        found = [context.verdict(seat, part).kind for seat in seats.get(_plain(vehicle), ())]
        if found and all(kind in _AGAINST[one.outcome] for kind in found):
            yield problem(family, (*one.path, "outcome"), one.outcome, number=part.number, vehicle=vehicle)


def _records(context: Verdicts, family: Family) -> Iterator[tuple[Part, Fitted, str]]:
    """Each record of a family with the part that was fitted and the vehicle; one that names no vehicle is of none."""
    for part in family.parts:
        yield from ((part, one, one.vehicle) for one in part.fitted if one.vehicle)
    for application in family.applications:
        built = context.book.part(application.came_with) if application.came_with else None
        if built is not None:
            yield from ((built, one, one.vehicle or application.vehicle) for one in application.fitted)


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())


MESSAGES = {
    "works": Told(
        "{number} is said to have worked in the {vehicle}, but by what is stated of both it does not fit",
        "compare part and plug with what is written of them; one of the two, or this record, is wrong",
    ),
    "fails": Told(
        "{number} is said to have failed in the {vehicle}, but by what is stated of both it fits",
        "compare part and plug with what is written of them; one of the two, or this record, is wrong",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, BookCheck(Verdicts, check_seats), messages=MESSAGES)
