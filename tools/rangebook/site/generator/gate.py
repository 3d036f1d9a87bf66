"""Nothing is built from a book in which the linter finds an error."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from rangebook.book.index import Index, digest_of, with_index
from rangebook.book.load import Loaded, assemble_lightly, with_files
from rangebook.fitting.fitter import COMPUTING
from rangebook.lint.again import lint_again, note
from rangebook.lint.engine import has_errors, lint_files
from rangebook.lint.finding import Finding
from rangebook.lint.linted import Linted
from rangebook.lint.reports import text
from rangebook.reading import garbage
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
    schemas = load_schemas(root)
    made: list[Loaded] = []

    def whole(index: Index | None) -> tuple[Linted, list[Finding]]:
        loaded, found = lint_files(root, sources, schemas, today)
        if index is not None:
            digests = {file: digest_of(data) for file, data in sources}
            note(index, loaded, digests, found, loaded.book.questions.asked, today)
        made.append(loaded)
        return Linted(root, loaded.entries), found

    _, findings = lint_again(root, today, whole)
    loaded = made[-1] if made else with_files(assemble_lightly(root, sources, schemas, names_of(root)))
    garbage.let_go(COMPUTING)
    if has_errors(findings):
        raise NotCleanError(text.write(findings, Linted(loaded.root, loaded.entries)))
    return Checked(loaded, findings, before, with_index(root, lambda index: pieces_of(index) if index.refresh() else None))
