"""Changing some files of a site where it lies: all of them or, where one cannot be changed, none.

Each file is whole at any moment, and all are changed within a few thousandths of a second; that a large site need not be put together anew
for one edit is worth that a reader can meet two neighbouring pages of two editions then. Who is killed in just that moment leaves some
files of each edition; the next build makes those that are not as they should be.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from itertools import count
from pathlib import Path

from rangebook.site.output.seen import stamps_of

_ASIDE = ".aside"
"""In the folder of what is new: what was there before, until all is done."""


def amend(target: Path, new: Path, gone: Iterable[str]) -> None:
    """Take files that are ``gone`` out of the site ``target``, by their addresses, and have all files of the folder ``new`` in it. Nothing
    is written through a link that is among the files; who calls has seen that none is among the folders. Raises ``OSError``, and then
    ``target`` is as it was."""
    steps = list(stamps_of(new))
    undo: list[Callable[[], object]] = []
    (new / _ASIDE).mkdir()
    aside = (f"{new}/{_ASIDE}/{at}" for at in count())
    with _uninterrupted():
        try:
            for address in gone:
                _take_out(f"{target}/{address}", next(aside), undo)
                _clear(target, address, undo)
            for address in steps:
                _put(f"{new}/{address}", f"{target}/{address}", next(aside), undo)
        except OSError:
            for step in reversed(undo):
                with suppress(OSError):
                    step()
            raise


def _take_out(place: str, aside: str, undo: list[Callable[[], object]], stays: bool = False) -> bool:
    """Put a file aside; where it ``stays`` it is there too, if the disk has second names for files. Whether it is gone."""
    if stays:
        with suppress(OSError, NotImplementedError):
            os.link(place, aside, follow_symlinks=False)
            undo.append(lambda: os.replace(aside, place))  # noqa: PTH105 - of many files
            return False
    os.rename(place, aside)  # noqa: PTH104 - the same
    undo.append(lambda: os.rename(aside, place))  # noqa: PTH104 - the same
    return True


def _clear(target: Path, address: str, undo: list[Callable[[], object]]) -> None:
    """Take away the folders that are empty now."""
    above = address.rpartition("/")[0]
    while above:
        try:
            os.rmdir(f"{target}/{above}")  # noqa: PTH106 - of many folders
        except OSError:
            return
        undo.append(lambda place=f"{target}/{above}": os.mkdir(place))  # type: ignore[misc]  # noqa: PTH102 - the same
        above = above.rpartition("/")[0]


def _put(new: str, place: str, aside: str, undo: list[Callable[[], object]]) -> None:
    for above in reversed(list(_not_there(place))):
        os.mkdir(above)  # noqa: PTH102 - of many folders
        undo.append(lambda above=above: os.rmdir(above))  # type: ignore[misc]  # noqa: PTH106 - the same
    if os.path.lexists(place) and not _take_out(place, aside, undo, stays=True):
        os.replace(new, place)  # noqa: PTH105 - of many files
        return
    os.rename(new, place)  # noqa: PTH104 - of many files
    undo.append(lambda: os.rename(place, new))  # noqa: PTH104 - the same


def _not_there(place: str) -> Iterator[str]:
    above = place.rpartition("/")[0]
    while above and not os.path.lexists(above):
        yield above
        above = above.rpartition("/")[0]


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """Who is asked to stop is so when it is done."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGTERM})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
