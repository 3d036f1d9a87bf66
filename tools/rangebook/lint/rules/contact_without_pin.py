"""A contact on a pin that the part does not have.

Both ends of every contact are keys of the part's ``pins``, or ``case`` for the housing. Where ``pins`` is left out
nothing is checked.

Why it matters: a contact that ends on a missing pin does nothing in any answer, and the pin that was meant counts as one
of which nothing is known.

Fails:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: range_signal, 6: ground}
        contacts:
          - {pins: [4, case], closed: [P, R, N, D, 2, 1]}
        sources: [{kind: seen}]
    applications: []

Mended:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: range_signal, 6: ground}
        contacts:
          - {pins: [6, case], closed: [P, R, N, D, 2, 1]}
        sources: [{kind: seen}]
    applications: []
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.fitting.contradictions import contacts_without_pin
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each end of a contact that is neither a pin of the part nor its housing."""
    for part in family.designs:
        for path, (end,) in contacts_without_pin(part):
            yield problem(family, path, "no_pin", part=part.number, pin=end, pins=some(part.pins or ()))


MESSAGES = {
    "no_pin": Told(
        "a contact of {part} ends on pin {pin}, which is not among its `pins` ({pins|some})",
        "correct the contact, or add {pin} to `pins`, or write `case` for the housing",
        beside=("pins",),
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
