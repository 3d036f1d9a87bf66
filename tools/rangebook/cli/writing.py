"""Putting a new file where there is none, whole or not at all."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from rangebook.lint.fixing.write import NotWrittenError


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
        os.chmod(name, 0o666 & ~mask)
        _put(name, path, data)
    except FileExistsError:
        raise NotWrittenError(f"{path}: there is a file of that name already; it was left as it is") from None
    except OSError as error:
        raise NotWrittenError(f"{path}: {error.strerror or error}") from error
    finally:
        with suppress(OSError):
            os.unlink(name)


def _put(name: str, path: Path, data: bytes) -> None:
    try:
        os.link(name, path)  # unlike a rename this fails where there is a file
    except FileExistsError:
        raise
    except OSError:  # no second names on this disk
        with path.open("xb") as file:
            file.write(data)
