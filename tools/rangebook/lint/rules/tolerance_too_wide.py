"""A tolerance wider than that of any resistor.

``tolerance_percent`` of a contact with ``ohms`` is 20 at the most.

Why it matters: resistors are made to 20 percent at the worst (the series E6 of IEC 60063, from memory), and ladders of them read within
5 to 10 (common practice, no source). With a wider one nearly any resistance would pass for the right one, so the answers do not go by
it: what the part reads is not known.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 91000, R: 29000, N: 9100, D: 2900, 2: 910, 1: 290}, tolerance_percent: 25}
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
          - {pins: [5, 6], ohms: {P: 91000, R: 29000, N: 9100, D: 2900, 2: 910, 1: 290}, tolerance_percent: 5}
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.electrics.relation import MAX_TOLERANCE_PERCENT
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each tolerance that is too wide."""
    for part in family.designs:
        for contact in part.contacts or ():
            if contact.ohms is not None and (contact.tolerance_percent or 0) > MAX_TOLERANCE_PERCENT:
                yield problem(
                    family,
                    (*contact.path, "tolerance_percent"),
                    "too_wide",
                    part=part.number,
                    a=contact.a,
                    b=contact.b,
                    percent=contact.tolerance_percent,
                    most_percent=MAX_TOLERANCE_PERCENT,
                )


MESSAGES = {
    "too_wide": Told(
        "the resistances of {part} between {a} and {b} are said to be off by up to {percent|g} percent; "
        "expected {most_percent|g} at the most",
        "measure them, and state the tolerance that they have",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
