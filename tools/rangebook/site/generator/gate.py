"""Nothing is built from a book in which the linter finds an error."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from rangebook.book.index import Index, digest_of, with_index
from rangebook.book.load import Loaded, assemble_lightly, with_files
from rangebook.book.made import load_made, note_made
from rangebook.fitting.fitter import COMPUTING
from rangebook.lint.engine import has_errors
from rangebook.lint.finding import Finding
from rangebook.lint.linted import Linted
from rangebook.lint.reports import text
from rangebook.lint.whole import lint_now
from rangebook.reading import garbage
from rangebook.reading.layers import names_of
from rangebook.reading.stack import read_all, read_shelf
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


class BookNow:
    """The book under ``root`` as its files are now, of which no more is read than is asked for. Raises ``SchemaError``."""

    def __init__(self, root: Path) -> None:
        self.root = root

    @cached_property
    def _found(self) -> tuple[Linted, list[Finding]]:
        return lint_now(self.root)

    @property
    def findings(self) -> list[Finding]:
        """Everything that the linter finds."""
        return self._found[1]

    def report(self) -> str:
        """The findings for a terminal."""
        linted, findings = self._found
        return text.write(findings, linted)

    def loaded(self) -> Loaded:
        """All of it. The front matter of entries is read when it is asked for."""
        schemas, sources = load_schemas(self.root), list(read_all(self.root))
        if names := names_of(self.root):
            return with_files(assemble_lightly(self.root, sources, schemas, names))
        digests = {file: digest_of(data) for file, data in sources}
        loaded = with_files(load_made(self.root, sources, digests, schemas))
        note_made(loaded, digests)
        return loaded

    def around(self, files: Collection[str]) -> Loaded:
        """Some entries with all that hangs together with them; all of it where that cannot be told."""

        def excerpt(index: Index) -> Loaded | None:
            if not index.refresh() or not index.is_plain or not index.knows_its_connectors:
                return None
            together = (index.ledger.together(files) or set()) & index.listing.entries.keys()
            found = index.excerpt(together)
            return replace(found, book=replace(found.book, beyond=index.told_beyond()), shelf=read_shelf(self.root))

        return with_index(self.root, excerpt) or self.loaded()


def checked(root: Path) -> Checked:
    """Load and lint the book under ``root``. Raises :class:`NotCleanError` with the report if there is any error, and
    ``SchemaError`` if the schema cannot be read."""
    before = state(root)
    now = BookNow(root)
    if has_errors(now.findings):
        raise NotCleanError(now.report())
    garbage.let_go(COMPUTING)
    return Checked(now.loaded(), now.findings, before, with_index(root, lambda index: pieces_of(index) if index.refresh() else None))
