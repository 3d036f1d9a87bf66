"""A lever without reverse, neutral, a forward range, or the park that its gearbox has.

The positions of a family, and an application's own ``lever``, hold R, N and at least one forward range; where the family has P, the lever
has it too. Source: 49 CFR 571.102 S3.1.1, which speaks of each of these positions.

Why it matters: in a position that the lever is said to lack nobody looks whether the engine cranks. A ``lever: [P, N]`` lets pass a part
that cranks in reverse.

Fails:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417, lever: [P, N, D]}

Mended:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417, lever: [P, R, N, D]}
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from rangebook.book.model import Family, KeyPath
from rangebook.electrics.meaning import means_of, meant
from rangebook.electrics.safety import lever_lacks
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at the positions of the family, and at each lever, that lack one."""
    yield from _lacking(family, ("positions",), family.positions)
    for one in family.applications:
        if one.lever is not None:
            yield from _lacking(family, (*one.path, "lever"), one.lever, vehicle=one.vehicle)


def _lacking(family: Family, path: KeyPath, lever: Sequence[str], **named: Any) -> Iterator[Problem]:
    means = means_of(family)
    if lacking := lever_lacks(meant(lever, means), meant(family.positions, means)):
        yield problem(family, path, str(path[-1]), **named, lever=tuple(lever), lacking=tuple(lacking))


_WITHOUT = "{lever|comma}, without {lacking|lever_lacks|and} (49 CFR 571.102 S3.1.1); no part is known to be safe there"
_FIX = "look at the lever, and add {lacking|lever_lacks|and} in its place"

MESSAGES = {
    "positions": Told(["the positions: ", _WITHOUT], _FIX),
    "lever": Told(["the lever of {vehicle}: ", _WITHOUT], _FIX),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
