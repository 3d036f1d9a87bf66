"""A tail of a part whose connectors have names.

A part, or a design of one, with ``connectors`` states each one's ``tail`` with that connector.

Why it matters: a tail beside several connectors is of none of them, so nobody is told that the new part's leads are shorter.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connectors: {main: oval-9, lamp: oval-13}
        tail: {length_mm: 180}
        mount: short-boss

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connectors: {main: oval-9, lamp: {connector: oval-13, tail: {length_mm: 180}}}
        mount: short-boss
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each tail that is of no connector."""
    for part in family.designs:
        names = tuple(one.name for one in part.sockets)
        if "" in part.tails and names and "" not in names:
            path = (*part.home("tails"), "tail") if part.restates else (*part.path, "tail")
            yield problem(family, path, "of_none", key=True, of=part.number, names=names)


MESSAGES = {
    "of_none": Told(
        "{of} has the connectors {names|and}, and a tail that is of none of them",
        "state it with the connector that it is of, under `connectors`",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Family, Context, check_family), messages=MESSAGES)
