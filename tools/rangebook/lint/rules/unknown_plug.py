"""A plug that the family does not describe.

An application's ``plug`` is one of the names under its family's ``plugs``.

Why it matters: the plug says which wires the vehicle has. Without it nothing can be said about what fits that vehicle.

Fails:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: sixwire, came_with: TB-20417}

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
    """Yield a finding for each application whose plug is not among the family's."""
    nearest = Nearest(family.plugs.keys)
    for one in family.applications:
        if one.plug is not None and one.plug not in family.plugs:
            yield problem(
                family,
                (*one.path, "plug"),
                "unknown",
                vehicle=one.vehicle,
                plug=one.plug,
                plugs=some(family.plugs),
                near=nearest(one.plug),
            )


MESSAGES = {
    "unknown": Told(
        "{vehicle} has the plug {plug}, which is not described under `plugs` (there: {plugs|some})",
        [NEAR, "describe {plug} under `plugs`"],
        beside=("plugs",),
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
