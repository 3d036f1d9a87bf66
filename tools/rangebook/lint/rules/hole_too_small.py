"""A hole that its own bolt does not go through.

In a bolt of a mount, ``hole_mm`` is not smaller than ``bolt_mm``.

Why it matters: one of the two was measured or typed wrongly, or they have changed places, and whether another switch goes
on is worked out from both.

Fails:

    kind: switch
    mounts:
      short-boss:
        shaft: {shape: double-flat, across_mm: 9.5}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, 16, 18, 18]}
        bolts:
          - {at_mm: 43.5, at_deg: 25, bolt_mm: 6.6, hole_mm: 6, slot_deg: 12, spacer_mm: 3}
          - {at_mm: 43.5, at_deg: 205, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}

Mended:

    kind: switch
    mounts:
      short-boss:
        shaft: {shape: double-flat, across_mm: 9.5}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, 16, 18, 18]}
        bolts:
          - {at_mm: 43.5, at_deg: 25, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}
          - {at_mm: 43.5, at_deg: 205, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.fitting.contradictions import holes_too_small
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each hole that is smaller than its bolt."""
    for mount in family.mounts.values():
        for path, (number,) in holes_too_small(mount):
            bolt = mount.bolts[int(number) - 1]
            yield problem(family, path, "too_small", number=number, mount=mount.name, hole_mm=bolt.hole_mm, bolt_mm=bolt.bolt_mm)


MESSAGES = {
    "too_small": Told(
        "bolt {number} of the mount {mount}: a hole of {hole_mm|g} mm for a bolt of {bolt_mm|g} mm",
        "measure both again; perhaps the two figures have changed places",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
