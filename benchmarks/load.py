"""What a phone has to load. Writes a table in Markdown.

    .venv/bin/python benchmarks/load.py                       # the demo book
    .venv/bin/python benchmarks/load.py --families 100 834    # and invented books of that size

Each page is opened in a fresh browser, and everything that it asks for until it rests is weighed as gzip (level 9) would send it; what the
service worker fetches afterwards for the time without a connection is not in it, but told below. Pages are told as what they need of
themselves, plus what of the indexes, and in brackets how many files: the first must not grow with the book.
"""

from __future__ import annotations

import argparse
import gzip
import json
import os
import sys
import tempfile
import threading
from pathlib import Path
from urllib.parse import quote

from playwright.sync_api import Browser, Request, sync_playwright

from generate import generate, write
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.live.serve import listen

ROOT = Path(__file__).resolve().parents[1]
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking")


PAGES = {
    "find page": "",
    "an answer": "?q={number}",
    "a family": "switches/{family}/",
    "proof": "prove/?part={number}",
    "lever": "lever/?part={number}",
    "compare": "compare/?a={number}",
    "bin label": "label/?part={number}",
    "identify": "identify/",
    "write": "write/",
    "several": "several/",
    "what is missing": "worklists/",
    "what changed": "history/",
    "all numbers": "numbers/",
    "vehicles": "vehicles/",
    "gearboxes": "gearboxes/",
    "handbook": "handbook/",
}
INDEXES = ("data/numbers.json", "data/names.json", "data/identify.json", "data/write.json", "search/search_index.json")
"""What grows with the book because it says what is in it: the files that some page loads whole."""


def weigh(browser: Browser, address: str) -> tuple[int, int, int]:
    """How many files a page asks for, their bytes as gzip would send them, and how many of these are of the indexes."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, service_workers="block")
    page = context.new_page()
    sizes: list[tuple[bool, int]] = []

    def weighed(request: Request) -> None:
        of_indexes = any(request.url.endswith(f"/{name}") for name in INDEXES)
        sizes.append((of_indexes, len(gzip.compress(request.response().body(), 9))))

    page.on("requestfinished", weighed)
    page.goto(address)
    page.wait_for_load_state("networkidle")
    context.close()
    return len(sizes), sum(size for _, size in sizes), sum(size for of_indexes, size in sizes if of_indexes)


def measure(browser: Browser, site: Path, name: str) -> list[str]:
    """One book's column of the table."""
    indexes = {name: len(gzip.compress((site / name).read_bytes(), 9)) for name in INDEXES}
    families = json.loads((site / "data" / "numbers.json").read_bytes())["families"]
    parts = sum(len(numbers) for _, _, numbers, _ in families)
    number, family = families[0][2][0], families[0][0]
    server = listen(site, 0, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    base = f"http://127.0.0.1:{server.server_port}/"
    cells = []
    for address in PAGES.values():
        files, size, of_indexes = weigh(browser, base + address.format(number=quote(number), family=family))
        cells.append(f"{(size - of_indexes) / 1000:.1f} + {of_indexes / 1000:.1f} kB ({files})")
    server.shutdown()
    server.server_close()
    listed = len(gzip.compress((site / "offline.json").read_bytes(), 9))
    kept = sum(size for *_, size in json.loads((site / "offline.json").read_bytes())["keep"])
    cells += [f"{size / 1000:.1f} kB" for size in indexes.values()]
    return [name, f"{parts:,}", *cells, f"{listed / 1000:.1f} kB", f"{kept / 1e6:.1f} MB"]


def main() -> int:
    """Build each book, and weigh its pages."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--families", nargs="*", type=int, default=[], help="sizes of invented books to weigh too")
    asked = parser.parse_args()
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as made:
        browser = playwright.chromium.launch(executable_path=os.environ.get("RANGEBOOK_CHROMIUM", "/usr/bin/chromium"), args=[*FLAGS])
        build_site(checked(ROOT), Path(made) / "demo")
        columns = [measure(browser, Path(made) / "demo", "demo")]
        for families in asked.families:
            book, site = Path(made) / f"book-{families}", Path(made) / f"site-{families}"
            write(generate(families), book)
            build_site(checked(book), site)
            columns.append(measure(browser, site, f"{families:,} families"))
        browser.close()
    heads = ["", "parts", *PAGES, *INDEXES, "offline.json", "kept for the time without a connection"]
    for at, line in enumerate(zip(heads, *columns, strict=True)):
        print(f"| {' | '.join(line)} |")
        if not at:
            print(f"| --- |{' ---: |' * len(columns)}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
