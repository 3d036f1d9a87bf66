"""The only place that touches the disk for entries: which files there are, and their bytes."""

from __future__ import annotations

import ntpath
from collections.abc import Iterable, Iterator
from pathlib import Path, PureWindowsPath

from rangebook.reading.links import LinkError, files_below, refuse_links

FOLDERS = {"switch": "switches", "connector": "connectors", "kit": "kits"}
"""Kind of entry -> its folder under ``entries/``."""

MAX_BYTES = 1024 * 1024
"""An entry larger than this is not read: nobody typed it."""


def _entry_files(folder: Path) -> list[Path]:
    """Every entry file of a folder, by name; a link that leads nowhere is one of them."""
    return sorted(path for path in folder.glob("*.md") if path.is_file() or path.is_symlink())


def is_reserved(name: str) -> bool:
    """Whether Windows has a file's name, with or without an ending, for a device: no file there can be called so. As Python has it."""
    if hasattr(ntpath, "isreserved"):  # from Python 3.13 on, where the other is to be taken out
        return bool(ntpath.isreserved(name))
    return PureWindowsPath(name).is_reserved()


_LET_BE = ("license", "licence", "readme", "copying")
"""Beginnings of names of files that stand beside entries and are none."""


def is_entry(file: str) -> bool:
    """Whether a file, by its path from the root, is where entries are and has their ending."""
    parts = file.split("/")
    return len(parts) == 3 and parts[0] == "entries" and parts[1] in FOLDERS.values() and parts[2].endswith(".md")


def strays(files: Iterable[str]) -> tuple[str, ...]:
    """Of files below ``entries/``, by their paths from the root, those that nothing reads: no entry, and no picture in the folder of an
    entry. Hidden files and licences are let be."""
    named = sorted(files)
    stems = {(file.split("/")[1], file.split("/")[2].removesuffix(".md")) for file in named if is_entry(file)}
    found = []
    for file in named:
        parts = file.split("/")
        if (
            parts[0] != "entries"
            or is_entry(file)
            or parts[-1].casefold().startswith((".", *_LET_BE))
            or any(p.startswith(".") for p in parts)
        ):
            continue
        pictured = len(parts) == 5 and parts[1] in FOLDERS.values() and parts[2] == "photos" and (parts[1], parts[3]) in stems
        if not pictured:
            found.append(file)
    return tuple(found)


def find_strays(root: Path) -> tuple[str, ...]:
    """The same of what is on the disk."""
    return strays(path.relative_to(root).as_posix() for path in files_below(root, "entries") if path.is_file())


def read_bytes(path: Path) -> bytes:
    """The file's bytes, one more than :data:`MAX_BYTES` at most, so that a huge file costs nothing. Raises ``OSError``."""
    with path.open("rb") as file:
        return file.read(MAX_BYTES + 1)


def read_one(root: Path, file: str) -> bytes | OSError:
    """The bytes of one file by its path relative to ``root``, or the error that reading it gave, as :func:`read_all` has them."""
    path = root / file
    try:
        if file.endswith("/"):
            refuse_links(root, path)
        refuse_links(path.parent, path)
        return read_bytes(path)
    except OSError as error:
        return error


def read_all(root: Path) -> Iterator[tuple[str, bytes | OSError]]:
    """Each entry's path relative to ``root`` (with ``/``), and its bytes or the error that reading it gave; in a fixed order: connectors,
    kits, switches, each by name. A folder that is a link is told of under its own name, which ends with ``/``."""
    for name in sorted(FOLDERS.values()):
        folder = root / "entries" / name
        try:
            refuse_links(root, folder)
        except LinkError as error:
            yield f"entries/{name}/", error
            continue
        for path in _entry_files(folder):
            file = f"entries/{name}/{path.name}"
            try:
                refuse_links(folder, path)
                yield file, read_bytes(path)
            except OSError as error:
                yield file, error
