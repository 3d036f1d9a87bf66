"""A slip of the pen in the front matter.

The front matter is YAML: brackets and quotes are closed, keys of one list stand under each other, and text that holds
``: `` or begins with a bracket, ``#``, ``-`` or ``&`` is quoted.

Why it matters: after the slip nothing can be trusted to mean what was meant, so the whole entry is missing from the book
until it is mended.

Fails: the colon after "renewal" makes it look like a key.

    kind: kit
    title: Plug renewal: nine-way oval to thirteen-way oval

Mended: quoted, it is text.

    kind: kit
    title: "Plug renewal: nine-way oval to thirteen-way oval"
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
