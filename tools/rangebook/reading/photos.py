"""The only place that touches the disk for pictures: which there are beside the entries, and what kind of file each is."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from rangebook.reading.files import FOLDERS
from rangebook.reading.links import files_below

FOLDER = "photos"
"""Beside the entries of a kind; in it one folder for each entry that has pictures, by its id."""

FORMATS = ("JPEG", "PNG", "WEBP")


@dataclass(frozen=True, slots=True)
class PhotoFile:
    """A picture's file. ``kind`` is one of :data:`FORMATS`, ``None`` where it is no picture of these; width and height are in
    pixels, as the picture is stored, and 0 without a kind. ``outside`` is true where the file is a link to somewhere else."""

    bytes: int
    kind: str | None
    width: int
    height: int
    outside: bool = False


def photo_path(entry_file: str, file: str) -> str:
    """Where a picture of an entry has to be, from the root: ``entries/kits/photos/oval-13-renewal/bag.jpg``."""
    folder, _, name = entry_file.rpartition("/")
    return f"{folder}/{FOLDER}/{name.removesuffix('.md')}/{file}"


def look(root: Path, paths: Iterable[str]) -> Mapping[str, PhotoFile]:
    """What is at each of these paths from the root; those at which there is no file are left out."""
    found = {}
    home = os.path.realpath(root)
    for path in paths:
        place = root / path
        try:
            if not place.is_file():
                continue
            outside = os.path.realpath(place) != os.path.join(home, *path.split("/"))  # noqa: PTH118 - a Path for each of thousands costs more than the look
            found[path] = PhotoFile(place.stat().st_size, *(_header(place) if not outside else (None, 0, 0)), outside)
        except OSError:
            continue
    return found


def shelf(root: Path) -> Iterator[tuple[str, int, int]]:
    """Every file under the folders of pictures, in a fixed order: its path from the root, its size, and when it was written."""
    for folder in sorted(FOLDERS.values()):
        for place in files_below(root, f"entries/{folder}/{FOLDER}"):
            try:
                seen = place.stat()
            except OSError:
                continue
            if place.is_file():
                yield place.relative_to(root).as_posix(), seen.st_size, seen.st_mtime_ns


def _header(place: Path) -> tuple[str | None, int, int]:
    # Few books have pictures, and to import what reads them takes longer than to read a whole small book.
    from PIL import Image

    try:
        with Image.open(place, formats=FORMATS) as image:
            return image.format, *image.size
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        return None, 0, 0
