"""Which files of a folder are a site's own: what a build wrote it may take away again, and nothing else."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator, Sequence
from pathlib import Path

from rangebook import __version__
from rangebook.site.output.seen import files_in

NAME = "site.json"
_BY = "rangebook"

PUBLISHING = frozenset({"CNAME", "robots.txt", "humans.txt", "ads.txt"})
"""What hosts ask for at the top of a folder that they publish, beside what begins with a dot (``.git``, ``.well-known``, ``.htaccess``)."""


class NotASiteError(Exception):
    """A folder that nothing may be built into; the message says why, as it goes on after the folder's name."""


def write(site: Path) -> list[str]:
    """Say in a finished site's folder that it is one, and which files are its own: all that are there. Gives them."""
    own = sorted(_files(site))
    (site / NAME).write_text(text_of(own), "utf-8")
    return own


def add(site: Path, addresses: Iterable[str]) -> None:
    """Say that some files are a site's own too."""
    own = _own(site) or frozenset()
    if not own.issuperset(addresses):
        (site / NAME).write_text(text_of(sorted(own.union(addresses))), "utf-8")


def text_of(own: Sequence[str]) -> str:
    """What stands in a site's folder whose own files are these, in their order."""
    return json.dumps({"by": _BY, "version": __version__, "files": own}) + "\n"


def own_of(target: Path) -> frozenset[str]:
    """The files that the site in a folder is said to have written. Raises :class:`NotASiteError` where there is none."""
    own = _own(target)
    if own is None:
        raise NotASiteError("holds no site of this book")
    return own


def refuse_clashes(new: Iterable[str], foreign: Collection[str]) -> None:
    """Raises :class:`NotASiteError` where one of some new files, or a folder that it is in, has the name of a file that is not the site's
    own."""
    if not foreign:
        return
    folders = {above for one in foreign for above in _above(one)}
    for address in new:
        for one in (address, *_above(address)):
            if one in foreign or (one == address and one in folders):
                raise NotASiteError(f"holds {one}, which no build wrote, and the new site has something of that name")


def foreign(target: Path, made: Path) -> list[Path]:
    """What is in a folder and no build wrote, links among it, relative to the folder; it stays when ``made`` takes the folder's place.

    Raises :class:`NotASiteError` where the folder is no site and holds more than what a host asks for, and where the new site has a file of
    the same name as one that is not its own.
    """
    own = _own(target)
    there = list(_files(target))
    if own is None:
        strange = [one for one in there if not (one.startswith(".") or one.partition("/")[0] in PUBLISHING)]
        if strange:
            raise NotASiteError(f"holds something that is not a site of this book ({strange[0]})")
        own = frozenset()
    kept = [Path(one) for one in there if one not in own and one != NAME]
    for path in kept:
        if (made / path).exists() or any((made / parent).is_file() for parent in path.parents):
            raise NotASiteError(f"holds {path.as_posix()}, which no build wrote, and the new site has something of that name")
    return kept


def _above(address: str) -> Iterator[str]:
    """The folders that a file is in, by their addresses."""
    while address := address.rpartition("/")[0]:
        yield address


def _own(folder: Path) -> frozenset[str] | None:
    """The files that the site in a folder is said to have written; ``None`` where there is no site."""
    try:
        stated = json.loads((folder / NAME).read_text("utf-8"))
        by, files = stated["by"], stated["files"]
    except (OSError, ValueError, KeyError, TypeError):
        return None
    if by != _BY:
        return None
    if isinstance(files, list):
        return frozenset(map(str, files))
    # A site of before the list: nobody can tell what of it is whose, and it was never built where something else was.
    return frozenset(_files(folder))


def _files(folder: Path) -> Iterator[str]:
    return (address for address, _ in files_in(folder))
