"""Two cavities with one label.

Each label stands once in a connector's ``rows``; only ``"-"``, where there is no cavity, may be there again.

Why it matters: pins and wires are named by the cavity they sit in. With two cavities of one name nobody can tell which
of them carries the wire, and the housing counts one cavity too few.

Fails:

    kind: connector
    rows:
      - [1, 2, 3, 4, 5, 6, 7]
      - [8, 9, 10, 11, 12, 12]

Mended:

    kind: connector
    rows:
      - [1, 2, 3, 4, 5, 6, 7]
      - [8, 9, 10, 11, 12, 13]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Connector
from rangebook.fitting.contradictions import cavities_twice
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_connector(connector: Connector, context: Context) -> Iterator[Problem]:
    """Yield a finding at each label that is there already."""
    for path, (label,) in cavities_twice(connector):
        row, column = next((row, labels.index(label)) for row, labels in enumerate(connector.rows) if label in labels)
        yield problem(connector, path, "twice", connector=connector.id, cavity=label, number=column + 1, row=row + 1)


MESSAGES = {
    "twice": Told(
        "{connector} has a second cavity {cavity}; the first is number {number} in row {row}",
        'write the label that is moulded there, or `"-"` if there is no cavity',
        beside=("number", "row"),
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Connector, Context, check_connector), messages=MESSAGES)
