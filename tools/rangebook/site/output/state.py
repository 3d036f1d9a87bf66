"""What the files of a book look like from outside: whether one of them changed while something was done with it."""

from __future__ import annotations

from pathlib import Path

from rangebook.reading.links import files_below
from rangebook.reading.shelf import FILE

State = dict[str, tuple[int, int]]
"""File name -> when it was written, in nanoseconds, and how long it is."""

FOLDERS = ("entries", "schema")


def state(root: Path) -> State:
    """Every file of the book under ``root``."""
    found = {}
    for path in (root / FILE, *(path for folder in FOLDERS for path in files_below(root, folder))):
        try:
            facts = path.stat()
        except OSError:  # gone between the listing and the look
            continue
        if path.is_file():
            found[str(path)] = (facts.st_mtime_ns, facts.st_size)
    return found


def changed(before: State, after: State) -> list[str]:
    """The files that are new, gone or written anew, in the order of their names."""
    return sorted(name for name in before.keys() | after.keys() if before.get(name) != after.get(name))
