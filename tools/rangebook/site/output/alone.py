"""One build at a time in a folder."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def alone_at(target: Path) -> Iterator[None]:
    """Inside, no other build of ours changes the folder ``target``: who comes second waits here. Where there is no such folder yet, or the
    system or the disk has no locks, nobody is kept out."""
    held = _held(target)
    try:
        yield
    finally:
        if held is not None:
            os.close(held)


def _held(target: Path) -> int | None:
    try:
        import fcntl  # noqa: PLC0415 - not everywhere
    except ImportError:
        return None
    while True:
        try:
            held = os.open(target, os.O_RDONLY)
        except OSError:
            return None
        try:
            fcntl.flock(held, fcntl.LOCK_EX)
            # Another folder may have taken its place meanwhile.
            if os.path.samestat(os.fstat(held), target.stat()):
                return held
        except FileNotFoundError:
            pass
        except OSError:
            os.close(held)
            return None
        os.close(held)
