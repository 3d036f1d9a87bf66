"""A hole that is wider than any for its bolt.

In a bolt of a mount, ``hole_mm`` is no more than the coarse series of ISO 273 has for ``bolt_mm``: 5.8 for M5, 7.0 for M6, 10.0 for
M8. Between two sizes of the standard the limit lies between theirs.

Why it matters: with a hole that wide nearly any switch would seem to go on. One of the two figures is wrong, or a bush belongs into
the hole; until that is known nothing is said to fit by it.

Fails:

    kind: switch
    mounts:
      short-boss:
        shaft: {shape: double-flat, across_mm: 9.5}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, 16, 18, 18]}
        bolts:
          - {at_mm: 43.5, at_deg: 25, bolt_mm: 6, hole_mm: 16.6, slot_deg: 12, spacer_mm: 3}
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
from rangebook.mounting.bounds import widest_hole_mm


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each hole that is too wide."""
    for mount in family.mounts.values():
        for index, bolt in enumerate(mount.bolts):
            if bolt.hole_mm is None or bolt.bolt_mm is None or bolt.hole_mm <= widest_hole_mm(bolt.bolt_mm) + 1e-9:
                continue
            yield problem(
                family,
                (*mount.path, "bolts", index, "hole_mm"),
                "too_wide",
                number=index + 1,
                mount=mount.name,
                hole_mm=bolt.hole_mm,
                bolt_mm=bolt.bolt_mm,
                widest_mm=widest_hole_mm(bolt.bolt_mm),
            )


MESSAGES = {
    "too_wide": Told(
        "bolt {number} of the mount {mount}: a hole of {hole_mm|g} mm for a bolt of {bolt_mm|g} mm, where {widest_mm|.3g} mm is the most",
        "measure both again; where a bush belongs into the hole state the hole of the bush",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
