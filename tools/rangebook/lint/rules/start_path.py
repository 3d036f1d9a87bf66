"""The start path closed in gear, or not closed in park or neutral.

A part's pins ``start_out`` and ``park_neutral`` have no path, of whatever resistance and over whatever contacts, to any other pin or the
housing in any position but P and N; nor do electronics drive them there. In P and in N ``start_feed`` (or ``common_feed``) is joined to
``start_out``, and ``park_neutral`` to something. Contacts that are not stated are not found fault with. Source: 49 CFR 571.102 S3.1.3: the
engine starter is inoperative when the lever is in a forward or reverse drive position. Another safety circuit of a book's own list has no
path in any position but those that the list names in `joined_in`.

Why it matters: with the path closed in gear the engine cranks with the drive engaged and the vehicle jumps, perhaps at the
person in front of it. With the path never closed in P or in N a good switch would be judged by a mistake.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, R, N]}
          - {pins: [3, 4], closed: [R]}
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
    """Yield a finding at each contact that closes the start path where it must not, or does not where it must."""
    for danger in (Danger.STARTER, Danger.OTHER):
        yield from path_findings(family, danger, context)


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Guarded, check_family), messages=MESSAGES)
