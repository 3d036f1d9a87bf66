"""The same key twice.

A key stands twice in one mapping. Each key may stand once; the second one is not read.

Why it matters: of two lists of contacts only one would count, and nobody would see which. A technician would be told
what an entry does not say.

Fails:

    kind: kit
    blanks: 3
    blanks: 2

Mended:

    kind: kit
    blanks: 2
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.context import TextContext
from rangebook.lint.finding import Hit, Severity
from rangebook.lint.rules_of_reading import problems
from rangebook.reading.entry import Entry

SEVERITY = Severity.ERROR


def check_text(entry: Entry, context: TextContext) -> Iterator[Hit]:
    """Yield a hit for each key that is there again."""
    yield from problems(entry, __name__)
