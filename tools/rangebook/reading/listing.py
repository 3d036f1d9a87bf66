"""Which files a book has and when each was written, without reading them: enough to tell which of them have changed."""

from __future__ import annotations

import os
import stat
import time
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from rangebook.reading.files import FOLDERS, strays
from rangebook.reading.photos import FOLDER as PHOTOS

_LATELY = 2_000_000_000
"""A file written less than so many nanoseconds ago may be written again without its times telling: the coarsest file systems, FAT among
them, count in steps of two seconds. It is read again."""

_LATELY_FINE = 100_000_000
"""The same where a time is told to less than a millisecond: there they go by the kernel's clock, which ticks a hundred times a second or
more often."""


@dataclass(frozen=True, slots=True)
class Listing:
    """``entries`` are the files that entries are read from, in the order in which they are, each with its stamp: what is the same as long
    as nobody has written it. ``None`` where that cannot be told: a link, a file of just now. ``pictures`` are what stands in the folders
    of pictures, with stamps, ``strays`` what nothing reads."""

    entries: Mapping[str, str | None]
    pictures: Mapping[str, str | None]
    strays: tuple[str, ...]


def listing(root: Path) -> Listing:
    """What is below ``root/entries``."""
    now = time.time_ns()
    entries: dict[str, str | None] = {}
    others: list[str] = []
    top = root / "entries"
    if top.is_symlink():
        return Listing({f"entries/{name}/": None for name in sorted(FOLDERS.values())}, {}, ())
    kinds = set(FOLDERS.values())
    for name in sorted(kinds):
        folder = top / name
        if folder.is_symlink():
            entries[f"entries/{name}/"] = None
        elif folder.is_dir():
            found: dict[str, str | None] = {}
            with os.scandir(folder) as listed:
                for one in listed:
                    _take_in(one, f"entries/{name}/", now, found, others)
            entries.update(sorted(found.items()))
    with os.scandir(top) as listed:
        for one in listed:
            if one.is_dir(follow_symlinks=False):
                if one.name not in kinds:
                    others += _below(one.path, f"entries/{one.name}")
            elif one.is_file():
                others.append(f"entries/{one.name}")
    pictures = {file: _stamp_of_picture(root / file, now) for file in sorted(others) if _is_pictured(file)}
    return Listing(entries, pictures, strays([*entries, *others]) if others else ())


def _take_in(one: os.DirEntry[str], folder: str, now: int, found: dict[str, str | None], others: list[str]) -> None:
    name = one.name
    if not name.endswith(".md"):
        if one.is_dir(follow_symlinks=False):
            others += _below(one.path, folder + name)
        elif one.is_file():
            others.append(folder + name)
        return
    seen = one.stat(follow_symlinks=False)
    if stat.S_ISREG(seen.st_mode):
        found[folder + name] = _stamp(seen, now)
    elif stat.S_ISLNK(seen.st_mode):
        found[folder + name] = None
    elif stat.S_ISDIR(seen.st_mode):
        others += _below(one.path, folder + name)


def _stamp(seen: os.stat_result, now: int) -> str | None:
    fine = seen.st_mtime_ns % 1_000_000 and seen.st_ctime_ns % 1_000_000
    if max(seen.st_mtime_ns, seen.st_ctime_ns) > now - (min(_LATELY, _LATELY_FINE) if fine else _LATELY):
        return None
    return f"{seen.st_mtime_ns} {seen.st_ctime_ns} {seen.st_size} {seen.st_ino}"


def _stamp_of_picture(place: Path, now: int) -> str | None:
    try:
        return None if place.is_symlink() else _stamp(place.lstat(), now)
    except OSError:
        return None


def _is_pictured(file: str) -> bool:
    return file.split("/")[2:3] == [PHOTOS]


def _below(top: str, named: str) -> list[str]:
    """The files of a folder and of those below it; no link is followed to another folder."""
    found = []
    for here, _, names in os.walk(top):
        inner = named + here[len(top) :].replace(os.sep, "/")
        found += [f"{inner}/{name}" for name in names if os.path.isfile(os.path.join(here, name))]  # noqa: PTH113, PTH118 - of many files
    return found
