"""Two families that compute as one.

Two families for the same gearboxes and lever positions, where every part of each goes straight onto every seat of the other (a seat is
a plug with the part that the vehicle came with). Families of which nothing can be computed are left alone, and of many families for the
same gearboxes each is compared with the few before it.

Why it matters: whoever looks for the part finds half of what is known in one file and half in the other, and the next correction goes into
only one of them. If they are the same switch under two names, put them together.

Fails:

    # entries/switches/corran-b.md
    kind: switch
    id: corran-b
    title: Corran range switch
    parts:
      - number: CD-5
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        sources: [{kind: seen}]
    applications:
      - {vehicle: Corran Delver 2.0, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: CD-5}

and

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
        sources: [{kind: seen}]

Mended: one family with both numbers.

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
        sources: [{kind: seen}]
      - number: CD-5
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        sources: [{kind: seen}]
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
      - {vehicle: Corran Delver 2.0, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: CD-5}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import VerdictKind
from rangebook.lint.context import Verdicts
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some

LOOK_BACK = 8
"""With so many families before it one is compared, so that a gearbox with a thousand families costs no more than its share."""


def check_verdicts(context: Verdicts) -> Iterator[Problem]:
    """Yield a finding at the title of each family that computes as one with a family before it."""
    groups: dict[tuple[frozenset[str], tuple[str, ...]], list[Family]] = {}
    for family in context.book.families.values():
        if family.gearboxes:
            groups.setdefault((frozenset(family.gearboxes), family.positions), []).append(family)
    if all(len(group) == 1 for group in groups.values()):
        return
    seats: dict[str, list[Seat]] = {}
    for seat in context.seats:
        seats.setdefault(seat.family.id, []).append(seat)
    for group in groups.values():
        for index, family in enumerate(group):
            for other in group[max(0, index - LOOK_BACK) : index]:
                if _are_one(context, family, other, seats):
                    yield problem(family, ("title",), "one", family=family.id, other=other.id, gearboxes=some(family.gearboxes))
                    break


def _are_one(context: Verdicts, one: Family, other: Family, seats: dict[str, list[Seat]]) -> bool:
    trials = [(seats.get(a.id, ()), b.parts) for a, b in ((one, other), (other, one))]
    if not any(taken for taken, _ in trials):
        return False
    return all(context.verdict(seat, part).kind is VerdictKind.STRAIGHT for taken, parts in trials for seat in taken for part in parts)


MESSAGES = {
    "one": Told(
        "{family} computes as one with {other}: the same gearboxes ({gearboxes|some}), "
        "and every part of each goes straight onto every seat of the other",
        "put {family} and {other} together in one entry, or state what tells them apart",
        beside=("gearboxes",),
    ),
}

RULE = rule(__name__, __doc__, Severity.HINT, BookCheck(Verdicts, check_verdicts), messages=MESSAGES)
