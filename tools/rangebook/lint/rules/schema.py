"""A key or value that the entry format does not have.

The front matter fits the schema of its kind: no unknown keys, none that are missing, numbers where numbers are wanted,
and words from the list where there is a list. The page on the entry format shows all of it.

Why it matters: a key with a typing mistake is a fact that nobody reads, and the answer is computed without it. So an
entry is left out of the book until it fits.

Fails:

    kind: connector
    outline: ovall

Mended:

    kind: connector
    outline: oval
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.context import TextContext
from rangebook.lint.finding import Hit, Severity
from rangebook.lint.rules_of_reading import problems
from rangebook.reading.entry import Entry

SEVERITY = Severity.ERROR


def check_text(entry: Entry, context: TextContext) -> Iterator[Hit]:
    """Yield what reading the file found under this rule's name."""
    yield from problems(entry, __name__)
