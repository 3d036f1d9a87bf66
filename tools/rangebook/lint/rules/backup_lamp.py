"""The backup lamps lit outside reverse, or never lit in it.

A part's pin ``backup_out`` has no path, of whatever resistance and over whatever contacts, to any other pin or the housing in any position
but R; nor do electronics drive it there. In R ``backup_feed`` (or ``common_feed``) is joined to it. Contacts that are not stated are not
found fault with. Sources: 49 CFR 571.108 Table I-a: the backup lamp is lit when reverse is engaged, and not in forward motion;
from memory UN Regulation No. 48, paragraph 6.4.7: it can be lit only if the reverse gear is engaged.

Why it matters: people behind a vehicle go by its backup lamps. Lit while driving they say that it stands still or comes
back; dark in reverse they say nothing while it does.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R, D]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        sources: [{kind: seen}]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.lint.context import Guarded
from rangebook.lint.rule import EntryCheck, Problem, Severity, rule
from rangebook.lint.safety import MESSAGES, path_findings
from rangebook.reasons.codes import Danger


def check_family(family: Family, context: Guarded) -> Iterator[Problem]:
    """Yield a finding at each contact that closes the backup path outside R, or never closes it in R."""
    yield from path_findings(family, Danger.BACKUP, context)


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Guarded, check_family), messages=MESSAGES)
