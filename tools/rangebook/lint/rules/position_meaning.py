"""A position that is said to mean what it cannot.

In ``means`` P, R and N mean themselves; D and the figures 1 to 9 are forward positions and mean none of these three; and what a position
means is itself no name that means something else.

Why it matters: the starter and the backup lamps are guarded by what a position means. One that is said to be neutral and is a forward gear
would let the engine crank in gear.

Fails:

    kind: switch
    positions: [P, R, N, D, 2, 1]
    means: {2: N}

Mended:

    kind: switch
    positions: [P, R, N, D, 2, 1]
    means: {1: L}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.electrics.meaning import STANDING, strange_meanings
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each meaning that cannot be."""
    for name, meaning in strange_meanings(family):
        why = "standing" if name in STANDING else "forward" if meaning in STANDING else "chained"
        beyond = {"other": family.means[meaning]} if why == "chained" else {}
        yield problem(family, ("means", name), why, key=True, name=name, meaning=meaning, **beyond)


_FIX = "say what it means by the usual name: P, R, N, D, or the gear's figure; or give the position the name that is on the lever"

MESSAGES = {
    "standing": Told("{name} is said to mean {meaning}, but {name} means {name} on every lever", _FIX),
    "forward": Told("{name} is said to mean {meaning}, but {name} is a forward position on every lever", _FIX),
    "chained": Told("{name} is said to mean {meaning}, but {meaning} itself is said to mean {other}", _FIX),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
