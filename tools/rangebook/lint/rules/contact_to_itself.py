"""A contact from a pin to itself.

The two ends of a contact are two different pins, or a pin and ``case``.

Why it matters: a pin is always joined to itself, so the line says nothing, and the contact that was meant is missing: the
switch comes out as open where it closes.

Fails:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: ground, 6: park_signal}
        contacts:
          - {pins: [6, 6], closed: [P]}
        sources: [{kind: seen}]
    applications: []

Mended:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: ground, 6: park_signal}
        contacts:
          - {pins: [5, 6], closed: [P]}
        sources: [{kind: seen}]
    applications: []
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.fitting.contradictions import contacts_to_themselves
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at the second end of each contact that is the same as the first."""
    for part in family.designs:
        for path, (pin,) in contacts_to_themselves(part):
            yield problem(family, path, "itself", part=part.number, pin=pin)


MESSAGES = {
    "itself": Told(
        "a contact of {part} goes from {pin} to {pin}, the same one",
        "write the pin at its other end, or `case` for the housing",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
