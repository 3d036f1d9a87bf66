"""Which book a command works on."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path


class NoRootError(Exception):
    """There is no book where one was looked for."""


def add_root(parser: argparse.ArgumentParser) -> None:
    """Add ``--root`` to a command."""
    parser.add_argument(
        "--root",
        type=Path,
        action="append",
        metavar="DIR",
        help="a folder that holds entries/ (and schema/ where it overrides the one shipped); left out: this folder, "
        "or the nearest above it that has entries/; given several times: layers, the shared book first",
    )


def find_root(given: Sequence[Path] | None) -> Path:
    """The folder of the book, of several layers that of the last one, in which alone anything is written. Raises :class:`NoRootError`,
    saying what was looked for."""
    from rangebook.reading.layers import lay  # what asks nothing of a book starts without reading one

    if given:
        for one in given:
            if not (one / "entries").is_dir():
                raise NoRootError(f"{one}: there is no folder entries/ in it; name the folder that holds entries/ with --root")
        return lay(given)
    here = Path.cwd()
    for folder in (here, *here.parents):
        if (folder / "entries").is_dir():
            lay([folder])
            return folder
    raise NoRootError(f"there is no folder entries/ in {here} or above it; name the folder that holds entries/ with --root")
