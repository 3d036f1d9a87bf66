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
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule


def check_connector(connector: Connector, context: Context) -> Iterator[Problem]:
    """Yield a finding at each label that is there already."""
    for path, (label,) in cavities_twice(connector):
        row, column = next((row, labels.index(label)) for row, labels in enumerate(connector.rows) if label in labels)
        yield finding(
            connector,
            path,
            f"{connector.id} has a second cavity {label}; the first is number {column + 1} in row {row + 1}",
            'write the label that is moulded there, or `"-"` if there is no cavity',
        )


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Connector, Context, check_connector))
