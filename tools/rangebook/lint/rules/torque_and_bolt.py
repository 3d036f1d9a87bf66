"""A torque that is not for bolts of this size.

A ``torque_nm`` of a mount, a part or a family's ``fitting`` is no more than brings a bolt of class 10.9 (ISO 898-1) to its proof
load, 0.2 times force times diameter, and no less than a tenth of that: 2.0 to 20 for M6, 4.9 to 49 for M8.

Why it matters: the figure is read off the job sheet with the spanner in the hand. Inch-pounds typed as newton metres are 8.85 times
too much and tear the bolt off or the thread out of the case; kilopond metres are a tenth and leave it loose.

Fails:

    kind: switch
    mounts:
      short-boss:
        shaft: {shape: double-flat, across_mm: 9.5}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, 16, 18, 18]}
        bolts:
          - {at_mm: 43.5, at_deg: 25, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}
          - {at_mm: 43.5, at_deg: 205, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}
        torque_nm: 80

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
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family, KeyPath, Mount
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.mounting.torque import plausible_nm


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each torque that is too high or too low for all the bolts that it is for."""
    for path, torque, mounts in stated(family):
        sizes = sorted({bolt.bolt_mm for mount in mounts for bolt in mount.bolts if bolt.bolt_mm is not None})
        if not sizes:
            continue
        least, most = plausible_nm(sizes[0])[0], plausible_nm(sizes[-1])[1]
        if not least <= torque <= most:
            yield problem(family, path, "implausible", torque_nm=torque, sizes_mm=tuple(sizes), least_nm=least, most_nm=most)


def stated(family: Family) -> Iterator[tuple[KeyPath, float, list[Mount]]]:
    """Each torque that is stated, where, and the mounts whose bolts it is for."""
    if family.fitting and family.fitting.torque_nm is not None:
        own = [mount for mount in family.mounts.values() if mount.torque_nm is None]
        yield ("fitting", "torque_nm"), family.fitting.torque_nm, own
    for mount in family.mounts.values():
        if mount.torque_nm is not None:
            yield (*mount.path, "torque_nm"), mount.torque_nm, [mount]
    for part in family.parts:
        bolted = family.mounts.get(part.mount or "")
        if part.torque_nm is not None and bolted:
            yield (*part.path, "torque_nm"), part.torque_nm, [bolted]


MESSAGES = {
    "implausible": Told(
        "{torque_nm|g} N·m for bolts of {sizes_mm|g|and_and} mm, which take {least_nm|.2g} to {most_nm|.2g}",
        "look it up again, with its unit: 1 N·m is 8.85 inch-pounds, 0.74 foot-pounds or 0.102 kilopond metres",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
