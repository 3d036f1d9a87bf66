"""A lever position listed twice.

Each position stands once in the family's ``positions``, in a contact's ``closed`` and in an application's ``lever``.

Why it matters: a position that is there twice mostly stands where another one was meant, and that one is missing.

Fails:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: ground, 6: forward_signal}
        contacts:
          - {pins: [5, 6], closed: [D, 2, 2]}
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
          - {pins: [5, 6], closed: [D, 2, 1]}
        sources: [{kind: seen}]
    applications: []
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rangebook.book.model import Family, KeyPath
from rangebook.fitting.contradictions import listed_twice
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule
from rangebook.words.lists import enumerated


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each position that its list has already."""
    for path, positions, who in _lists(family):
        for there, (position,) in listed_twice(positions, path):
            yield finding(
                family,
                there,
                f"{who} lists {position} a second time",
                f"take it out, or write the position that was meant (the lever has {enumerated(family.positions)})",
            )


def _lists(family: Family) -> Iterator[tuple[KeyPath, Sequence[str], str]]:
    yield ("positions",), family.positions, "`positions`"
    for part in family.designs:
        for contact in part.contacts or ():
            if contact.listed is not None:
                yield (*contact.path, "closed"), contact.listed, f"contact {contact.a}-{contact.b} of {part.number}"
            if contact.overlaps:
                yield (*contact.path, "overlaps"), contact.overlaps, f"what contact {contact.a}-{contact.b} of {part.number} overlaps"
    for one in family.applications:
        if one.lever is not None:
            yield (*one.path, "lever"), one.lever, f"the lever of {one.vehicle}"


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family))
