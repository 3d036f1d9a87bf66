"""One torque for bolts of two sizes.

Where a family's mounts have bolts of different sizes, each states its own ``torque_nm``; the one under ``fitting`` is for all.

Why it matters: what holds a bolt of 6 mm leaves one of 8 mm loose. Where the mount states none, none is shown.

Fails:

    kind: switch
    mounts:
      short-boss:
        shaft: {shape: double-flat, across_mm: 9.5}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, 16, 18, 18]}
        bolts:
          - {at_mm: 43.5, at_deg: 25, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}
          - {at_mm: 43.5, at_deg: 205, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}
      tall-boss:
        shaft: {shape: double-flat, across_mm: 12}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, 16, 18, 18]}
        bolts:
          - {at_mm: 50, at_deg: 25, bolt_mm: 8, hole_mm: 9, slot_deg: 12, spacer_mm: 3}
          - {at_mm: 50, at_deg: 205, bolt_mm: 8, hole_mm: 9, slot_deg: 12, spacer_mm: 3}

Mended:

    kind: switch
    mounts:
      short-boss:
        shaft: {shape: double-flat, across_mm: 9.5}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, 16, 18, 18]}
        bolts:
          - {at_mm: 43.5, at_deg: 25, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}
          - {at_mm: 43.5, at_deg: 205, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}
        torque_nm: 9
      tall-boss:
        shaft: {shape: double-flat, across_mm: 12}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, 16, 18, 18]}
        bolts:
          - {at_mm: 50, at_deg: 25, bolt_mm: 8, hole_mm: 9, slot_deg: 12, spacer_mm: 3}
          - {at_mm: 50, at_deg: 205, bolt_mm: 8, hole_mm: 9, slot_deg: 12, spacer_mm: 3}
        torque_nm: 18
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.mounting.torque import bolts_differ
from rangebook.words.lists import some


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at the family's torque, for the mounts that state none."""
    if family.fitting is None or family.fitting.torque_nm is None or not bolts_differ(family):
        return
    bare = [mount.name for mount in family.mounts.values() if mount.torque_nm is None and mount.bolts]
    if bare:
        yield problem(family, ("fitting", "torque_nm"), "of_several", torque_nm=family.fitting.torque_nm, mounts=some(bare))


MESSAGES = {
    "of_several": Told(
        "{torque_nm|g} N·m for bolts of more than one size: {mounts|some} state no torque of their own",
        "state `torque_nm` on each mount, and take it away here",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Family, Context, check_family), messages=MESSAGES)
