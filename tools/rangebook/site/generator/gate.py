"""Nothing is built from a book in which the linter finds an error."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from rangebook.book.load import Loaded, load
from rangebook.lint.engine import has_errors, lint
from rangebook.lint.finding import Finding
from rangebook.lint.linted import Linted
from rangebook.lint.reports import text
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


def checked(root: Path) -> Checked:
    """Load and lint the book under ``root``. Raises :class:`NotCleanError` with the report if there is any error, and
    ``SchemaError`` if the schema cannot be read."""
    before = state(root)
    loaded = load(root)
    findings = lint(loaded)
    if has_errors(findings):
        raise NotCleanError(text.write(findings, Linted(loaded.root, loaded.entries)))
    return Checked(loaded, findings, before)
