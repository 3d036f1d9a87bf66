"""A contact that overlaps into a position that is not next to one in which it is closed.

Each position in a contact's ``overlaps`` stands in the family's ``positions`` next to one in ``closed``, and is not in ``closed`` itself; a
contact of ``ohms`` has none.

Why it matters: an overlap is what the lever passes on the way to the next detent. One that lies elsewhere is a slip, and nobody knows in
which positions the contact is closed.

Fails:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: ground, 6: forward_signal}
        contacts:
          - {pins: [5, 6], closed: [D, 2], overlaps: [P]}
        sources: [{kind: seen}]
    applications: []

Mended:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: ground, 6: forward_signal}
        contacts:
          - {pins: [5, 6], closed: [D, 2], overlaps: [1]}
        sources: [{kind: seen}]
    applications: []
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rangebook.book.model import Family
from rangebook.fitting.contradictions import overlaps_apart
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each position that a contact is said to overlap into and cannot."""
    for part in family.designs:
        for contact in part.contacts or ():
            for path, (position,) in overlaps_apart(contact, family.positions) if contact.overlaps else ():
                named: dict[str, Any] = {"contact": f"{contact.a}-{contact.b}", "part": part.number, "position": position}
                if contact.closed:
                    yield problem(family, path, "apart", **named, closed=some([one for one in family.positions if one in contact.closed]))
                else:
                    yield problem(family, path, "none_closed", **named)


_SAID = "contact {contact} of {part} is said to overlap into {position}"
_FIX = "move the lever slowly to {position} with the meter on it, and correct `overlaps` or `closed`"

MESSAGES = {
    "apart": Told(
        [_SAID, "; expected a position next to one in which it is closed ({closed|some}) and not among them"], _FIX, beside=("closed",)
    ),
    "none_closed": Told([_SAID, ", and no position is stated in which it is closed"], _FIX),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
