"""Writing a file so that nobody ever sees half of it."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path


class NotWrittenError(Exception):
    """A file was not written; the message says why, and the file is as it was."""


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
        os.chmod(name, status.st_mode & 0o7777)
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
