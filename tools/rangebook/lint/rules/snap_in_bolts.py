"""Bolts of a switch that has none.

A mount whose ``motion`` is ``snap_in`` has no ``bolts``: the switch snaps into place.

Why it matters: one of the two is wrong. What snaps in is judged without its bolts; if it does bolt on, a part with other holes is said to
fit.

Fails:

    kind: switch
    mounts:
      short-boss:
        motion: snap_in
        shaft: {shape: double-flat, across_mm: 9.5}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, 16, 18, 18]}
        bolts:
          - {at_mm: 43.5, at_deg: 25, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}

Mended:

    kind: switch
    mounts:
      short-boss:
        motion: snap_in
        shaft: {shape: double-flat, across_mm: 9.5}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, 16, 18, 18]}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.mounting.fit import SNAP_IN


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at the bolts of each mount that snaps in."""
    for mount in family.mounts.values():
        if mount.motion == SNAP_IN and mount.bolts:
            yield problem(family, (*mount.path, "bolts"), "bolts", key=True, mount=mount.name)


MESSAGES = {
    "bolts": Told(
        "the mount {mount} snaps in, and bolts are stated of it",
        "look at the part: take out the bolts, or correct `motion`",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Family, Context, check_family), messages=MESSAGES)
