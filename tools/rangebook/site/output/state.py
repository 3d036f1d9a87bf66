"""What the files of a book look like from outside: whether one of them changed while something was done with it."""

from __future__ import annotations

from pathlib import Path

from rangebook.reading.layers import FILE as SETTINGS
from rangebook.reading.layers import layers_of
from rangebook.reading.links import files_below
from rangebook.reading.shelf import FILE

State = dict[str, tuple[int, int]]
"""File name -> when it was written, in nanoseconds, and how long it is."""

FOLDERS = ("entries", "schema")


def state(root: Path) -> State:
    """Every file of the book under ``root`` and of the layers below it."""
    found = {}
    roots = [one.root for one in layers_of(root)]
    # What a book says of itself names its layers, where it has several.
    beside = (FILE, SETTINGS) if len(roots) > 1 else (FILE,)
    named = (one / name for one in roots for name in beside)
    for path in (*named, *(path for one in roots for folder in FOLDERS for path in files_below(one, folder))):
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
