"""A table that leaves out a position of the lever.

The ``ohms`` of a contact and the ``values`` of a signal have every position of the family. Where nothing has been
measured the table is left out altogether; where there is no path it says ``open``.

Why it matters: in the position that is missing nothing is known, so the answer is "unknown" for every candidate, however
well the others agree.

Fails:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: range_signal, 6: range_return}
        contacts:
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430}}
        sources: [{kind: seen}]
    applications: []

Mended:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: range_signal, 6: range_return}
        contacts:
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}}
        sources: [{kind: seen}]
    applications: []
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Any

from rangebook.book.model import Family, KeyPath
from rangebook.lint.context import Context
from rangebook.lint.mentions import as_stated
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each table that lacks a position."""
    known = frozenset(family.positions)
    for path, table, named in _tables(family):
        missing = [position for position in family.positions if position not in table]
        # A position that the lever does not have is told by unknown-position; it may stand for the missing one.
        if missing and known.issuperset(table):
            yield problem(family, path, str(path[-1]), **named, missing=some(missing))


def _tables(family: Family) -> Iterator[tuple[KeyPath, Collection[str], dict[str, Any]]]:
    for part in family.designs:
        for contact in part.contacts or ():
            if contact.ohms is not None:
                yield (*contact.path, "ohms"), contact.ohms, {"contact": f"{contact.a}-{contact.b}", "part": part.number}
        for signal in part.signals:
            if signal.values or "values" in as_stated(family, signal.path):
                yield (*signal.path, "values"), signal.values, {"pin": signal.pin, "part": part.number}


_FIX = "measure it there and add it (`open` where a resistance has no path), or leave the whole table out until it is known"

MESSAGES = {
    "ohms": Told("the table of ohms {contact} of {part} lacks {missing|some}", _FIX),
    "values": Told("the table of the signal on pin {pin} of {part} lacks {missing|some}", _FIX),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Family, Context, check_family), messages=MESSAGES)
