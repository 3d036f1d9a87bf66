"""What each of the last changes of a book did to what vehicles are told, by git's objects alone, bounded: every build makes it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rangebook.book.load import Loaded, assemble
from rangebook.fitting.fitter import Fitter
from rangebook.reading import garbage, git
from rangebook.reading.entry import read_all
from rangebook.reading.layers import KEY
from rangebook.revisions.states import changed, schemas_at
from rangebook.revisions.touched import Touched
from rangebook.revisions.two_books import beside
from rangebook.revisions.vehicles import VehicleChange, seats_to_judge, vehicle_changes
from rangebook.schema.errors import SchemaError

MOST_CHANGES = 30
MOST_SEATS = 40
"""On so many seats in all the parts are judged anew, in both states."""


@dataclass(frozen=True, slots=True)
class PastChange:
    """One commit against the state before it; ``vehicles`` is ``None`` where too much differs to be compared within the bounds."""

    commit: str
    vehicles: tuple[VehicleChange, ...] | None


def past_changes(loaded: Loaded, fitter: Fitter, commits: Sequence[str]) -> Iterator[PastChange]:
    """The last of ``commits`` (full ids, the newest first), as far as the bounds reach; the first one of all has no state before it.
    ``loaded`` is the book as it is and ``fitter`` that of it: what the two have in hand is not read or computed again. Raises
    :class:`rangebook.reading.git.GitError` where there is no repository."""
    at = _State(loaded, fitter, git.open_repository(loaded.root))
    left = MOST_SEATS
    if loaded.book.layers:
        return
    with garbage.put_off():
        for commit in commits[:MOST_CHANGES]:
            try:
                now = at.read(commit)
                before = at.read(f"{commit}^")
            except (git.GitError, SchemaError):
                return  # the first commit, a copy that has no more of them, or a schema of then that is none now
            touched = Touched(before, now)
            many = len(seats_to_judge(touched))
            yield PastChange(commit, tuple(vehicle_changes(touched)) if many <= left else None)
            left -= many if many <= left else 0


class _State:
    """The book at one commit after the other: of each only the entries are read that differ from those of the one before."""

    def __init__(self, loaded: Loaded, fitter: Fitter, repository: git.Repository) -> None:
        self.loaded, self.fitter, self.repository = loaded, fitter, repository
        self.sources: dict[str, bytes | OSError] = {entry.file: entry.source.encode() for entry in loaded.entries}

    def read(self, commit: str) -> Fitter:
        if KEY.encode() in git.settings_at(self.repository, commit):
            raise git.GitError(f"{commit} is laid over other books: a build fetches none of then")
        files = git.book_at(self.repository, commit, self.sources)
        schemas = schemas_at(files, commit[:12])
        sources = dict(files.entries)
        if self.loaded.schemas.files != schemas.files:
            self.loaded = assemble(self.loaded.root, read_all(files.entries), schemas, files.names)
        else:
            fresh = {file: data for file, data in sources.items() if self.sources.get(file) is not data}
            gone = {entry.file for entry in self.loaded.entries if entry.file not in sources}
            self.loaded = changed(self.loaded, fresh, gone)
        self.sources = sources
        self.fitter = beside(self.loaded.book, self.fitter)
        return self.fitter
