"""How soon something is seen on a phone: the largest paint of the pages that are opened most, and the answer after each key. Writes two
tables in Markdown.

    .venv/bin/python benchmarks/paint.py                   # the demo book
    .venv/bin/python benchmarks/paint.py --site FOLDER     # a site of it that was built before

The largest paint is measured in a fresh browser at 412 x 823, the processor slowed four times, each request 150 ms away and 1.6 Mbit/s
for all together: what Lighthouse reckons its phone with ("slow 4G", from memory), here not reckoned but applied by the browser itself.
Files are sent as gzip, as `tools/hosting/nginx.conf` has them. *Key to painted* is the browser's own time from the event of a key, or of
something pasted, until the answer to it is painted, on the find page at 360 x 640, slowed four times.
"""

from __future__ import annotations

import argparse
import gzip
import http.server
import os
import shutil
import statistics
import sys
import tempfile
import threading
from functools import partial
from pathlib import Path
from typing import Any
from urllib.parse import quote

from playwright.sync_api import Browser, sync_playwright

from rangebook.book.load import load
from rangebook.fitting.fitter import Fitter
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.shared import urls
from tasks import FLAGS

ROOT = Path(__file__).resolve().parents[1]
RTT_MS, DOWN = 150, 1_600_000 / 8
TURNS = 3

LARGEST = """() => new Promise((done) => {
    let last = 0;
    const look = new PerformanceObserver((list) => { for (const one of list.getEntries()) last = one.startTime; });
    look.observe({type: "largest-contentful-paint", buffered: true});
    setTimeout(() => done(last), 1500);
})"""

KEYS = """() => {
    window.took = [];
    const place = document.querySelector("[data-find-answer]");
    document.querySelector("#q").addEventListener("input", (event) => {
        const seen = new MutationObserver(() => {
            seen.disconnect();
            requestAnimationFrame(() => setTimeout(() => window.took.push(performance.now() - event.timeStamp)));
        });
        seen.observe(place, {childList: true, subtree: true});
    }, true);
}"""


class Zipped(http.server.SimpleHTTPRequestHandler):
    """Text as gzip, all as HTTP/1.1."""

    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        """One file."""
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        if not path.is_file():
            self.send_error(404)
            return
        kind, data = self.guess_type(str(path)), path.read_bytes()
        small = kind.startswith(("text/", "application/")) or kind.endswith("xml")
        body = gzip.compress(data, 6) if small else data
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        if small:
            self.send_header("Content-Encoding", "gzip")
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *words: Any) -> None:
        """Nothing."""


def largest(browser: Browser, address: str) -> float:
    """The largest paint in ms."""
    context = browser.new_context(viewport={"width": 412, "height": 823}, service_workers="block", has_touch=True, is_mobile=True)
    page = context.new_page()
    session = context.new_cdp_session(page)
    session.send("Network.enable")
    session.send(
        "Network.emulateNetworkConditions", {"offline": False, "latency": RTT_MS, "downloadThroughput": DOWN, "uploadThroughput": DOWN}
    )
    session.send("Emulation.setCPUThrottlingRate", {"rate": 4})
    page.goto(address)
    found: float = page.evaluate(LARGEST)
    context.close()
    return found


def keys(browser: Browser, top: str, texts: list[str]) -> tuple[list[float], list[float]]:
    """Milliseconds from each key, and from each text that is pasted, until its answer is painted."""
    context = browser.new_context(viewport={"width": 360, "height": 640}, service_workers="block", has_touch=True, is_mobile=True)
    page = context.new_page()
    page.goto(top)
    page.wait_for_load_state("networkidle")
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
    page.evaluate(KEYS)
    found: list[list[float]] = []
    for pasted in (False, True):
        page.evaluate("window.took = []")
        for text in texts:
            page.locator("#q").fill("")
            page.wait_for_timeout(150)
            for piece in (text,) if pasted else text:
                page.locator("#q").focus()
                page.keyboard.insert_text(piece)
                page.wait_for_timeout(150)
        found.append(page.evaluate("window.took"))
    context.close()
    return found[0], found[1]


def main() -> int:
    """Measure as the command line says."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("--site", type=Path, help="the demo book's site, built before")
    args = parser.parse_args()
    book = load(ROOT).book
    seat = next(seat for seat in Fitter(book).seats if seat.original.status == "superseded")
    family = max(book.families.values(), key=lambda one: (len(one.parts), len(one.plugs)))
    part = family.parts[0]
    texts = [
        part.number,
        seat.applications[0].vehicle,
        seat.original.number,
        f"https://shop.example/book/?q={part.number}",
        "P0705",
        "inhibitor",
    ]
    pages = {
        "find": "",
        "an answer": f"?q={quote(seat.original.number)}&seat={quote(urls.seat_key(seat))}",
        "a part": urls.part_url(part),
        "the largest family": urls.family_url(family.id),
    }
    with tempfile.TemporaryDirectory() as folder:
        site = args.site or Path(folder) / "site"
        if args.site is None:
            build_site(checked(ROOT), site)
        server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), partial(Zipped, directory=str(site)))
        threading.Thread(target=server.serve_forever, daemon=True).start()
        top = f"http://127.0.0.1:{server.server_port}/"
        with sync_playwright() as playwright:
            program = os.environ.get("RANGEBOOK_CHROMIUM") or shutil.which("chromium-headless-shell") or "/usr/bin/chromium"
            browser = playwright.chromium.launch(executable_path=program, args=[*FLAGS])
            print("| page | largest paint, s |\n| --- | ---: |")
            for name, url in pages.items():
                print(f"| {name} | {statistics.median(largest(browser, top + url) for _ in range(TURNS)) / 1000:.2f} |", flush=True)
            print("\n| key to painted | events | median, ms | p95, ms |\n| --- | ---: | ---: | ---: |")
            for name, took in zip(("typed", "pasted"), keys(browser, top, texts * 2), strict=True):
                print(
                    f"| {name} | {len(took)} | {statistics.median(took):.0f} | {sorted(took)[int(len(took) * 0.95) - 1]:.0f} |", flush=True
                )
            browser.close()
        server.shutdown()
        server.server_close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
