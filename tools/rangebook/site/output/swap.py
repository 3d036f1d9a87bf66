"""Putting a finished folder in the place of another in one step, so that nobody ever sees half of either."""

from __future__ import annotations

import ctypes
import errno
import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from rangebook.reading.leftovers import runs

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2


@contextmanager
def beside(target: Path) -> Iterator[Path]:
    """A new empty folder beside ``target``, on the same disk; it is gone afterwards unless it was moved away.

    Folders that a build left behind when it was killed are cleared away. Raises ``OSError`` where none can be made.
    """
    target.parent.mkdir(parents=True, exist_ok=True)
    _clear_left(target)
    made = target.with_name(f".{target.name}.building-{os.getpid()}")
    shutil.rmtree(made, ignore_errors=True)
    made.mkdir()
    try:
        yield made
    finally:
        shutil.rmtree(made, ignore_errors=True)


def put_in_place(finished: Path, target: Path) -> None:
    """``finished`` becomes ``target``; what was there is removed. Raises ``OSError``, and then ``target`` is as it was."""
    if not target.exists():
        finished.rename(target)
    elif not _exchange(finished, target):
        # Elsewhere than on Linux there is a moment between two renames in which there is no site, never half of one.
        old = target.with_name(f".{target.name}.old-{os.getpid()}")
        shutil.rmtree(old, ignore_errors=True)
        target.rename(old)
        try:
            finished.rename(target)
        except OSError:
            old.rename(target)
            raise
        shutil.rmtree(old, ignore_errors=True)


def _exchange(one: Path, other: Path) -> bool:
    """Let two folders change names in one step of the kernel (``renameat2``, Linux); ``False`` where it cannot."""
    if not sys.platform.startswith("linux"):
        return False
    try:
        renameat2 = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    if renameat2(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE) == 0:
        return True
    code = ctypes.get_errno()
    if code in (errno.ENOSYS, errno.EINVAL, errno.EPERM):
        return False
    raise OSError(code, os.strerror(code), str(other))


def _clear_left(target: Path) -> None:
    for kind in ("building", "old"):
        for left in target.parent.glob(f".{target.name}.{kind}-*"):
            pid = left.name.rpartition("-")[2]
            if not pid.isdigit() or runs(int(pid)):
                continue
            if kind == "old" and not target.exists():
                left.rename(target)  # killed between two renames: this is the site
            else:
                shutil.rmtree(left, ignore_errors=True)
