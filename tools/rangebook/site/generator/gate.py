"""Nothing is built from a book in which the linter finds an error."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from rangebook.book.index import Index, digest_of, with_index
from rangebook.book.load import Loaded, assemble, with_files
from rangebook.book.made import load_made, note_made
from rangebook.lint.again import lint_again, note
from rangebook.lint.engine import has_errors, lint
from rangebook.lint.finding import Finding
from rangebook.lint.linted import Linted
from rangebook.lint.reports import text
from rangebook.reading.entry import read_all as read_entries_of
from rangebook.reading.layers import names_of
from rangebook.reading.stack import read_all
from rangebook.schema.store import load_schemas
from rangebook.site.facts.pieces import Piece, pieces_of
from rangebook.site.output.state import State, state


class NotCleanError(Exception):
    """The linter found errors; the message is its report."""


@dataclass(frozen=True)
class Checked:
    """A book without errors, and the findings that do not keep it from being built."""

    loaded: Loaded
    findings: list[Finding]
    read: State | None = None
    """The book's files as they were when reading them began; ``None`` where nobody looked."""
    pieces: list[Piece] | None = None
    """Which entries hang together; ``None`` where nobody knows."""


def checked(root: Path) -> Checked:
    """Load and lint the book under ``root``. Raises :class:`NotCleanError` with the report if there is any error, and
    ``SchemaError`` if the schema cannot be read."""
    before = state(root)
    today = date.today()
    sources = list(read_all(root))
    digests = {file: digest_of(data) for file, data in sources}
    schemas, names = load_schemas(root), names_of(root)
    looked_at: list[Loaded] = []

    def whole(index: Index | None) -> tuple[Linted, list[Finding]]:
        loaded = with_files(assemble(root, read_entries_of(sources), schemas, names))
        looked_at.append(loaded)
        found = lint(loaded, today)
        if index is not None:
            note(index, loaded, digests, found, loaded.book.questions.asked, today)
        return Linted(loaded.root, loaded.entries), found

    _, findings = lint_again(root, today, whole)
    if looked_at:
        loaded = looked_at[-1]
    elif names:
        loaded = with_files(assemble(root, read_entries_of(sources), schemas, names))
    else:
        loaded = with_files(load_made(root, sources, digests, schemas))
    if not names:
        note_made(loaded, digests)
    if has_errors(findings):
        raise NotCleanError(text.write(findings, Linted(loaded.root, loaded.entries)))
    return Checked(loaded, findings, before, with_index(root, lambda index: pieces_of(index) if index.refresh() else None))
