"""Take the README's picture anew from the site as it is now.

    .venv/bin/python tools/pictures/take.py

Needs the environment of the tests (`python3 tools/start.py test` makes it) and a Chromium.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from urllib.parse import urlencode

from playwright.sync_api import Page, sync_playwright

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
PHONE = {"width": 390, "height": 844}

NUMBER = "BR-31152"
VEHICLE = "Corran Delver 2.4 2000-2003"
"""What came off, and the vehicle on which it is shown."""

PICTURE = HERE / "answer-phone.png"


def take(page: Page, address: str) -> None:
    """Look the number up as a technician would, choose the vehicle, and take the picture."""
    page.goto(f"{address}?{urlencode({'q': NUMBER})}")
    page.get_by_text(VEHICLE).first.click()
    page.get_by_text("TW-3061").first.wait_for()
    page.wait_for_load_state("networkidle")
    page.screenshot(path=str(PICTURE), animations="disabled")


def main() -> int:
    """Serve the book, take the picture, stop serving."""
    command = [sys.executable, "-m", "rangebook", "serve", "--root", str(ROOT), "--port", "0"]
    with tempfile.TemporaryFile() as log, subprocess.Popen(command, stdout=subprocess.PIPE, stderr=log, text=True) as server:
        try:
            assert server.stdout is not None
            said = server.stdout.readline()
            address = next((word for word in said.split() if word.startswith("http://")), None)
            if address is None:
                print("the book is not served: see what `rangebook serve` says", file=sys.stderr)
                return 1
            with sync_playwright() as playwright:
                browser = playwright.chromium.launch(
                    executable_path=os.environ.get("RANGEBOOK_CHROMIUM", "/usr/bin/chromium"),
                    args=["--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"],
                )
                take(browser.new_page(viewport=PHONE, device_scale_factor=1.5), address)
                browser.close()
        finally:
            server.terminate()
    print(f"{PICTURE.relative_to(ROOT)}: {PICTURE.stat().st_size // 1024} KiB")
    return 0


if __name__ == "__main__":
    sys.exit(main())
