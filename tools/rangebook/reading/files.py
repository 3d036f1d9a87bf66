"""The only place that touches the disk for entries: which files there are, and their bytes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

FOLDERS = {"switch": "switches", "connector": "connectors", "kit": "kits"}
"""Kind of entry -> its folder under ``entries/``."""

MAX_BYTES = 1024 * 1024
"""An entry larger than this is not read: nobody typed it."""


def entry_files(root: Path) -> list[Path]:
    """Every entry file under ``root/entries``, in a fixed order: connectors, kits, switches, each by name."""
    found: list[Path] = []
    for folder in sorted(FOLDERS.values()):
        place = root / "entries" / folder
        if place.is_dir():
            found += sorted(path for path in place.glob("*.md") if path.is_file())
    return found


def read_bytes(path: Path) -> bytes:
    """The file's bytes, one more than :data:`MAX_BYTES` at most, so that a huge file costs nothing. Raises ``OSError``."""
    with path.open("rb") as file:
        return file.read(MAX_BYTES + 1)


def read_all(root: Path) -> Iterator[tuple[str, bytes | OSError]]:
    """Each entry's path relative to ``root`` (with ``/``), and its bytes or the error that reading it gave."""
    for path in entry_files(root):
        name = path.relative_to(root).as_posix()
        try:
            yield name, read_bytes(path)
        except OSError as error:
            yield name, error
