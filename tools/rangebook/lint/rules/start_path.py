"""The start path closed in gear, or not closed in park or neutral.

Between a part's pins ``start_feed`` (or ``common_feed``) and ``start_out`` there is a path in P and in N, and in no other position of
the lever, whatever contacts it runs over. The contact of a ``park_neutral`` pin tells P and N from all the other positions. Contacts
that are not stated are not found fault with. Source: 49 CFR 571.102 S3.1.3: the engine starter is inoperative when the lever is in
a forward or reverse drive position.

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

from collections.abc import Collection, Iterator

from rangebook.book.model import Contact, Family, Part
from rangebook.electrics.safety_paths import PARK_NEUTRAL, START, park_neutral_faults
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule
from rangebook.lint.safety import at_position, path_findings
from rangebook.words.lists import listed


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each contact that closes the start path where it must not, or does not where it must."""
    yield from path_findings(family, START)
    for part in family.parts:
        for contact, expected in park_neutral_faults(part, family.positions):
            yield from _park_neutral(family, part, contact, expected)


def _park_neutral(family: Family, part: Part, contact: Contact, expected: frozenset[str]) -> Iterator[Problem]:
    closed = contact.closed or frozenset()
    message = (
        f"{part.number}: contact {contact.a}-{contact.b} ({PARK_NEUTRAL}) is closed in {_in(family, closed)}; expected "
        f"{_in(family, expected)}, for a module that is told P or N in gear may let the engine crank"
    )
    fix = f"meter {contact.a} to {contact.b} in every position; correct `closed`, or the circuits in `pins`"
    for position in family.positions:
        if position in closed - expected:
            yield at_position(family, contact, position, message, fix)
    if expected - closed:
        yield finding(family, (*contact.path, "closed"), message, fix)


def _in(family: Family, positions: Collection[str]) -> str:
    return listed([one for one in family.positions if one in positions] or ["no position"])


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family))
