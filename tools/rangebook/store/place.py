"""Where things are kept: a folder of the user's own below the one for caches, which nobody else can write into.

What is kept decides what is told without being looked at again. So it does not lie in the book's folder, where a branch that somebody
sends could bring it along, and is not used where anybody else could have put it there: the folder has to be the user's, open to no one
else, and no link. It may be deleted at any time.
"""

from __future__ import annotations

import hashlib
import os
import stat
from contextlib import suppress
from pathlib import Path

FOLDER = "RANGEBOOK_STORE"
"""A variable of the environment that names the folder instead; empty, and nothing is kept."""

MOST = 24
"""So many files are kept, one for each book; the one that was not used for longest goes first."""


def folder() -> Path | None:
    """The folder, made where it is not there yet; ``None`` where there can be none."""
    named = os.environ.get(FOLDER)
    if named == "":
        return None
    base = named or os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    try:
        # Below a home that is not there nothing is made: it is no home.
        here = Path(base) if base else Path.home() / ".cache"
        if not named:
            here /= "rangebook"
            if not here.parent.exists() and not base and not Path.home().is_dir():
                return None
        here.mkdir(mode=0o700, parents=True, exist_ok=True)
        return here if here.is_absolute() and _is_ours(here, stat.S_ISDIR) else None
    except (OSError, RuntimeError):
        return None


def file_for(key: str) -> Path | None:
    """The file in which is kept what belongs to ``key``; ``None`` where nothing can be."""
    home = folder()
    if home is None:
        return None
    place = home / f"{hashlib.blake2b(key.encode(), digest_size=16).hexdigest()}.sqlite"
    try:
        if place.is_symlink() or place.exists():
            return place if _is_ours(place, stat.S_ISREG) else None
        _make_room(home)
    except OSError:
        return None
    return place


def throw_away(place: Path) -> None:
    """Delete a file with what SQLite keeps beside it."""
    for path in (place, place.with_name(f"{place.name}-wal"), place.with_name(f"{place.name}-shm")):
        with suppress(OSError):
            path.unlink()


def _is_ours(path: Path, kind: object) -> bool:
    """Whether something is of a kind, no link, this user's, and can be written by nobody else."""
    seen = path.lstat()
    if not callable(kind) or not kind(seen.st_mode):
        return False
    return not hasattr(os, "getuid") or (seen.st_uid == os.getuid() and not seen.st_mode & 0o022)


def _make_room(home: Path) -> None:
    def used(path: Path) -> float:
        try:
            return path.lstat().st_mtime
        except OSError:
            return 0

    for old in sorted(home.glob("*.sqlite"), key=used)[: -MOST + 1]:
        throw_away(old)
