"""The book's mark as pictures for a phone's home screen, drawn here: a lever gate with its knob, as in ``client/mark.svg``."""

from __future__ import annotations

import io
from collections.abc import Mapping
from functools import lru_cache

from PIL import Image, ImageDraw

from rangebook.schema.settings import COLOURS

GATE = "#ffffff"
_UNITS = 32
_FINER = 4

ICONS = (("book/icon-192.png", 192, "any"), ("book/icon-512.png", 512, "any"), ("book/icon-maskable-512.png", 512, "maskable"))
"""Address, side in pixels and purpose of each icon of the web app manifest."""

TOUCH_ICON = ("book/icon-180.png", 180)
"""For systems that do not go by the manifest: they round the corners themselves."""


@lru_cache(maxsize=64)
def icon(side: int, bar: str, accent: str, purpose: str = "any") -> bytes:
    """The mark as PNG, ``side`` pixels wide. ``any`` has round corners on nothing; ``maskable`` fills the square, with what matters
    within the middle four fifths (W3C, Web Application Manifest, maskable icons: from memory)."""
    fine = side * _FINER
    picture = Image.new("RGBA", (fine, fine), (0, 0, 0, 0))
    draw = ImageDraw.Draw(picture)
    scale = fine / _UNITS
    if purpose == "any":
        draw.rounded_rectangle((0, 0, fine - 1, fine - 1), radius=7 * scale, fill=bar)
        shrink = 1.0
    else:
        draw.rectangle((0, 0, fine, fine), fill=bar)
        shrink = 0.8

    def place(x: float, y: float) -> tuple[float, float]:
        middle = _UNITS / 2
        return (middle + (x - middle) * shrink) * scale, (middle + (y - middle) * shrink) * scale

    draw.rectangle((*place(4, 14.5), *place(28, 17.5)), fill=GATE)
    for x in (7, 25):
        draw.rectangle((*place(x - 1.75, 10), *place(x + 1.75, 22)), fill=GATE)
    draw.ellipse((*place(9.5, 9.5), *place(22.5, 22.5)), fill=accent)
    written = io.BytesIO()
    picture.resize((side, side), Image.Resampling.LANCZOS).save(written, "PNG", optimize=True)
    return written.getvalue()


def icon_files(colours: Mapping[str, str] = COLOURS) -> dict[str, bytes]:
    """Address -> bytes of every icon."""
    bar, accent = colours["bar"], colours["accent"]
    found = {address: icon(side, bar, accent, purpose) for address, side, purpose in ICONS}
    found[TOUCH_ICON[0]] = icon(TOUCH_ICON[1], bar, accent, "maskable")
    return found
