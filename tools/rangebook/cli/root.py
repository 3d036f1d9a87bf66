"""Which book a command works on."""

from __future__ import annotations

import argparse
from pathlib import Path


class NoRootError(Exception):
    """There is no book where one was looked for."""


def add_root(parser: argparse.ArgumentParser) -> None:
    """Add ``--root`` to a command."""
    parser.add_argument(
        "--root",
        type=Path,
        metavar="DIR",
        help="a folder that holds entries/ (and schema/ where it overrides the one shipped); left out: this folder, "
        "or the nearest above it that has entries/",
    )


def find_root(given: Path | None) -> Path:
    """The folder of the book. Raises :class:`NoRootError`, saying what was looked for."""
    if given is not None:
        if not (given / "entries").is_dir():
            raise NoRootError(f"{given}: there is no folder entries/ in it; name the folder that holds entries/ with --root")
        return given.resolve()
    here = Path.cwd()
    for folder in (here, *here.parents):
        if (folder / "entries").is_dir():
            return folder
    raise NoRootError(f"there is no folder entries/ in {here} or above it; name the folder that holds entries/ with --root")
