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
from typing import Any

from rangebook.book.model import Family, KeyPath
from rangebook.fitting.contradictions import listed_twice
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each position that its list has already."""
    for path, positions, named in _lists(family):
        for there, (position,) in listed_twice(positions, path):
            yield problem(family, there, str(path[-1]), **named, position=position, positions=some(family.positions))


def _lists(family: Family) -> Iterator[tuple[KeyPath, Sequence[str], dict[str, Any]]]:
    yield ("positions",), family.positions, {}
    for part in family.designs:
        for contact in part.contacts or ():
            if contact.listed is not None:
                yield (*contact.path, "closed"), contact.listed, {"contact": f"{contact.a}-{contact.b}", "part": part.number}
            if contact.overlaps:
                yield (*contact.path, "overlaps"), contact.overlaps, {"contact": f"{contact.a}-{contact.b}", "part": part.number}
    for one in family.applications:
        if one.lever is not None:
            yield (*one.path, "lever"), one.lever, {"vehicle": one.vehicle}


_TWICE = " lists {position} a second time"
_FIX = "take it out, or write the position that was meant (the lever has {positions|some})"

MESSAGES = {
    "positions": Told(["`positions`", _TWICE], _FIX),
    "closed": Told(["contact {contact} of {part}", _TWICE], _FIX),
    "overlaps": Told(["what contact {contact} of {part} overlaps", _TWICE], _FIX),
    "lever": Told(["the lever of {vehicle}", _TWICE], _FIX),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
