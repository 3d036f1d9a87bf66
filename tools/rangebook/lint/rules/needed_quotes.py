"""A bare hyphen in the rows of a connector.

Where a housing has no cavity the rows say ``"-"``, in quotes.

Why it matters: in YAML a hyphen alone begins a list. This reader takes it for a hyphen all the same, as far as it can; others
(editors, other people's tools) refuse the whole entry. (YAML 1.2.2, rule 126.)

Fails:

    kind: connector
    rows:
      - [1, 2, 3, 4, 5]
      - [6, 7, 8, 9, 10]
      - [-, 11, 12, 13]

Mended:

    kind: connector
    rows:
      - [1, 2, 3, 4, 5]
      - [6, 7, 8, 9, 10]
      - ["-", 11, 12, 13]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.context import TextContext
from rangebook.lint.finding import Hit, Severity
from rangebook.lint.fixing.hints import hits
from rangebook.lint.fixing.menders import needed_quotes
from rangebook.reading.entry import Entry

SEVERITY = Severity.HINT


def check_text(entry: Entry, context: TextContext) -> Iterator[Hit]:
    """Yield a hit at each hyphen without quotes; where the entry cannot be read because of it, ``yaml-syntax`` says so."""
    if entry.front is not None and entry.folder == "connectors" and needed_quotes.BARE.search(entry.source):
        yield from hits(entry, context, needed_quotes.find, 'write `"-"`')
