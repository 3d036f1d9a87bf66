"""Everything that the linter finds in a book as its files are now, found in the way that is quickest: after a change what has to be looked
at again, else all of it, a large book in pieces."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

from rangebook.book.index import Index, digest_of
from rangebook.lint.again import Found, lint_again, note
from rangebook.lint.linted import Linted
from rangebook.reading.layers import names_of
from rangebook.reading.stack import read_all


def lint_now(root: Path, afresh: bool = False, processes: int | None = None, tell: Callable[[str], object] = lambda _: None) -> Found:
    """Check the book under ``root``: all of it, or where it was checked before what has changed since. ``tell`` is told what is being done
    where that takes a while. Raises ``SchemaError``."""
    today = date.today()

    def whole(index: Index | None) -> Found:
        # What it takes to check a book is only imported when one is checked.
        from rangebook.lint.engine import lint_files, processes_for
        from rangebook.lint.large import LARGE, lint_large
        from rangebook.schema.store import load_schemas

        # What several layers say of an entry is not kept packed.
        if index is not None and not names_of(root):
            count = len(index.listing.entries)
            shared = processes or processes_for(count)
            if shared > 1 or count >= LARGE:
                tell(f"checking {count} entries ...")
                return lint_large(index, today, shared)
        sources = list(read_all(root))
        digests = {file: digest_of(data) for file, data in sources}
        count = len(sources)
        tell(f"checking {count} entries ...")
        sources.reverse()
        one_by_one = (sources.pop() for _ in range(count))
        loaded, findings = lint_files(root, one_by_one, load_schemas(root), today, processes or processes_for(count))
        if index is not None:
            note(index, loaded, digests, findings, loaded.book.questions.asked, today)
        return Linted(root, loaded.entries), findings

    return lint_again(root, today, whole, afresh)
