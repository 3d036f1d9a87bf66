"""Symbolic links. A branch that somebody sends may hold some; none of them is followed, neither to read nor to write."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from pathlib import Path


class LinkError(OSError):
    """What should be a file or folder of the book is a link; ``filename`` names it."""

    def __init__(self, place: Path) -> None:
        super().__init__(errno.ELOOP, "it is a link, and links are not followed", str(place))


def refuse_links(root: Path, place: Path) -> None:
    """Raises :class:`LinkError` where something below ``root`` on the way to ``place``, itself included, is a link.

    ``root`` is what the user named: it may be a link, or be reached by one.
    """
    here = root
    for step in place.relative_to(root).parts:
        here = here / step
        if here.is_symlink():
            raise LinkError(here)


def files_below(root: Path, folder: str) -> Iterator[Path]:
    """What is in a folder of ``root`` and in those below it, folders left out, in a fixed order. None where the way there goes through a
    link, and none behind one: it may lead to ``/``."""
    top = root / folder
    try:
        refuse_links(root, top)
    except LinkError:
        return
    for here, folders, names in os.walk(top):
        folders.sort()
        for name in sorted(names):
            yield Path(here, name)
