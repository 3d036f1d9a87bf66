"""Writing a file so that nobody ever sees half of it: a new one, or another in the place of one."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path


class NotWrittenError(Exception):
    """A file was not written; the message says why, and the file is as it was."""


def create(path: Path, data: bytes) -> None:
    """Write a file that is not there yet, and the folder that it stands in where that is missing.

    Nobody ever sees half of it. Raises :class:`NotWrittenError` where there is a file of that name (which stays as it is) or it
    cannot be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=path.parent)
    except OSError as error:
        raise NotWrittenError(f"{path}: {error.strerror or error}") from error
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        mask = os.umask(0)
        os.umask(mask)
        os.chmod(name, 0o666 & ~mask)  # noqa: PTH101 - by descriptor and name, as os has it
        _put(name, path, data)
    except FileExistsError:
        raise NotWrittenError(f"{path}: there is a file of that name already; it was left as it is") from None
    except OSError as error:
        raise NotWrittenError(f"{path}: {error.strerror or error}") from error
    finally:
        with suppress(OSError):
            os.unlink(name)  # noqa: PTH108 - by descriptor and name, as os has it


def _put(name: str, path: Path, data: bytes) -> None:
    try:
        os.link(name, path)  # unlike a rename this fails where there is a file
    except FileExistsError:
        raise
    except OSError:  # no second names on this disk
        with path.open("xb") as file:
            file.write(data)


def write(path: Path, before: bytes, after: bytes) -> None:
    """Put ``after`` in the place of the file's bytes, which have to be ``before``. Its permissions stay, and a link stays a link.

    Raises :class:`NotWrittenError` where the file has changed meanwhile, or must not or cannot be written.
    """
    path = path.resolve()
    try:
        if path.read_bytes() != before:
            raise NotWrittenError(f"{path}: it was changed while it was looked at; run this again")
        if not os.access(path, os.W_OK):
            raise NotWrittenError(f"{path}: it is write-protected")
        _replace(path, after)
    except OSError as error:
        raise NotWrittenError(f"{path}: {error.strerror or error}") from error


def _replace(path: Path, after: bytes) -> None:
    status = path.stat()
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(after)
            file.flush()
            os.fsync(file.fileno())
        with suppress(OSError):  # only root may give a file to someone else
            os.chown(name, status.st_uid, status.st_gid)
        os.chmod(name, status.st_mode & 0o7777)  # noqa: PTH101 - by descriptor and name, as os has it
        os.replace(name, path)  # noqa: PTH105 - by descriptor and name, as os has it
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
