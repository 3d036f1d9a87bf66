"""Symbolic links. A branch that somebody sends may hold some; none of them is followed, neither to read nor to write."""

from __future__ import annotations

import errno
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
