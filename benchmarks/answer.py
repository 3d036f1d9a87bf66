"""How long the find page takes to answer what is typed, on a slowed machine. Writes a table in Markdown.

    .venv/bin/python benchmarks/answer.py                             # an invented book of 5,000 parts, the processor slowed four times
    .venv/bin/python benchmarks/answer.py --site FOLDER               # a site that was built before
    .venv/bin/python benchmarks/answer.py --families 100 --slower 1

*Shown* is the time from the key until the answer stands in the page, *painted* until the frame after that; both are of the browser's
own clock. A *last key* comes a quarter of a second after the one before it; what is *pasted* comes whole, into an empty box. A number's
first showing loads the file of its family from a server on this machine. *Longest task* is the longest (of 50 ms and more) that the
page kept the thumb waiting, from the key until all that is folded is there too.
"""

from __future__ import annotations

import argparse
import os
import random
import statistics
import sys
import tempfile
import threading
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from generate import generate, write
from rangebook.book.load import load
from rangebook.book.numbers import normalise
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.live.serve import listen

FLAGS = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)
PHONE = {"width": 390, "height": 844}

ASK = """text => new Promise(done => {
    const box = document.querySelector('#q');
    const place = document.querySelector('[data-find-answer]');
    const tasks = [];
    const watch = new PerformanceObserver(list => tasks.push(...list.getEntries().map(one => one.duration)));
    watch.observe({entryTypes: ['longtask']});
    const from = performance.now();
    const seen = new MutationObserver(() => {
        seen.disconnect();
        const shown = performance.now() - from;
        requestAnimationFrame(() => setTimeout(() => {
            const painted = performance.now() - from;
            setTimeout(() => { watch.disconnect(); done([shown, painted, Math.max(0, ...tasks)]); }, 120);
        }));
    });
    seen.observe(place, {childList: true});
    box.value = text;
    box.dispatchEvent(new Event('input', {bubbles: true}));
})"""
"""Type a text; when does its answer stand there, when is it painted, what was the longest task."""


PUT = "text => { const box = document.querySelector('#q'); box.value = text; box.dispatchEvent(new Event('input')); }"
"""Put a text into the box and wait for nothing."""


def measure(page: Page, texts: list[str], last_key: bool) -> list[tuple[float, float, float]]:
    """The three times of each text, in milliseconds, the box emptied between two."""
    found = []
    for text in texts:
        if last_key:
            page.evaluate(PUT, text[:-1])
            page.wait_for_timeout(250)
        found.append(tuple(page.evaluate(ASK, text)))
        page.evaluate(PUT, "")
        page.wait_for_timeout(30)
    return found


def texts_of(root: Path, count: int) -> dict[str, list[str]]:
    """What is typed: a kind in words -> texts drawn by a fixed seed from the book."""
    book, chance = load(root).book, random.Random(1)
    numbers = [part.number for part in chance.sample(book.parts, min(2 * count, len(book.parts)))]
    typed, pasted = numbers[: len(numbers) // 2], numbers[len(numbers) // 2 :]
    vehicles = sorted({one.vehicle for family in book.families.values() for one in family.applications})
    return {
        "a number, last key": typed,
        "a number, pasted": pasted,
        "the same again": pasted,
        "four characters of it": [normalise(number)[1:5] for number in typed],
        "a number that is not there, last key": [f"{number[:-1]}{'ZQ'[at % 2]}7" for at, number in enumerate(typed)],
        "a vehicle, last key": chance.sample(vehicles, min(count, len(vehicles))),
    }


def run(site: Path, texts: dict[str, list[str]], slower: float) -> list[str]:
    """The rows of the table."""
    server = listen(site, 0, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    rows = []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=os.environ.get("RANGEBOOK_CHROMIUM", "/usr/bin/chromium"), args=[*FLAGS])
        page = browser.new_page(viewport=PHONE)
        session = page.context.new_cdp_session(page)
        session.send("Emulation.setCPUThrottlingRate", {"rate": slower})
        page.goto(f"http://127.0.0.1:{server.server_port}/")
        page.wait_for_load_state("networkidle")
        page.wait_for_timeout(2000)
        for kind, asked in texts.items():
            times = measure(page, asked, kind.endswith("last key"))
            cells = []
            for column in zip(*times, strict=True):
                ordered = sorted(column)
                cells.append(f"{statistics.median(ordered):.0f} / {ordered[int(0.95 * (len(ordered) - 1))]:.0f}")
            rows.append(f"| {kind} | {len(times)} | {' | '.join(cells)} |")
        browser.close()
    server.shutdown()
    server.server_close()
    return rows


def main() -> int:
    """Measure as the command line says."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("--families", type=int, default=834, help="of six parts each (834)")
    parser.add_argument("--book", type=Path, help="a book that is there already, in place of an invented one")
    parser.add_argument("--site", type=Path, help="its site, built before")
    parser.add_argument("--slower", type=float, default=4, help="how many times the processor is slowed (4)")
    parser.add_argument("--count", type=int, default=40, help="how many texts of each kind")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        book = args.book or Path(folder) / "book"
        if args.book is None:
            write(generate(args.families), book)
        site = args.site or Path(folder) / "site"
        if args.site is None:
            build_site(checked(book), site)
        texts = texts_of(book, args.count)
        print(f"{len(load(book).book.parts)} parts, processor slowed {args.slower:g} times, milliseconds, median / 95th percentile")
        print("\n| typed | texts | shown | painted | longest task |\n| --- | ---: | ---: | ---: | ---: |")
        for row in run(site, texts, args.slower):
            print(row)
    return 0


if __name__ == "__main__":
    sys.exit(main())
