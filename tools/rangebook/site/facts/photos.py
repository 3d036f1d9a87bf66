"""Pictures for the site: upright, in two sizes, and with nothing in them but what is to be seen.

A phone writes into a picture where and when it was taken and by which device. Nothing of that is taken over: each picture is drawn
anew from its pixels. The same picture gives the same bytes, so that two builds of a book are alike.

To draw one takes longer than all its pages, so what was drawn is kept between runs, by the bytes of the picture.
"""

from __future__ import annotations

import base64
import hashlib
import io
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import PIL
from PIL import Image, ImageOps

from rangebook.book.model import Family, Photo
from rangebook.reading.entry import Entry
from rangebook.reading.photos import FORMATS, photo_path
from rangebook.reading.stack import home_of
from rangebook.site.facts.computed import Computed
from rangebook.store.errors import DamagedError
from rangebook.store.ledger import Ledger, Thing, using

PHONE_PX = 480
DESK_PX = 1280
QUALITY = 72

OFFLINE_BYTES = 25_000_000
"""Of the pictures so much is offered to be kept for the time without signal: first all in phone size, then those for fine screens."""

PHOTOS_URL = "data/photos.json"

_DRAWN = f"pictures 1 {PIL.__version__} {PHONE_PX} {DESK_PX} {QUALITY}"
"""What the bytes of a picture that was drawn go by, beside those of the one that it was drawn from."""

_MOST_KEPT = 1_000
"""With more than so many, of all books, none are kept any longer."""


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture in one size: its address is made of its bytes, so it never changes what it shows."""

    url: str
    width: int
    height: int
    data: bytes


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture as a page shows it, the smaller size first. ``view`` may be empty; ``shows`` never is."""

    sizes: tuple[Picture, ...]
    view: str
    shows: str


def shown(computed: Computed, entry: Entry, photos: Iterable[Photo]) -> list[Shown]:
    """The pictures of an entry, or of a part in it, those that are there."""
    there = computed.loaded.photos or {}
    found = []
    for photo in photos:
        path = photo_path(entry.file, photo.file)
        if path in there:
            place = home_of(computed.loaded.root, path) / path
            found.append(Shown(sizes(place, place.stat().st_mtime_ns), photo.view or "", photo.shows))
    return found


@lru_cache(maxsize=2_000)
def sizes(place: Path, written: int) -> tuple[Picture, ...]:  # noqa: ARG001 - part of what the result is kept by
    """A picture in phone and desktop size; in one only where it is no wider than a phone. ``written`` tells a new file from an old."""
    data = place.read_bytes()
    name = hashlib.sha256(data).hexdigest()
    return using(_DRAWN, lambda ledger: _kept(ledger, name)) or _drawn_and_kept(name, data)


def _kept(ledger: Ledger, name: str) -> tuple[Picture, ...] | None:
    card = ledger.cards(names=[name]).get(name)
    try:
        return None if card is None else tuple(_told(width, height, base64.b64decode(text)) for width, height, text in json.loads(card))
    except (TypeError, ValueError) as error:
        raise DamagedError(name) from error


def _drawn_and_kept(name: str, data: bytes) -> tuple[Picture, ...]:
    drawn = _drawn(data)
    card = json.dumps([[one.width, one.height, base64.b64encode(one.data).decode()] for one in drawn])

    def keep(ledger: Ledger) -> None:
        if ledger.count() >= _MOST_KEPT:
            ledger.clear()
        ledger.put([Thing(name, "", None, 0, "", card, frozenset(), frozenset(), frozenset())])
        ledger.write()

    using(_DRAWN, keep)
    return drawn


def _drawn(data: bytes) -> tuple[Picture, ...]:
    with Image.open(io.BytesIO(data), formats=FORMATS) as stored:
        upright = ImageOps.exif_transpose(_smaller(stored))
        # Pixels alone go over: no notes, no colour profile, no thumbnail. What can be seen through stands on white.
        bare = Image.new("RGB", upright.size, "white")
        bare.paste(upright.convert("RGBA"), mask=upright.convert("RGBA").getchannel("A"))
    widths = dict.fromkeys(min(width, bare.width) for width in (PHONE_PX, DESK_PX))
    return tuple(_picture(bare, width) for width in widths)


def _smaller(stored: Image.Image) -> Image.Image:
    """The same picture with few enough pixels to be copied about: one of 50 million would take a gigabyte. No side that was longer gets
    shorter than :data:`DESK_PX`."""
    stored.draft("RGB", (DESK_PX, DESK_PX))  # a JPEG is not even read at full size
    factor = min(stored.size) // DESK_PX
    if factor < 2:
        return stored
    plain = stored if stored.mode in ("L", "RGB", "RGBA") else stored.convert("RGBA")
    small = plain.reduce(factor)
    small.info.update(stored.info)  # which way up it is
    return small


def _picture(bare: Image.Image, width: int) -> Picture:
    height = max(1, round(bare.height * width / bare.width))
    sized = bare if width == bare.width else bare.resize((width, height), Image.Resampling.LANCZOS, reducing_gap=3.0)
    written = io.BytesIO()
    sized.save(written, "WEBP", quality=QUALITY, method=4)
    return _told(width, height, written.getvalue())


def _told(width: int, height: int, data: bytes) -> Picture:
    return Picture(f"photos/{hashlib.sha256(data).hexdigest()[:20]}.webp", width, height, data)


def all_pictures(computed: Computed) -> Iterator[Shown]:
    """Every picture of the book, families first."""
    book = computed.book
    for one in book.items:
        yield from shown(computed, one.entry, one.photos)
        for part in one.parts if isinstance(one, Family) else ():
            yield from shown(computed, one.entry, part.photos)


def picture_files(computed: Computed) -> dict[str, bytes]:
    """Address -> bytes of every picture, in every size."""
    return {picture.url: picture.data for one in all_pictures(computed) for picture in one.sizes}


def offline(computed: Computed) -> dict[str, Any]:
    """What may be kept for the time without signal: ``budget`` in bytes, and ``files``, ``[address, bytes]`` of those that
    go into it; ``left_out`` is how many do not."""
    kept: dict[str, int] = {}
    left_out: set[str] = set()
    total = 0
    every = list(all_pictures(computed))
    # A screen with fine pixels takes the larger size, and has no other when the signal is gone; but each in one size comes first.
    for picture in (*(one.sizes[0] for one in every), *(size for one in every for size in one.sizes[1:])):
        if picture.url in kept:
            continue
        if total + len(picture.data) > OFFLINE_BYTES:
            left_out.add(picture.url)
            continue
        kept[picture.url] = len(picture.data)
        total += len(picture.data)
    return {
        "edition": computed.edition.mark,
        "budget": OFFLINE_BYTES,
        "files": [[*item] for item in kept.items()],
        "left_out": len(left_out),
    }
