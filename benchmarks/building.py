"""`rangebook build` beside a bare Material build of as many pages with the same prose and the same tables. Writes a table in Markdown.

    .venv/bin/python benchmarks/building.py                                                  # 100 and 200 families, both builds
    .venv/bin/python benchmarks/building.py --families 1000 5000 --bare 1000 --repeat 1      # the bare one at 1,000 only: it takes long

The bare site is what anyone would have who wrote the same by hand: for each page that ours writes a Markdown file at the same address,
with its title as the heading, the same prose (an entry's, or a page of the handbook's), each table of our page as a pipe table under
its caption or heading, and for what our page of a family says of each part on each plug (verdict, orders, moves, every reason) the
interchange table, as our CSV has it, a pipe table for each plug; Material with a `mkdocs.yml` of two lines, so with its own search and
its own navigation of all pages (no `nav:`). It has none of our drawings, sources, links in tables, data for the browser and for other
programs, QR codes, or what a device needs to keep the book; nor is anything in it computed, checked or linted. So it is asked for less.

Each build is a process of its own, Python's start included, turn about; of the runs the quickest counts. *CPU* is of all its processes.
The ratio is of wall times. The growth exponent is between the smallest and the largest book, by families: 1 is growth in step with the
book. Let the machine rest meanwhile.
"""

from __future__ import annotations

import argparse
import math
import os
import platform
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from lxml import html

from generate import generate, write
from rangebook.book.load import load
from rangebook.site.api import table
from rangebook.site.facts.computed import Computed
from rangebook.site.pages.every import every_page

OURS, BARE = "ours", "bare"


@dataclass(frozen=True)
class Ran:
    """One build: wall seconds, processor seconds of all its processes, peak of memory of the largest one in MiB."""

    wall: float
    cpu: float
    peak: float


def ran(command: list[str], folder: Path) -> Ran:
    """Run a build to its end. Raises ``SystemExit`` where it fails."""
    with tempfile.TemporaryFile() as said:
        start = time.perf_counter()
        process = subprocess.Popen(command, cwd=folder, stdout=said, stderr=subprocess.STDOUT)
        _, status, used = os.wait4(process.pid, 0)
        wall = time.perf_counter() - start
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            said.seek(0)
            raise SystemExit(f"{' '.join(command)} ended with {process.returncode}:\n{said.read().decode()[-2000:]}")
    return Ran(wall, used.ru_utime + used.ru_stime, used.ru_maxrss / (1024 if sys.platform != "darwin" else 1024 * 1024))


def write_bare(root: Path, site: Path, bare: Path) -> None:
    """The bare site's sources, from the book in ``root`` and our finished ``site``."""
    computed = Computed(load(root))
    for page in every_page(computed):
        built = (site / page.url / "index.html").read_bytes()
        # What a page of ours shows in tables of its own. Those in prose are in its Markdown already.
        tables = pipe_tables(built) if page.template else []
        if page.source.startswith("switches/"):
            tables += interchange(computed, page.source.removeprefix("switches/").removesuffix(".md"))
        path = bare / "docs" / page.source
        path.parent.mkdir(parents=True, exist_ok=True)
        head = "" if page.markdown.lstrip().startswith("# ") else f"# {page.title}\n\n"
        path.write_text(head + "\n\n".join(["\n\n".join(tables), page.markdown]).strip() + "\n", "utf-8")
    (bare / "mkdocs.yml").write_text("site_name: Bare\ntheme: material\n", "utf-8")


def pipe_tables(page: bytes) -> list[str]:
    """Each table of a page as a Markdown pipe table, below its caption or the nearest heading before it."""
    found: list[str] = []
    heading = ""
    for element in html.fromstring(page.decode()).iter("h2", "h3", "h4", "table"):
        if element.tag != "table":
            heading = _words(element)
            continue
        caption = element.find("caption")
        rows = [[_words(cell) for cell in row.iter("th", "td")] for row in element.iter("tr")]
        columns = max(map(len, rows), default=0)
        if not columns:
            continue
        below = [heading] + ([_words(caption)] if caption is not None else [])
        found.append(_table(": ".join(filter(None, below)), [row + [""] * (columns - len(row)) for row in rows]))
    return found


def interchange(computed: Computed, family: str) -> list[str]:
    """The candidates on each plug of a family as pipe tables: what our page shows as a list of offers."""
    found = []
    for seat in computed.seats_by_family.get(family, ()):
        rows = list(table.rows(computed, [seat]))
        # What is the same in every line of one plug says the heading.
        kept = [at for at, name in enumerate(table.HEAD) if name not in ("family", "seat", "plug", "came_with", "vehicles")]
        lines = [[_plain(str(row[at])) for at in kept] for row in (table.HEAD, *rows)]
        found.append(_table(f"Built with {seat.original.number}, plug {seat.plug.name}", lines))
    return found


def _table(heading: str, rows: list[list[str]]) -> str:
    lines = [rows[0], ["---"] * len(rows[0]), *rows[1:]]
    return f"## {heading}\n\n" + "\n".join(f"| {' | '.join(line)} |" for line in lines)


def _words(element: html.HtmlElement) -> str:
    return _plain(" ".join(element.itertext()))


def _plain(text: str) -> str:
    return re.sub(r"([\\|*_`<\[\]])", r"\\\1", " ".join(text.split()))


def weight(site: Path) -> tuple[int, int]:
    """How many pages a site has, and its bytes."""
    files = [path for path in site.rglob("*") if path.is_file()]
    return sum(path.name == "index.html" for path in files), sum(path.stat().st_size for path in files)


def growth(seconds: dict[int, float]) -> str:
    """The slope between the smallest and the largest book on logarithmic paper."""
    if len(seconds) < 2:
        return "-"
    small, large = min(seconds), max(seconds)
    return f"{math.log(seconds[large] / seconds[small]) / math.log(large / small):.2f} ({small:,} to {large:,})"


def measured(sizes: list[int], bare_sizes: list[int], repeat: int) -> Iterator[str]:
    """The lines of the table."""
    wall: dict[str, dict[int, float]] = {OURS: {}, BARE: {}}
    cpu: dict[str, dict[int, float]] = {OURS: {}, BARE: {}}
    yield "| families | pages | bare, s (CPU) | ours, s (CPU) | ratio | bare, MB | ours, MB | bare, peak MiB | ours, peak MiB |"
    yield "| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |"
    for size in sizes:
        with tempfile.TemporaryDirectory() as folder:
            root, site, bare = Path(folder) / "book", Path(folder) / "site", Path(folder) / "bare"
            write(generate(size), root)
            ours = [sys.executable, "-m", "rangebook", "build", "--root", str(root), "--site-dir", str(site)]
            theirs = [sys.executable, "-m", "mkdocs", "build", "--quiet"]
            turns: dict[str, list[Ran]] = {OURS: [], BARE: []}
            for turn in range(repeat):
                print(f"{size} families, turn {turn + 1} of {repeat} ...", file=sys.stderr, flush=True)
                shutil.rmtree(site, ignore_errors=True)  # each begins with nothing there
                turns[OURS].append(ran(ours, Path(folder)))
                if size in bare_sizes:
                    if not bare.exists():
                        write_bare(root, site, bare)
                    shutil.rmtree(bare / "site", ignore_errors=True)
                    turns[BARE].append(ran(theirs, bare))
            for kind, runs in turns.items():
                if runs:
                    wall[kind][size] = min(run.wall for run in runs)
                    cpu[kind][size] = min(run.cpu for run in runs)
            pages, bytes_ = weight(site)
            cells = {"wall": "-", "ratio": "-", "bytes": "-", "peak": "-"}
            if turns[BARE]:
                bare_pages, bare_bytes = weight(bare / "site")
                if bare_pages != pages:
                    raise SystemExit(f"{bare_pages} bare pages, {pages} of ours: they are not to be compared")
                cells = {
                    "wall": f"{wall[BARE][size]:.1f} ({cpu[BARE][size]:.1f})",
                    "ratio": f"{wall[OURS][size] / wall[BARE][size]:.3f}",
                    "bytes": f"{bare_bytes / 1e6:.1f}",
                    "peak": f"{max(run.peak for run in turns[BARE]):.0f}",
                }
            yield (
                f"| {size:,} | {pages:,} | {cells['wall']} | {wall[OURS][size]:.1f} ({cpu[OURS][size]:.1f}) | {cells['ratio']} "
                f"| {cells['bytes']} | {bytes_ / 1e6:.1f} | {cells['peak']} | {max(run.peak for run in turns[OURS]):.0f} |"
            )
    yield ""
    yield "Growth exponent by families, wall and CPU: " + "; ".join(
        f"{kind} {growth(wall[kind])} and {growth(cpu[kind])}" for kind in (BARE, OURS)
    )


def main() -> int:
    """Measure as the command line says."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("--families", type=int, nargs="+", default=[100, 200], help="sizes of the books (100 200)")
    parser.add_argument("--bare", type=int, nargs="*", help="of these, the sizes that are built bare too (all)")
    parser.add_argument("--repeat", type=int, default=3, help="how often each is built (3)")
    args = parser.parse_args()
    sizes = sorted(args.families)
    busy = " ".join(f"{one:.1f}" for one in os.getloadavg()) if hasattr(os, "getloadavg") else "not known"
    print(f"{platform.python_implementation()} {platform.python_version()}, {os.cpu_count()} cores, load {busy}, {date.today()}.\n")
    for line in measured(sizes, sizes if args.bare is None else args.bare, args.repeat):
        print(line, flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
