"""Measure how long `rangebook impact` takes after one edit in a generated book. Writes a table in Markdown.

    .venv/bin/python benchmarks/impact.py
    .venv/bin/python benchmarks/impact.py --families 100 1000 --repeat 5

Each run is the whole command in a process of its own, against the last commit. Of the runs the quickest counts; the time on the
processor is told beside it, for a machine that does something else meanwhile. Let it rest if you can.
"""

from __future__ import annotations

import argparse
import os
import re
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from generate import generate, write


def _sub(folder: str, pattern: str, new: str) -> Callable[[Path], None]:
    def edit(root: Path) -> None:
        listed = sorted((root / "entries" / folder).glob("*.md"))
        path = listed[len(listed) // 2]
        text, count = re.subn(pattern, new, path.read_text("utf-8"), count=1, flags=re.MULTILINE)
        assert count, f"{path} has nothing like {pattern}"
        path.write_text(text, "utf-8")

    return edit


def _remove(root: Path) -> None:
    listed = sorted((root / "entries" / "switches").glob("*.md"))
    listed[len(listed) // 2].unlink()


EDITS: dict[str, Callable[[Path], None]] = {
    "nothing": lambda root: None,
    "one line: the start contact closes in one position more": _sub("switches", r"closed: \[P, N\]", "closed: [P, N, D]"),
    "one line: a sentence of prose": _sub("switches", r"\Z", "\nOne sentence more.\n"),
    "one line: a part's status": _sub("switches", r"status: current", "status: discontinued"),
    "one line: a connector's title": _sub("connectors", r"^title: (.*)$", r"title: \1, new"),
    "one line: a kit's seals": _sub("kits", r"^seals: .*$", "seals: [4]"),
    "a family taken away": _remove,
    "a kit that cannot be read": _sub("kits", r"^kind: ", "kind: ["),
}


def _git(root: Path, *command: str) -> None:
    who = ("-c", "user.name=bench", "-c", "user.email=bench@example.org", "-c", "commit.gpgsign=false", "-c", "gc.auto=0")
    subprocess.run(("git", *who, *command), cwd=root, check=True, capture_output=True)


def _measure(root: Path, repeat: int) -> tuple[float, float, float]:
    """Seconds by the clock, seconds on the processor, and megabytes at the peak."""
    walls, works = [], []
    for _ in range(repeat):
        before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
        subprocess.run((sys.executable, "-m", "rangebook", "impact", "--root", str(root)), check=True, capture_output=True)
        walls.append(time.perf_counter() - start)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        works.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(walls), min(works), resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024


def main() -> int:
    """Measure as the command line says."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("--families", type=int, nargs="+", default=[100, 1000])
    parser.add_argument("--repeat", type=int, default=3)
    args = parser.parse_args()
    load = " ".join(f"{one:.1f}" for one in os.getloadavg()) if hasattr(os, "getloadavg") else "not known"
    print(f"Python {sys.version.split()[0]}, {os.cpu_count()} cores, load before {load}\n")
    print("| families | entries | edit | seconds | on the processor | MB |\n| --- | --- | --- | --- | --- | --- |")
    for families in args.families:
        with tempfile.TemporaryDirectory() as folder:
            root = Path(folder)
            book = generate(families)
            write(book, root)
            _git(root, "init", "-q", "-b", "main")
            _git(root, "add", "-A")
            _git(root, "commit", "-q", "-m", "one")
            for name, edit in EDITS.items():
                edit(root)
                wall, work, memory = _measure(root, args.repeat)
                print(f"| {families} | {len(book)} | {name} | {wall:.2f} | {work:.2f} | {memory:.0f} |", flush=True)
                _git(root, "checkout", "-q", ".")
    return 0


if __name__ == "__main__":
    sys.exit(main())
