"""A vehicle of which nothing can be said.

An application names its ``plug`` and the part that the vehicle ``came_with``. Without both nothing is compared with anything.

Why it matters: the vehicle is found when somebody looks for it, and then there is no answer. What is missing can be seen the next
time that one comes in.

Fails:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
      - {vehicle: Corran Delver 2.0, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire}

Mended:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
      - {vehicle: Corran Delver 2.0, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each application that lacks its plug or its part."""
    for one in family.applications:
        no_plug, no_part = one.plug is None, one.came_with is None
        if no_plug or no_part:
            yield problem(family, (*one.path, "vehicle"), "not_stated", vehicle=one.vehicle, no_plug=no_plug, no_part=no_part)


MESSAGES = {
    "not_stated": Told(
        [
            "{vehicle}: ",
            {"given": "no_plug", "yes": "which plug it has (`plug`)"},
            {"given": "no_plug", "yes": {"given": "no_part", "yes": " and "}},
            {"given": "no_part", "yes": "which part it came with (`came_with`)"},
            " is not stated, so nothing can be said about what fits it",
        ],
        "look at one when it comes in: the plug and its wires, and the number on the part if it is the first one",
    ),
}

RULE = rule(__name__, __doc__, Severity.HINT, EntryCheck(Family, Context, check_family), messages=MESSAGES)
