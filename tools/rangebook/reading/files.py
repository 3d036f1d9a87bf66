"""The only place that touches the disk for entries: which files there are, and their bytes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from rangebook.reading.links import LinkError, refuse_links

FOLDERS = {"switch": "switches", "connector": "connectors", "kit": "kits"}
"""Kind of entry -> its folder under ``entries/``."""

MAX_BYTES = 1024 * 1024
"""An entry larger than this is not read: nobody typed it."""


def _entry_files(folder: Path) -> list[Path]:
    """Every entry file of a folder, by name; a link that leads nowhere is one of them."""
    return sorted(path for path in folder.glob("*.md") if path.is_file() or path.is_symlink())


def read_bytes(path: Path) -> bytes:
    """The file's bytes, one more than :data:`MAX_BYTES` at most, so that a huge file costs nothing. Raises ``OSError``."""
    with path.open("rb") as file:
        return file.read(MAX_BYTES + 1)


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
