"""Draw the pictures of the demo book: invented housings, as a camera on a bench would see them.

    .venv/bin/python tools/pictures/draw_housings.py

They are drawings, and the entries say so: no such part was ever made. What has to agree with the entries (outline, rows, which cavities
carry a pin) is taken from them.
"""

from __future__ import annotations

import random
from pathlib import Path

from PIL import Image, ImageDraw, ImageFilter

from rangebook.book.load import load
from rangebook.book.model import Connector

ROOT = Path(__file__).resolve().parents[2]
SIZE = (1200, 900)
FINER = 2
"""Drawn so much larger and made smaller again, for smooth edges."""

BENCH, SHADE = (150, 138, 120), (96, 86, 72)
BODY, LIGHT, DARK = (44, 47, 52), (82, 86, 92), (20, 22, 25)
METAL = (196, 170, 104)


def bench(seed: int) -> Image.Image:
    """A worn bench top."""
    chance = random.Random(seed)
    image = Image.new("RGB", tuple(FINER * side for side in SIZE), BENCH)
    draw = ImageDraw.Draw(image)
    for _ in range(240):
        y = chance.randrange(image.height)
        tone = chance.randint(-10, 10)
        draw.line([(0, y), (image.width, y + chance.randint(-8, 8))], fill=tuple(part + tone for part in BENCH), width=chance.randint(1, 9))
    return image.filter(ImageFilter.GaussianBlur(3))


def housing(image: Image.Image, connector: Connector, pins: set[str], middle: tuple[int, int], width: int) -> None:
    """A connector looked into, latch up."""
    draw = ImageDraw.Draw(image)
    columns, lines = max(map(len, connector.rows)), len(connector.rows)
    cell = width // (columns + 2)
    w, h = cell * (columns + 1), int(cell * (lines + 1.1))
    x, y = middle[0] - w // 2, middle[1] - h // 2
    radius = h // 2 if connector.outline in ("oval", "round") else cell // 4
    shadow = Image.new("L", image.size)
    ImageDraw.Draw(shadow).rounded_rectangle([x + 24, y + 34, x + w + 44, y + h + 54], radius, fill=150)
    image.paste(SHADE, mask=shadow.filter(ImageFilter.GaussianBlur(24)))
    draw.rounded_rectangle([middle[0] - cell, y - cell // 2, middle[0] + cell, y + cell // 2], cell // 6, fill=BODY, outline=LIGHT, width=5)
    draw.rounded_rectangle([x, y, x + w, y + h], radius, fill=BODY, outline=LIGHT, width=8)
    draw.rounded_rectangle([x + 24, y + 24, x + w - 24, y + h - 24], max(6, radius - 24), fill=DARK, outline=LIGHT, width=4)
    for line, row in enumerate(connector.rows):
        for column, label in enumerate(row):
            if label is None:
                continue
            left = int(middle[0] + (column - len(row) / 2) * cell * 0.94 + cell * 0.08)
            top = int(middle[1] + (line - lines / 2) * cell * 0.98 + cell * 0.1)
            side = int(cell * 0.78)
            draw.rounded_rectangle([left, top, left + side, top + side], 8, fill=(30, 32, 36), outline=(66, 70, 76), width=4)
            if label in pins:
                draw.rectangle(
                    [left + side // 4, top + side * 2 // 5, left + side * 3 // 4, top + side * 3 // 5],
                    fill=METAL,
                    outline=(240, 222, 170),
                    width=3,
                )


def body(image: Image.Image, arm: bool) -> None:
    """What hangs on the connector: the switch's flat body with its shaft hole and two ears."""
    draw = ImageDraw.Draw(image)
    w, h = image.size
    draw.ellipse([w * 0.30, h * 0.44, w * 0.70, h * 0.97], fill=BODY, outline=LIGHT, width=8)
    for x in (0.24, 0.70):
        draw.ellipse([w * x, h * 0.62, w * (x + 0.07), h * 0.62 + w * 0.07], fill=BODY, outline=LIGHT, width=8)
        draw.ellipse([w * (x + 0.02), h * 0.62 + w * 0.02, w * (x + 0.05), h * 0.62 + w * 0.05], fill=BENCH, outline=DARK, width=5)
    draw.ellipse([w * 0.44, h * 0.62, w * 0.56, h * 0.62 + w * 0.12], fill=LIGHT, outline=DARK, width=6)
    draw.rounded_rectangle([w * 0.475, h * 0.645, w * 0.525, h * 0.645 + w * 0.085], 20, fill=DARK)
    if arm:
        draw.polygon(
            [(w * 0.50, h * 0.68), (w * 0.12, h * 0.52), (w * 0.10, h * 0.58), (w * 0.49, h * 0.76)], fill=(120, 124, 130), outline=DARK
        )


def bag(image: Image.Image) -> None:
    """A clear bag with three grey seals and two blanking plugs in it."""
    draw = ImageDraw.Draw(image, "RGBA")
    w, h = image.size
    draw.rectangle([w * 0.08, h * 0.10, w * 0.92, h * 0.94], fill=(255, 255, 255, 70), outline=(255, 255, 255, 160), width=6)
    for at, holes in enumerate((6, 7, 8)):
        x, y = w * (0.14 + 0.26 * at), h * 0.66
        draw.rounded_rectangle([x, y, x + w * 0.2, y + h * 0.16], 40, fill=(128, 134, 140, 255), outline=(70, 74, 80, 255), width=5)
        for hole in range(holes):
            cx, cy = x + w * 0.025 + (hole % 4) * w * 0.043, y + h * (0.03 + 0.06 * (hole // 4))
            draw.ellipse([cx, cy, cx + w * 0.02, cy + w * 0.02], fill=(40, 42, 46, 255))
    for x in (0.30, 0.56):
        draw.rounded_rectangle([w * x, h * 0.86, w * (x + 0.10), h * 0.90], 20, fill=(200, 60, 50, 255))


def keep(image: Image.Image, path: str) -> None:
    """In its place, as a camera's file."""
    place = ROOT / path
    place.parent.mkdir(parents=True, exist_ok=True)
    image.resize(SIZE, Image.Resampling.LANCZOS).filter(ImageFilter.GaussianBlur(0.6)).save(place, "JPEG", quality=70, optimize=True)
    print(path, place.stat().st_size)


def main() -> None:
    """All of them."""
    book = load(ROOT).book
    wide = FINER * SIZE[0]
    for number, path, arm in (
        ("TB-12415", "switches/photos/tamblin-lever/tb-12415.jpg", True),
        ("TB-10263", "switches/photos/tamblin-lever/tb-10263.jpg", False),
    ):
        part = book.part(number)
        assert part is not None and part.connector is not None
        columns = max(map(len, book.connectors[part.connector].rows)) + 2
        image = bench(len(part.pins or ()))
        body(image, arm)
        housing(image, book.connectors[part.connector], set(part.pins or ()), (wide // 2, FINER * 240), columns * FINER * 88)
        keep(image, f"entries/{path}")
    for name in ("ring-16", "wedge-14"):
        connector = book.connectors[name]
        image = bench(len(name))
        housing(image, connector, set(connector.cavities), (wide // 2, FINER * 450), FINER * 1000)
        keep(image, f"entries/connectors/photos/{name}/face.jpg")
    image = bench(3)
    housing(image, book.connectors["wedge-14"], set(), (wide // 2, FINER * 320), FINER * 560)
    bag(image)
    keep(image, "entries/kits/photos/oval-13-renewal/bag.jpg")


if __name__ == "__main__":
    main()
