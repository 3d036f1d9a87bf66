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

from rangebook.book.model import Family
from rangebook.fitting.contradictions import overlaps_apart
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule
from rangebook.words.lists import enumerated


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each position that a contact is said to overlap into and cannot."""
    for part in family.designs:
        for contact in part.contacts or ():
            for path, (position,) in overlaps_apart(contact, family.positions) if contact.overlaps else ():
                yield finding(
                    family,
                    path,
                    f"contact {contact.a}-{contact.b} of {part.number} is said to overlap into {position}; expected a position next to one "
                    f"in which it is closed ({enumerated(contact.closed or ('none is stated',))}) and is not among them",
                    f"move the lever slowly to {position} with the meter on it, and correct `overlaps` or `closed`",
                )


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family))
