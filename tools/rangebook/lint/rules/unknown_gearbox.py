"""A vehicle with a gearbox that the family does not list.

An application's ``gearbox`` is one of the family's ``gearboxes``, letter by letter.

Why it matters: people look up a gearbox. A vehicle whose gearbox is spelled another way is not found under it, or it
belongs to another family of switches altogether.

Fails:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Shoot, plug: six-wire, came_with: TB-20417}

Mended:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.lint.words import NEAR, Nearest
from rangebook.words.lists import some


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding for each application whose gearbox is not among the family's."""
    nearest = Nearest(lambda: family.gearboxes)
    for one in family.applications:
        if one.gearbox is not None and one.gearbox not in family.gearboxes:
            yield problem(
                family,
                (*one.path, "gearbox"),
                "unknown",
                vehicle=one.vehicle,
                gearbox=one.gearbox,
                gearboxes=some(family.gearboxes),
                near=nearest(one.gearbox),
            )


MESSAGES = {
    "unknown": Told(
        "{vehicle} has the gearbox {gearbox}, which this family does not list (`gearboxes`: {gearboxes|some})",
        [NEAR, "add {gearbox} to `gearboxes`, or move the vehicle to the family that sits on it"],
        beside=("gearboxes",),
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
