"""A slot that lets the switch be set a whole detent off.

In a bolt of a mount, ``slot_deg`` stays below the smallest turn from detent to detent of the mount's ``hub``; where that is not
stated below 30 degrees.

Why it matters: a switch that can be turned by a detent can be set so that what says N is closed in R, and the engine cranks in gear.
So long a slot is mistyped, and until it is known nothing is said to fit by it.

Fails:

    kind: switch
    mounts:
      short-boss:
        shaft: {shape: double-flat, across_mm: 9.5}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, 16, 18, 18]}
        bolts:
          - {at_mm: 43.5, at_deg: 25, bolt_mm: 6, hole_mm: 6.6, slot_deg: 120, spacer_mm: 3}
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
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.mounting.bounds import slot_limit_deg


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each slot that is too long."""
    for mount in family.mounts.values():
        limit = slot_limit_deg(mount)
        for index, bolt in enumerate(mount.bolts):
            if bolt.slot_deg >= limit:
                yield problem(
                    family,
                    (*mount.path, "bolts", index, "slot_deg"),
                    "too_long",
                    number=index + 1,
                    mount=mount.name,
                    slot_deg=bolt.slot_deg,
                    limit_deg=limit,
                )


MESSAGES = {
    "too_long": Told(
        "bolt {number} of the mount {mount}: a slot of {slot_deg|g} degrees lets the switch be set a detent off; "
        "it has to stay below {limit_deg|g}",
        "measure how far the middle of the bolt can travel, about the shaft, and the turn from detent to detent",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
