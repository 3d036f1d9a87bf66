"""The only place that touches the disk for pictures: which there are beside the entries, and what kind of file each is."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from io import BytesIO
from pathlib import Path
from typing import Any

from rangebook.reading.files import FOLDERS
from rangebook.reading.links import files_below

FOLDER = "photos"
"""Beside the entries of a kind; in it one folder for each entry that has pictures, by its id."""

FORMATS = ("JPEG", "PNG", "WEBP")


@dataclass(frozen=True, slots=True)
class PhotoFile:
    """A picture's file. ``kind`` is one of :data:`FORMATS`, ``None`` where it is no picture of these; width and height are in
    pixels, as the picture is stored, and 0 without a kind. ``outside`` is true where the file is a link to somewhere else. ``tells`` is
    what a JPEG says of the one who took it beside the picture: ``place``, ``time``, or both."""

    bytes: int
    kind: str | None
    width: int
    height: int
    outside: bool = False
    tells: tuple[str, ...] = ()


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
            found[path] = (
                PhotoFile(place.stat().st_size, None, 0, 0, outside) if outside else replace(_header(place), bytes=place.stat().st_size)
            )
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


def photo_of(data: bytes) -> PhotoFile:
    """What kind of picture some bytes are."""
    return replace(_header(BytesIO(data)), bytes=len(data))


def _header(place: Path | BytesIO) -> PhotoFile:
    # Few books have pictures, and to import what reads them takes longer than to read a whole small book.
    from PIL import Image

    try:
        with Image.open(place, formats=FORMATS) as image:
            return PhotoFile(0, image.format, *image.size, tells=_tells(image) if image.format == "JPEG" else ())
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        return PhotoFile(0, None, 0, 0)


_PLACE, _DETAILS, _TIMES = 0x8825, 0x8769, frozenset({0x0132, 0x9003, 0x9004})
"""Tags of Exif: where a picture was taken (GPS), its details, and when (DateTime, DateTimeOriginal, DateTimeDigitized). Exif 2.3 (JEITA
CP-3451C), from memory; Pillow has the same in ``PIL.ExifTags``."""


def _tells(image: Any) -> tuple[str, ...]:
    exif, more = image.getexif(), image.info.get("xmp") or b""
    place = bool(exif.get_ifd(_PLACE)) or b"GPSLatitude" in more
    time = not _TIMES.isdisjoint({*exif, *exif.get_ifd(_DETAILS)}) or b"CreateDate" in more or b"DateTimeOriginal" in more
    return (*(("place",) if place else ()), *(("time",) if time else ()))


_SCAN, _APP1, _APP13, _COMMENT = 0xDA, 0xE1, 0xED, 0xFE
_TURNED = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0%c\0\0\0\0\0\0"
"""An Exif block that says nothing but which way up the picture is."""


def stripped(data: bytes) -> bytes:
    """A JPEG without what its Exif, XMP and IPTC blocks and its comments tell, but for which way up it is; no byte of the picture is
    another. What is no JPEG, or is broken, is given back as it is."""
    photo = photo_of(data)
    if photo.kind != "JPEG" or not photo.tells:
        return data
    pieces, at = [data[:2]], 2
    while at + 4 <= len(data) and data[at] == 0xFF and data[at + 1] != _SCAN:
        if data[at + 1] == 0xFF:  # a filling byte
            at += 1
            continue
        end = at + 2 + int.from_bytes(data[at + 2 : at + 4])
        if data[at + 1] not in (_APP1, _APP13, _COMMENT):
            pieces.append(data[at:end])
        at = end
    if at >= len(data) or data[at] != 0xFF:
        return data
    turned = _orientation(data)
    if 1 < turned < 9:
        block = _TURNED % turned
        pieces.insert(1, b"\xff\xe1" + (len(block) + 2).to_bytes(2) + block)
    return b"".join([*pieces, data[at:]])


def _orientation(data: bytes) -> int:
    from PIL import Image

    with Image.open(BytesIO(data), formats=("JPEG",)) as image:
        return int(image.getexif().get(0x0112, 1))
