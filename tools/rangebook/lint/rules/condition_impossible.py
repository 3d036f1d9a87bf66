"""A condition that nothing can meet.

In a ``when`` the first number or month of a range is not after the last, and the numbers of one range begin alike: the figures at their
ends are what is counted.

Why it matters: nobody can tell for which vehicles or parts it holds, so every answer that goes by it stays unknown.

Fails:

    kind: switch
    applications:
      - vehicle: Corran Delver 2.4
        years: 2007-2012
        when: {vin: {from: 417200, to: 413100}}
        gearbox: Tamblin Short
        plug: six-wire
        came_with: TB-20417

Mended:

    kind: switch
    applications:
      - vehicle: Corran Delver 2.4
        years: 2007-2012
        when: {vin: {from: 413100, to: 417200}}
        gearbox: Tamblin Short
        plug: six-wire
        came_with: TB-20417
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family, When
from rangebook.fitting.conditions import NUMBERS, is_possible
from rangebook.lint.conditions import WHO, conditions_in
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each range that cannot be read as one."""
    for stated in conditions_in(family):
        for key in NUMBERS:
            ranges = getattr(stated.when, key)
            if ranges is None or is_possible(When(**{key: ranges})):
                continue
            (one,) = ranges  # in a list each number is a range by itself
            yield problem(
                family,
                (*stated.path, key),
                "no_range",
                owner=stated.owner,
                of=stated.of,
                instead_of=stated.instead_of,
                name=key,
                since=one.since,
                until=one.until,
            )


MESSAGES = {
    "no_range": Told(
        [WHO, ": `{name}` from {since} up to {until}, which is no range: the second is earlier, or begins otherwise"],
        "change the two about, or correct the one that is wrong",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
