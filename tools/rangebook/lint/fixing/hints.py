"""What rules have in common that report what ``rangebook lint --fix`` would mend."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import islice

from rangebook.lint.context import Context
from rangebook.lint.finding import Hit
from rangebook.lint.fixing.edits import Mend
from rangebook.lint.fixing.page import LONGEST, Page
from rangebook.lint.fixing.typed import Known
from rangebook.lint.fixing.verify import verified
from rangebook.reading.entry import Entry

MOST = 100
"""After so many of one kind in one file the rest is not told; ``--fix`` mends all of them."""

FIX = "`rangebook lint --fix` does it"


def hits(entry: Entry, context: Context, find: Callable[[Page], Iterator[Mend]], fix: str) -> Iterator[Hit]:
    """Yield a hit for each mend that a mender finds in an entry. Look first whether it may find any: this takes its time."""
    if len(entry.source) > LONGEST:
        return
    page = Page(entry.file, entry.source, context.schemas, Known())
    for mend in verified(page, list(islice(find(page), MOST))):
        yield Hit(entry, page.mark(mend.offset), mend.what, f"{fix}; {FIX}")
