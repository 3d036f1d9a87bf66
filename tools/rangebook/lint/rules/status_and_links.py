"""A status that the successors contradict.

A part whose status is ``superseded`` states in ``superseded_by`` by what; one that is ``current``, ``discontinued`` or
``withdrawn`` has no ``superseded_by``. A part without a status is left alone.

Why it matters: the status is what the counter reads and the links are what the answer follows. If they disagree one person
orders the old part while another one is told that it is no more.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: current
        superseded_by: [{number: TB-20455, needs: [oval-9-renewal]}]
        sources: [{kind: seen}]
      - number: TB-20455
        connector: oval-13
        mount: short-boss
        status: current
        sources: [{kind: seen}]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: superseded
        superseded_by: [{number: TB-20455, needs: [oval-9-renewal]}]
        sources: [{kind: seen}]
      - number: TB-20455
        connector: oval-13
        mount: short-boss
        status: current
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each status that does not go with the part's successors."""
    for part in family.parts:
        if part.status == "superseded" and not part.superseded_by:
            yield problem(family, (*part.path, "status"), "no_successor", part=part.number)
        elif part.status not in (None, "superseded") and part.superseded_by:
            numbers = tuple(link.number for link in part.superseded_by)
            yield problem(family, (*part.path, "status"), "other_status", part=part.number, status=part.status, numbers=numbers)


MESSAGES = {
    "no_successor": Told(
        "{part} is superseded, but by what is not stated; expected `superseded_by`",
        "add `superseded_by` with the new number; if nothing took its place write `status: discontinued`",
    ),
    "other_status": Told(
        "{part} is {status}, but is said to be superseded by {numbers|and_and}; expected the status superseded",
        "write `status: superseded`, or take out `superseded_by`",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
