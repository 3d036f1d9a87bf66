"""The book while it is being edited: after each change what it is now, and every finding, without looking at all of it again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from rangebook.book.load import Loaded, load
from rangebook.book.load import with_files as with_files_beside
from rangebook.fitting.fitter import Fitter
from rangebook.lint.engine import lint
from rangebook.lint.finding import Finding
from rangebook.lint.revisions import lint_both
from rangebook.revisions.states import amended


@dataclass(frozen=True)
class Now:
    """The book as it is, its verdicts, and every finding, in the linter's order."""

    loaded: Loaded
    fitter: Fitter
    findings: Sequence[Finding]

    def against(self, file: str) -> list[Finding]:
        """The findings in one entry's file (relative to the root)."""
        return [one for one in self.findings if one.file == file]


def read_now(root: Path) -> Now:
    """The whole book, looked at afresh. Raises ``SchemaError``."""
    loaded = load(root)
    return Now(loaded, Fitter(loaded.book), lint(loaded))


def with_files(was: Now, files: Mapping[str, bytes]) -> Now:
    """The book with some entry files put into it, by path relative to the root. What the change has nothing to do with is taken over."""
    states = amended(was.loaded, files)
    old_fitter, fitter = states.fitters
    loaded = with_files_beside(states.new)
    old, new = lint_both(states.old, loaded, fitters=(old_fitter, fitter))
    # What is in one list only is what is in one state only; all else stays.
    kept = Counter(was.findings)
    kept.subtract(old)
    kept.update(new)
    return Now(loaded, fitter, sorted(kept.elements()))
