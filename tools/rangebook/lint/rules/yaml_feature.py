"""A feature of YAML that an entry does not need.

Anchors (``&name``), aliases (``*name``), tags (``!name``), keys that are themselves lists, and tabs are not used.

Why it matters: they make an entry mean something else than it seems to say. With an alias, a correction in one place
silently changes another; a tab looks like spaces and is not.

Fails: the rear seals are said once and pointed at from elsewhere.

    kind: kit
    number: &number TW-7706
    note: *number

Mended: written out.

    kind: kit
    number: TW-7706
    note: TW-7706
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
