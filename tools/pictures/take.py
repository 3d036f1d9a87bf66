"""Take the documents' pictures anew from the site as it is now: of the README and of DEVELOPERS.md.

    .venv/bin/python tools/pictures/take.py

Needs the environment of the tests (`python3 tools/start.py test` makes it) and a Chromium.
"""

from __future__ import annotations

import io
import os
import sys
import tempfile
import threading
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlencode

from PIL import Image
from playwright.sync_api import Page, sync_playwright

from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.live.serve import listen

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
PHONE = {"width": 390, "height": 844}
DESK = {"width": 1280, "height": 900}

CAME_OFF, FITTED = "TB-11568", "TB-12415"
VEHICLE, SEAT = "Corran Delver 2.4 2003-2007", "tamblin-lever/nine-wire-TB11568"
"""What came off and what goes on in the pictures, and the vehicle with the address of its plug."""

_COLOURS = 128
"""Enough for flat surfaces and their lettering, at a third of the bytes."""


def answer(page: Page, address: str) -> None:
    """Look the number up as a technician would, and choose the vehicle."""
    page.goto(f"{address}?{urlencode({'q': CAME_OFF})}")
    page.get_by_text(VEHICLE).first.click()
    page.get_by_text("TW-9018").first.wait_for()


def lever(page: Page, address: str) -> None:
    """The meter on the start contact, the lever in R."""
    page.goto(f"{address}lever/?{urlencode({'part': FITTED, 'seat': SEAT, 'a': '1', 'b': '8', 'at': 'R'})}")
    page.get_by_text("The meter shows").first.wait_for()


def prove(page: Page, address: str) -> None:
    """Readings as one detent off gives them in the first line: closed in R and D."""
    page.goto(f"{address}prove/?{urlencode({'part': FITTED})}")
    boxes = page.locator(".reading[data-line='0'] .reading__box")
    for index, value in enumerate(["OL", "0.3", "OL", "0.3"]):
        boxes.nth(index).fill(value)
    page.wait_for_timeout(500)  # the page scrolls
    page.get_by_text("Lever in D", exact=True).first.evaluate("one => one.scrollIntoView({behavior: 'instant'})")


def compare(page: Page, address: str) -> None:
    """Both laid over each other on the vehicle's plug."""
    page.goto(f"{address}compare/?{urlencode({'a': CAME_OFF, 'b': FITTED})}")
    page.get_by_text(VEHICLE).first.click()
    page.get_by_text("Laid over each other").last.wait_for()


PICTURES: dict[str, tuple[Callable[[Page, str], None], dict[str, int], str]] = {
    "answer-phone": (answer, PHONE, "light"),
    "lever-phone": (lever, PHONE, "light"),
    "prove-phone": (prove, PHONE, "dark"),
    "compare-desk": (compare, DESK, "light"),
}
"""Name of the picture: what is done for it, on how large a window, in which colours."""


def write(name: str, png: bytes) -> None:
    """Keep a picture, in few colours."""
    path = HERE / f"{name}.png"
    Image.open(io.BytesIO(png)).convert("RGB").quantize(_COLOURS, dither=Image.Dither.NONE).save(path, optimize=True)
    print(f"{path.relative_to(ROOT)}: {path.stat().st_size // 1024} KiB")


def main() -> int:
    """Build the book's site, serve it, take the pictures."""
    with tempfile.TemporaryDirectory() as folder:
        build_site(checked(ROOT), Path(folder) / "site")
        server = listen(Path(folder) / "site", 0, 0)
        threading.Thread(target=server.serve_forever, daemon=True).start()
        address = f"http://127.0.0.1:{server.server_port}/"
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(
                executable_path=os.environ.get("RANGEBOOK_CHROMIUM", "/usr/bin/chromium"),
                args=["--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"],
            )
            for name, (do, window, colours) in PICTURES.items():
                scale = 1.5 if window is PHONE else 1
                page = browser.new_page(viewport=window, device_scale_factor=scale, color_scheme=colours, service_workers="block")
                do(page, address)
                page.wait_for_load_state("networkidle")
                write(name, page.screenshot(animations="disabled"))
                page.close()
            browser.close()
        server.shutdown()
    return 0


if __name__ == "__main__":
    sys.exit(main())
