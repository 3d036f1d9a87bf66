"""Places in the Markdown below the front matter."""

from __future__ import annotations

from rangebook.reading.entry import Entry
from rangebook.reading.located import Mark

MOST = 50
"""After so many findings of one rule in one entry's prose the rest is not listed."""


def place(entry: Entry, offset: int) -> Mark:
    """The line and column in the file of an offset in the prose."""
    return entry.prose_mark(offset)
