"""A bundle as a zip, the same bytes wherever it is made, and read again without unpacking anything."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path

from rangebook.site.bundle.sums import Files

LARGEST = 256 * 1024**2
"""A file that says that it is larger is not read: a zip of a few kilobytes can claim to be any size."""

_BEGINNING = (1980, 1, 1, 0, 0, 0)
"""The first time that a zip can state; of when it is stands in the edition."""


class NoBundleError(Exception):
    """What was given is no bundle; the message says why."""


def below(folder: Path) -> Files:
    """All files below a folder; links are none."""
    found = (path for path in folder.rglob("*") if path.is_file() and not path.is_symlink())
    return {path.relative_to(folder).as_posix(): path.read_bytes for path in found}


def pack(files: Files, out: Path) -> None:
    """Write a zip. Nothing in it is compressed: two libraries for that give different bytes. Raises ``OSError``."""
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as archive:
        for name, read in sorted(files.items()):
            info = zipfile.ZipInfo(name, _BEGINNING)
            info.create_system, info.external_attr = 3, 0o644 << 16  # the same on every system
            archive.writestr(info, read())


@contextmanager
def opened(path: Path) -> Iterator[Files]:
    """The files of a bundle, a zip or the folder that it was unpacked into. Raises :class:`NoBundleError` or ``OSError``."""
    if path.is_dir():
        yield below(path)
        return
    try:
        with zipfile.ZipFile(path) as archive:
            entries = [one for one in archive.infolist() if not one.is_dir()]
            if len({one.filename for one in entries}) < len(entries) or any(one.file_size > LARGEST for one in entries):
                raise NoBundleError(f"{path}: a name twice, or a file too large")
            yield {one.filename: partial(archive.read, one) for one in entries}
    except (zipfile.BadZipFile, NotImplementedError, EOFError, RuntimeError) as error:
        raise NoBundleError(f"{path}: is no zip that can be read ({error})") from error
