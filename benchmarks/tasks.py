"""What twelve everyday tasks take on a phone: taps, how far down the first answer stands, what is loaded, and how long it takes. Writes a
table in Markdown.

    .venv/bin/python benchmarks/tasks.py                   # the demo book
    .venv/bin/python benchmarks/tasks.py --site FOLDER     # a site of it that was built before
    .venv/bin/python benchmarks/tasks.py --slower 1

Each task begins in a fresh browser on the find page, at 360 x 640 and at 390 x 844, the processor slowed four times. *Taps* are those and
what is typed or pasted, each once; *px* is how far below the top of the page the first answer ends (what is meant by that stands at each
task; the screen without the bar at the thumb is what can be seen without scrolling); *kB* is all that was loaded, as gzip (level 9) would
send it; *ms* is the browser's own time from the last tap or key until the answer is painted. A task that does not come to its answer is an
error.
"""

from __future__ import annotations

import argparse
import gzip
import os
import shutil
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import unquote, urlsplit

from playwright.sync_api import Browser, Locator, Page, Request, sync_playwright

from rangebook.book.load import load
from rangebook.book.model import Part
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import Verdict, VerdictKind
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.live.serve import listen

ROOT = Path(__file__).resolve().parents[1]
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking")
PHONES = ((360, 640), (390, 844))
ANSWER = ".choice--first .caution"
"""The last of what is needed first: part, verdict, kit and seal stand above the caution."""

UNTIL_PAINTED = """selector => new Promise((done, fail) => {
    setTimeout(() => fail(new Error(`never shown: ${selector}`)), 15000);
    const there = () => document.querySelector(selector)?.checkVisibility();
    const painted = () => requestAnimationFrame(() => setTimeout(() => done(performance.now())));
    if (there()) return painted();
    const seen = new MutationObserver(() => { if (there()) { seen.disconnect(); painted(); } });
    seen.observe(document, {childList: true, subtree: true, attributes: true});
})"""


LAST = """() => {
    const touched = () => { window.last = performance.now(); };
    addEventListener("click", touched, true);
    addEventListener("input", touched, true);
    addEventListener("change", touched, true);
}"""
"""On each page: when it was touched last."""


@dataclass
class Doing:
    """One task being done: its page, what was tapped, and what was loaded."""

    page: Page
    top: str
    taps: int = 0
    loaded: list[str] = field(default_factory=list)

    def came(self, request: Request) -> None:
        """Something that was asked for is there."""
        self.loaded.append(urlsplit(request.url).path)

    def weight(self, site: Path) -> float:
        """How much was loaded, in kB; the files are weighed in the site's own folder."""
        files = [site / unquote(path).lstrip("/") / ("index.html" if path.endswith("/") else "") for path in self.loaded]
        return sum(len(gzip.compress(file.read_bytes(), 9)) for file in files if file.is_file()) / 1000

    def tap(self, what: Locator) -> None:
        """Touch something that is there, wherever on the page it stands."""
        what.first.wait_for()
        self.taps += 1
        what.first.click()

    def put(self, what: str, text: str) -> None:
        """Touch a box and type or paste into it."""
        self.taps += 1
        self.page.locator(what).fill(text)

    def choose(self, what: Locator, index: int) -> None:
        """One of a list."""
        self.taps += 1
        what.select_option(index=index)


@dataclass(frozen=True)
class Task:
    """What is done, and where its first answer ends: at the last of ``shows``."""

    name: str
    do: Callable[[Doing], None]
    shows: str = ANSWER


def tasks_of(fitter: Fitter) -> list[Task]:
    """The twelve, with numbers and vehicles of the book."""
    book = fitter.book

    def best_of(seat: Seat) -> Verdict | None:
        return next((one for one in fitter.candidates(seat) if one.goes_on and one.part.status == "current"), None)

    one_plug = [part for part in book.parts if len(fitter.seats_taken_by(part)) == 1]

    def first(suits: Callable[[Seat, Verdict], bool], only: list[Part] = one_plug) -> tuple[Seat, Verdict, Part]:
        for part in only:
            for seat, _ in fitter.seats_taken_by(part):
                found = best_of(seat)
                if found and found.part.key != part.key and suits(seat, found):
                    return seat, found, part
        raise LookupError("the book has no such part")

    def pins(part: Part) -> int:
        return len(part.pins)

    kit_seat, _, kit_part = first(lambda seat, found: found.kind is VerdictKind.WITH_PARTS and bool(found.needs))
    _, _, fewer = first(lambda seat, found: bool(found.needs) and len(seat.plug.wires) < pins(found.part))
    _, _, more = first(lambda seat, found: pins(found.part) > pins(seat.original))
    alike_seat = next(seat for seat in fitter.seats if best_of(seat) and any(one.kind is VerdictKind.NO for one in fitter.candidates(seat)))
    shelf = [one.part.number for one in fitter.candidates(alike_seat) if one.kind is VerdictKind.NO][:1]
    shelf += [one.part.number for one in fitter.candidates(alike_seat) if one.goes_on][:1]
    keys = [one.key for one in (*book.parts, *book.kits.values())]
    worn = next(part for part in one_plug if best_of(fitter.seats_taken_by(part)[0][0]) and sum(part.key[:-1] in key for key in keys) == 1)
    gone = next(part for part in book.parts if part.status == "withdrawn")
    current = [part.number for part in book.parts if part.status == "current"][:5]
    kit = next(iter(book.kits.values()))
    slip = next(
        number for part in book.parts if (number := part.number) and "0" in number and part.status == "current" and " " not in number
    )
    order = "\n".join(
        [*(f"{at + 1} x {number}" for at, number in enumerate(current)), f"{slip.replace('0', 'O')} 2", "ZZ-99990 1", gone.number]
    )
    code = next(code for family in book.families.values() for code in family.trouble_codes)
    vehicle = kit_seat.applications[0]

    def ask(text: str) -> Callable[[Doing], None]:
        return lambda doing: doing.put("#q", text)

    def at_vehicle(doing: Doing) -> None:
        doing.put("#q", f"{vehicle.vehicle} {vehicle.first_year or ''}".strip())
        doing.page.locator("[data-find-answer] > * > *").first.wait_for()
        rows = doing.page.locator("[data-find-answer] a.row")
        if rows.count():
            doing.tap(rows)

    def two_on_the_shelf(doing: Doing) -> None:
        doing.tap(doing.page.locator("[data-menu] summary"))
        doing.tap(doing.page.get_by_role("link", name="My shelf", exact=True))
        doing.put("#shelf-list", "\n".join(shelf))
        doing.tap(doing.page.locator("[data-shelf-form] button[type=submit]"))
        doing.page.locator("[data-shelf-list] li").first.wait_for()
        doing.put("#shelf-vehicle", alike_seat.applications[0].vehicle)
        doing.page.locator("[data-shelf-answer] > *").first.wait_for()
        rows = doing.page.locator(f"[data-shelf-answer] a.row[href*='{alike_seat.family.id}']")
        if rows.count():
            doing.tap(rows)

    def sheet_and_label(doing: Doing) -> None:
        doing.put("#q", kit_part.number)
        doing.tap(doing.page.locator(".thumb a[href*='job/']"))
        doing.page.locator(".job svg.qr").first.wait_for()

    def several(doing: Doing) -> None:
        doing.tap(doing.page.locator("[data-menu] summary"))
        doing.tap(doing.page.get_by_role("link", name="Several at once", exact=True).first)
        doing.put("#several-list", order)
        doing.tap(doing.page.locator("[data-several-form] button[type=submit]"))
        doing.page.locator("[data-several-pick] li").first.wait_for()
        plugs = doing.page.locator(".several__plug")
        for at in range(plugs.count()):
            doing.choose(plugs.nth(at), 1)

    return [
        Task("a number", ask(kit_part.number)),
        Task("a vehicle", at_vehicle),
        Task("a worn number: all but its last sign", ask(worn.key[:-1])),
        Task("fewer wires than the new part has pins", ask(fewer.number)),
        Task("more pins than before", ask(more.number)),
        Task("a look-alike: what must not be fitted", ask(alike_seat.original.number), ".beware__one .badge, .row--answer"),
        Task("two on the shelf: which fits", two_on_the_shelf, "[data-on-shelf] .badge"),
        Task("torque and setting", ask(kit_part.number), ".set p"),
        Task("job sheet, with its code", sheet_and_label, ".job__fit"),
        Task("an order of eight", several, "[data-several-pick] li"),
        Task("a scanned label", ask(f"https://shop.example/book/?q={kit_part.number.replace(' ', '%20')}")),
        Task("a box's bar code, with its prefix", ask(f"1P{kit_part.number}")),
        Task("a trouble code", ask(code), "[data-find-answer] .box--unknown"),
        Task("a kit's number", ask(kit.number), "[data-find-answer] a.row"),
    ]


def perform(browser: Browser, site: Path, top: str, task: Task, size: tuple[int, int], slower: float) -> tuple[int, float, float, float]:
    """Taps, px, kB and ms of one task."""
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, service_workers="block", has_touch=True, is_mobile=True)
    page = context.new_page()
    doing = Doing(page, top)
    page.on("requestfinished", doing.came)
    session = context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": slower})
    page.add_init_script(f"({LAST})()")
    page.goto(top)
    page.wait_for_load_state("networkidle")

    task.do(doing)
    painted = page.evaluate(UNTIL_PAINTED, task.shows)
    last = page.evaluate("window.last ?? 0")
    box = page.locator(task.shows).first.bounding_box()
    scrolled = page.evaluate("scrollY")
    px = box["y"] + box["height"] + scrolled if box else float("nan")
    context.close()
    return doing.taps, px, doing.weight(site), painted - last


def main() -> int:
    """Measure as the command line says."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("--site", type=Path, help="the demo book's site, built before")
    parser.add_argument("--slower", type=float, default=4, help="how many times the processor is slowed (4)")
    args = parser.parse_args()
    fitter = Fitter(load(ROOT).book)
    with tempfile.TemporaryDirectory() as folder:
        site = args.site or Path(folder) / "site"
        if args.site is None:
            build_site(checked(ROOT), site)
        server = listen(site, 0, 0)
        threading.Thread(target=server.serve_forever, daemon=True).start()
        heads = " | ".join(f"{wide} x {high}: px | ms" for wide, high in PHONES)
        print(f"| task | taps | kB | {heads} |\n| --- | ---: | ---: |{' ---: | ---: |' * len(PHONES)}")
        with sync_playwright() as playwright:
            program = os.environ.get("RANGEBOOK_CHROMIUM") or shutil.which("chromium-headless-shell") or "/usr/bin/chromium"
            browser = playwright.chromium.launch(executable_path=program, args=[*FLAGS])
            for task in tasks_of(fitter):
                found = [perform(browser, site, f"http://127.0.0.1:{server.server_port}/", task, size, args.slower) for size in PHONES]
                cells = " | ".join(f"{px:.0f} | {ms:.0f}" for _, px, _, ms in found)
                print(f"| {task.name} | {found[0][0]} | {found[0][2]:.0f} | {cells} |", flush=True)
                time.sleep(0.1)
            browser.close()
        server.shutdown()
        server.server_close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
