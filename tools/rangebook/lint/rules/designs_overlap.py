"""Two designs of one number on one condition.

Of the ``revisions`` of a part no two can be meant by the same number, month, mark or side, where their conditions ask for the same things.

Why it matters: whoever reads the mark finds two designs for it, and does not know which is in the box.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out}
        revisions:
          - {when: {built: {from: 2009-01, to: 2010-06}}, contacts: [{pins: [1, 2], closed: [P, N]}]}
          - {when: {built: {from: 2010-06}}, contacts: [{pins: [1, 2], closed: [P, N], rated_a: 8}]}
        sources: [{kind: seen}]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out}
        revisions:
          - {when: {built: {from: 2009-01, to: 2010-05}}, contacts: [{pins: [1, 2], closed: [P, N]}]}
          - {when: {built: {from: 2010-06}}, contacts: [{pins: [1, 2], closed: [P, N], rated_a: 8}]}
        sources: [{kind: seen}]
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from rangebook.book.model import Family, When
from rangebook.fitting.conditions import KEYS, together
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at the later of each two designs that may both be meant."""
    for part in family.parts:
        for one, other in itertools.combinations([each for each in part.revisions if each.when is not None], 2):
            assert one.when is not None and other.when is not None
            if _asks(one.when) == _asks(other.when) and (True, True) in together((one.when, other.when)):
                place = part.revisions.index(one) + 1
                yield problem(family, (*other.path, "when"), "overlap", part=part.number, place=place)


def _asks(when: When) -> tuple[str, ...]:
    return tuple(key for key in KEYS if getattr(when, key) is not None)


MESSAGES = {
    "overlap": Told(
        "two designs of {part} are said to be on one condition: this one, and number {place} of the list",
        "correct where the one ends and the other begins, or which mark is on which",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Family, Context, check_family), messages=MESSAGES)
