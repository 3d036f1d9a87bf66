"""Writing a file of a folder so that nobody ever sees half of it: a new one, or another in the place of one; never through a link."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from rangebook.book.load import Loaded
from rangebook.reading import text
from rangebook.reading.leftovers import runs
from rangebook.reading.links import refuse_links


class NotWrittenError(Exception):
    """A file was not written; the message says why, and the file is as it was."""


def as_loaded(loaded: Loaded, file: str) -> bytes:
    """The bytes of an entry's file in the book's own folder, of one that only layers below have those of an entry that says nothing yet.
    Raises :class:`NotWrittenError` unless they say what the book was read from, ``OSError`` where they cannot be read: what is planned from
    one state is not written over another."""
    own = next((entry.own(loaded.book.own_layer) for entry in loaded.entries if entry.file == file), None)
    source = own.source if own is not None else None
    if source is not None and loaded.book.layers and not (loaded.root / file).exists():
        return source.encode("utf-8")
    data = (loaded.root / file).read_bytes()
    if text.decode(file, data) != source:
        raise NotWrittenError(f"{loaded.root / file}: it was changed while it was looked at; run this again")
    return data


def put(root: Path, file: str, before: bytes, after: bytes) -> None:
    """:func:`write` a file that is there, :func:`create` one that is not. Raises :class:`NotWrittenError`."""
    if (root / file).exists():
        write(root, file, before, after)
    else:
        create(root, file, after)


def create(root: Path, file: str, data: bytes) -> None:
    """Write ``root/file``, which is not there yet, and the folder that it stands in where that is missing.

    Raises :class:`NotWrittenError` where there is a file of that name (which stays as it is), a link on the way, or it cannot be written.
    """
    path = root / file
    try:
        refuse_links(root, path)
        path.parent.mkdir(parents=True, exist_ok=True)
        with _unfinished(path, data) as name:
            mask = os.umask(0)
            os.umask(mask)
            os.chmod(name, 0o666 & ~mask)  # noqa: PTH101 - by descriptor and name, as os has it
            _put(name, path, data)
    except FileExistsError:
        raise NotWrittenError(f"{path}: there is a file of that name already; it was left as it is") from None
    except OSError as error:
        raise NotWrittenError(f"{error.filename or path}: {error.strerror or error}") from error


def _put(name: str, path: Path, data: bytes) -> None:
    try:
        os.link(name, path)  # unlike a rename this fails where there is a file
    except FileExistsError:
        raise
    except OSError:  # no second names on this disk
        with path.open("xb") as file:
            file.write(data)


def write(root: Path, file: str, before: bytes, after: bytes) -> None:
    """Put ``after`` in the place of the bytes of ``root/file``, which have to be ``before``. Its permissions stay.

    Raises :class:`NotWrittenError` where the file has changed meanwhile, where it or a folder on the way is a link, or where it must not
    or cannot be written.
    """
    path = root / file
    try:
        refuse_links(root, path)
        _refuse_if_changed(path, before)
        if not os.access(path, os.W_OK):
            raise NotWrittenError(f"{path}: it is write-protected")
        status = path.stat()
        with _unfinished(path, after) as name:
            with suppress(OSError):  # only root may give a file to someone else
                os.chown(name, status.st_uid, status.st_gid)
            os.chmod(name, status.st_mode & 0o7777)  # noqa: PTH101 - by descriptor and name, as os has it
            _refuse_if_changed(path, before)  # writing the new one took its time
            os.replace(name, path)  # noqa: PTH105 - by descriptor and name, as os has it
    except OSError as error:
        raise NotWrittenError(f"{error.filename or path}: {error.strerror or error}") from error


def _refuse_if_changed(path: Path, before: bytes) -> None:
    if path.read_bytes() != before:
        raise NotWrittenError(f"{path}: it was changed while it was looked at; run this again")


@contextmanager
def _unfinished(path: Path, data: bytes) -> Iterator[str]:
    """The name of a file beside ``path`` that holds ``data``; it is gone afterwards unless it was moved away, and so are those that a
    process that was killed left for the same path."""
    for left in path.parent.glob(f".{path.name}.*.part"):
        pid = left.name.removesuffix(".part").rpartition(".")[2].partition("-")[0]
        if pid.isdigit() and not runs(int(pid)):
            left.unlink(missing_ok=True)
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.{os.getpid()}-", suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        yield name
    finally:
        Path(name).unlink(missing_ok=True)
