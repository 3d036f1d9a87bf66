"""The book at a commit, for commands that take one: by git's objects alone."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from rangebook.book.load import Loaded, assemble
from rangebook.cli.root import NoRootError, find_root
from rangebook.reading import git
from rangebook.reading.entry import read_all
from rangebook.reading.git import GitError as GitError  # noqa: PLC0414 - what is raised here
from rangebook.reading.stack import book_at
from rangebook.revisions.states import schemas_at


def find_repository(given: Sequence[Path] | None, name: str) -> tuple[Path, git.Repository]:
    """The folder and the repository that hold the book at a commit of this ``name``: by the folder of the book where there is one, else,
    as in a bare repository, by the commit itself. Raises :class:`git.GitError`."""
    try:
        root = find_root(given)
        return root, git.open_repository(root)
    except NoRootError:
        root = (given[-1] if given else Path.cwd()).resolve()
        repository = git.open_repository(root)
        return root, git.book_in(repository, git.named_base(repository, name).commit)


def load_at(given: Sequence[Path] | None, name: str) -> tuple[Loaded, git.Base]:
    """The book as it was at a commit, by git's objects alone. Raises :class:`git.GitError`."""
    root, repository = find_repository(given, name)
    base = git.named_base(repository, name)
    files = book_at(repository, base.commit, {})
    return assemble(root, read_all(files.entries), schemas_at(files, base.words), files.names), base
