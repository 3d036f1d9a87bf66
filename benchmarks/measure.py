"""Measure on generated books how long the work takes, and how it grows with the book. Writes a table in Markdown.

    .venv/bin/python benchmarks/measure.py
    .venv/bin/python benchmarks/measure.py --families 100 1000 5000 --repeat 1

Each stage runs in a process of its own, as often as ``--repeat`` says; the quickest run counts (the others were held up
by something else on the machine) and the highest peak of memory. An exponent of 1 is growth in step with the book, 2 is
growth with its square. Let the machine rest meanwhile. Building the site is measured by ``building.py``.
"""

from __future__ import annotations

import argparse
import json
import math
import os
import platform
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from generate import generate, write

TODAY = date(2026, 6, 1)
"""The day on which the generated books are looked at: nothing in them is in the future or stale then."""


@dataclass
class Work:
    """One piece of work, measured: ``seconds`` for ``count`` pieces called ``unit``."""

    seconds: float
    count: int
    unit: str


class Clock:
    """Collects what is measured, by name."""

    def __init__(self) -> None:
        self.found: dict[str, Work] = {}

    @contextmanager
    def __call__(self, name: str, unit: str) -> Iterator[Work]:
        """Time what is done inside; it sets the count."""
        work = self.found[name] = Work(0.0, 0, unit)
        start = time.perf_counter()
        yield work
        work.seconds = time.perf_counter() - start


def checking(root: Path, clock: Clock) -> None:
    """Bytes to findings, as ``rangebook lint`` does it."""
    from rangebook.book.book import build_book
    from rangebook.book.load import Loaded
    from rangebook.lint.engine import lint
    from rangebook.lint.registry import all_rules
    from rangebook.reading.entry import read_entries
    from rangebook.schema.check import Checker
    from rangebook.schema.store import load_schemas

    all_rules()  # importing them is not part of the work
    with clock("all of the above", "file") as whole:
        with clock("reading", "file") as work:
            entries = read_entries(root)
            work.count = whole.count = len(entries)
        with clock("schema", "file") as work:
            schemas = load_schemas(root)
            checker = Checker(schemas)
            for entry in entries:
                entry.problems += checker.check(entry)
            work.count = len(entries)
        with clock("making the book", "file") as work:
            book = build_book(entries, schemas.circuits)
            work.count = len(entries)
        with clock("linting, computed rules included", "file") as work:
            findings = lint(Loaded(root, entries, schemas, book), TODAY)
            work.count = len(entries)
    # In the order of the table the sum stands last.
    clock.found["all of the above"] = clock.found.pop("all of the above")
    if findings:
        raise SystemExit(f"the generated book has findings, first {findings[0]}: what was measured is not a clean book")


def verdicts(root: Path, clock: Clock) -> None:
    """Every candidate on every seat of the book."""
    from rangebook.book.load import load
    from rangebook.fitting.fitter import Fitter
    from rangebook.reading import garbage

    fitter = Fitter(load(root).book)
    # As all do that compute more than a few: what is made stays, and looking through it for garbage grows faster than it does.
    with garbage.put_off(), clock("verdicts", "verdict") as work:
        work.count = sum(len(fitter.candidates(seat)) for seat in fitter.seats)


STAGES: dict[str, Callable[[Path, Clock], None]] = {"checking": checking, "verdicts": verdicts}


def measured(stage: str, root: Path) -> tuple[dict[str, Work], float]:
    """Run one stage in a process of its own; what it measured, and its peak of memory in MiB."""
    ran = subprocess.run([sys.executable, __file__, "--stage", stage, str(root)], stdout=subprocess.PIPE, text=True, check=False)
    if ran.returncode:
        raise SystemExit(f"the stage {stage} failed: see above")
    answer = json.loads(ran.stdout.splitlines()[-1])
    return {name: Work(**work) for name, work in answer["found"].items()}, answer["peak_mib"]


def run_stage(stage: str, root: Path) -> None:
    """The inside of such a process."""
    clock = Clock()
    STAGES[stage](root, clock)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1024 if sys.platform != "darwin" else 1024 * 1024)
    print(json.dumps({"found": {name: vars(work) for name, work in clock.found.items()}, "peak_mib": peak}))


def table(sizes: list[int], stages: list[str], repeat: int, look_alikes: int) -> Iterator[str]:
    """The lines of the table."""
    best: dict[tuple[str, int], Work] = {}
    peaks: dict[tuple[str, int], float] = {}
    of_stage: dict[str, str] = {}
    with tempfile.TemporaryDirectory() as folder:
        for size in sizes:
            root = Path(folder) / str(size)
            book = generate(size, look_alikes)
            write(book, root)
            long = [text.split("---\n")[1].count("\n") for file, text in book.items() if "/switches/" in file]
            yield f"{size:,} families: {len(book):,} files, {sum(long) / len(long):.0f} lines of front matter to a family."
            for stage in stages:
                for turn in range(repeat):
                    print(f"{size} families: {stage}, {turn + 1} of {repeat} ...", file=sys.stderr, flush=True)
                    found, peak = measured(stage, root)
                    peaks[stage, size] = max(peak, peaks.get((stage, size), 0.0))
                    for name, work in found.items():
                        of_stage[name] = stage
                        if (name, size) not in best or work.seconds < best[name, size].seconds:
                            best[name, size] = work
    yield ""
    yield "| what | " + " | ".join(f"{size:,} families | each" for size in sizes) + " | growth exponent | peak of memory |"
    yield "| --- |" + " ---: | ---: |" * len(sizes) + " ---: | ---: |"
    for name, stage in of_stage.items():
        works = [best[name, size] for size in sizes]
        cells = [
            cell
            for work in works
            for cell in (f"{work.seconds:.2f} s", f"{work.seconds * 1000 / work.count:.3f} ms/{work.unit} ({work.count:,})")
        ]
        yield f"| {name} | {' | '.join(cells)} | {growth(works[0], works[-1])} | {peaks[stage, sizes[-1]]:.0f} MiB |"


def growth(small: Work, large: Work) -> str:
    """How the time grows with the number of pieces: the slope between the two on logarithmic paper."""
    if large.count == small.count:
        return "-"
    return f"{math.log(large.seconds / small.seconds) / math.log(large.count / small.count):.2f}"


def main() -> int:
    """Measure as the command line says."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("--families", type=int, nargs="+", default=[100, 1000], help="sizes of the books (100 1000)")
    parser.add_argument("--look-alikes", type=int, default=1, help="to each part of a chain (1)")
    parser.add_argument("--repeat", type=int, default=3, help="how often each stage is run (3)")
    parser.add_argument("--only", choices=list(STAGES), nargs="+", default=list(STAGES), help="these stages only")
    parser.add_argument("--stage", choices=list(STAGES), help=argparse.SUPPRESS)
    parser.add_argument("root", type=Path, nargs="?", help=argparse.SUPPRESS)
    args = parser.parse_args()
    if args.stage:
        run_stage(args.stage, args.root)
        return 0
    print(f"{platform.python_implementation()} {platform.python_version()}, {os.cpu_count()} cores, {date.today()}.")
    for line in table(sorted(args.families), args.only, args.repeat, args.look_alikes):
        print(line, flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
