"""A hub that no lever turns like that.

In a mount's ``hub`` the ``position`` is one of the family's ``positions`` and stands beside ``at_deg``; ``steps_deg`` has a turn
between each two positions, so one fewer than there are, none of them 0, all one way, and together less than once round.

Why it matters: the hub ties the contacts to the angle of the shaft. What cannot be is taken for not stated, and whether a switch of
another mount stands right is not known then.

Fails:

    kind: switch
    mounts:
      short-boss:
        shaft: {shape: double-flat, across_mm: 9.5}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, -16, 18, 18]}
        bolts:
          - {at_mm: 43.5, at_deg: 25, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}
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
from dataclasses import replace

from rangebook.book.model import Family
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.mounting.hub import is_sound


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding for each thing about a hub that cannot be."""
    for mount in family.mounts.values():
        hub = mount.hub
        if hub is None:
            continue
        place, steps = (*mount.path, "hub"), hub.steps_deg
        if hub.position is not None and hub.position not in family.positions:
            yield problem(
                family,
                (*place, "position"),
                "no_position",
                mount=mount.name,
                position=hub.position,
                positions=tuple(family.positions),
            )
        if (hub.position is None) != (hub.at_deg is None):
            yield problem(family, place, "half", mount=mount.name)
        if steps and len(steps) != len(family.positions) - 1:
            yield problem(
                family,
                (*place, "steps_deg"),
                "steps",
                mount=mount.name,
                steps=len(steps),
                positions=len(family.positions),
                turns=len(family.positions) - 1,
            )
        elif not is_sound(replace(hub, position=None), tuple(map(str, range(len(steps) + 1)))):
            yield problem(family, (*place, "steps_deg"), "unsound", mount=mount.name, steps_deg=tuple(steps))


MESSAGES = {
    "no_position": Told(
        "the hub of the mount {mount} is said to have been looked at in {position}, which is no position of this lever",
        "name one of {positions|comma}",
    ),
    "half": Told("the hub of the mount {mount}: `position` and `at_deg` say something only together", "state both, or neither"),
    "steps": Told(
        "the hub of the mount {mount} has {steps} turns from detent to detent; between {positions} positions there are {turns}",
        "state the turn from each position to the next, in the order of `positions`",
    ),
    "unsound": Told(
        "the hub of the mount {mount} cannot turn by {steps_deg|g|comma} degrees: "
        "a lever turns it one way, by something from each detent to the next, and less than once round",
        "measure again from detent to detent; all with a minus sign where it turns clockwise",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
