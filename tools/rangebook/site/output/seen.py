"""What a site's folder looks like from outside: whether a file is the one that was put there, without reading it."""

from __future__ import annotations

import os
import time
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path

LATELY_NS = 50_000_000
"""A file may be written again within the same tick of the disk's clock, and look the same: one that was written so lately has no stamp."""

Stamps = Mapping[str, str]
"""Address -> what tells a file from one that was written later, empty where nothing does. Links are listed, and have none."""


def files_in(folder: Path) -> Iterator[tuple[str, os.DirEntry[str]]]:
    """All files below a folder by their addresses, and links, which are not followed. A Path for each of thousands would cost more than
    all else."""
    todo = [(str(folder), "")]
    while todo:
        here, above = todo.pop()
        with suppress(PermissionError), os.scandir(here) as listed:
            for one in listed:
                if one.is_dir(follow_symlinks=False):
                    todo.append((one.path, f"{above}{one.name}/"))
                else:
                    yield f"{above}{one.name}", one


def stamps_of(folder: Path) -> dict[str, str]:
    """Every file below a folder by its address, and every link."""
    lately = time.time_ns() - LATELY_NS
    return {
        address: _stamp(one.stat(follow_symlinks=False), lately) if one.is_file(follow_symlinks=False) else ""
        for address, one in files_in(folder)
    }


def stamps_of_some(folder: Path, addresses: Iterable[str]) -> dict[str, str]:
    """The same of some files."""
    lately = time.time_ns() - LATELY_NS
    found = {}
    for address in addresses:
        with suppress(OSError):
            found[address] = _stamp(os.lstat(f"{folder}/{address}"), lately)
    return found


def _stamp(seen: os.stat_result, lately: int) -> str:
    # The time of the last change of anything about it is the kernel's own: no program sets it back.
    if max(seen.st_mtime_ns, seen.st_ctime_ns) >= lately:
        return ""
    return f"{seen.st_size} {seen.st_mtime_ns} {seen.st_ctime_ns} {seen.st_ino}"
