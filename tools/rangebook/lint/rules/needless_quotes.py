"""Quotes that do nothing.

A number, a yes or no, and a word from a list or with a form of its own (an id, a circuit, a letter for a lever position) stand
without quotes. Free text and part numbers may have them, and so may what some readers of YAML would take for something else: figures
that are a name (``"2"``), ``"NO"``, ``"-"``.

Why it matters: the same value looks different in two entries, and whoever searches the files for the one does not find the other.

Fails:

    kind: kit
    from: "oval-9"

Mended:

    kind: kit
    from: oval-9
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.context import TextContext
from rangebook.lint.finding import Hit, Severity
from rangebook.lint.fixing.hints import hits
from rangebook.lint.fixing.menders import needless_quotes
from rangebook.reading.entry import Entry

SEVERITY = Severity.HINT


def check_text(entry: Entry, context: TextContext) -> Iterator[Hit]:
    """Yield a hit at each pair of quotes that does nothing."""
    if entry.front is not None and needless_quotes.may_have_any(entry, context.schemas):
        yield from hits(entry, context, needless_quotes.find, "take the quotes off")
