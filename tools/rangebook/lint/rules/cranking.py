"""An engine that is said to crank in gear.

The positions in ``cranks.in`` of a plug or a vehicle mean P or N. A forward position stands there only where a ``module`` cranks the
engine and a source says so. Source: 49 CFR 571.102 S3.1.3; that it lets a module restart the engine in a forward position, from memory.

Why it matters: where the engine may crank is what every switch is held against. In gear the vehicle jumps.

Fails:

    kind: switch
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
        cranks: {in: [P, R]}

Mended:

    kind: switch
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
        cranks: {in: [P, N]}
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rangebook.book.model import Family
from rangebook.electrics.meaning import means_of
from rangebook.fitting.cranking import every_cranks, strange_cranking
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each position in which an engine is said to crank and must not."""
    for path, named, cranks in every_cranks(family):
        for position in strange_cranking(cranks, means_of(family)):
            if position in family.positions:
                index = (cranks.positions or ()).index(position)
                who: dict[str, Any] = {**named}
                yield problem(family, (*path, "in", index), next(iter(named)), **who, position=position)


_EXPECTED = " is said to crank in {position}; expected P and N, or a forward position where a module does it and a source says so"
_FIX = "take {position} out, or write `by: module` and `sources` where the maker says that a module cranks the engine there"

MESSAGES = {
    "plug": Told(["the engine on the plug {plug}", _EXPECTED], _FIX),
    "vehicle": Told(["{vehicle}", _EXPECTED], _FIX),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
