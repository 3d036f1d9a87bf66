"""A book built in parts, one after the other on this machine, and joined: seconds and memory of each. Writes a table in Markdown.

    .venv/bin/python benchmarks/shards.py --families 1000 --parts 4
    .venv/bin/python benchmarks/shards.py --families 5000 --parts 20 --only 1 2

Each part is a command of its own, as a machine of a matrix would run it: it reads and checks the whole book, judges its own families'
plugs and its own parts on those of others, and writes their pages. Memory is the most that one of its processes held.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from generate import generate, write


def run(*words: object) -> tuple[float, float, float]:
    """Seconds, those of processors, and megabytes that a command of ours took."""
    begin = time.perf_counter()
    command = subprocess.Popen([sys.executable, "-m", "rangebook", *map(str, words)], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
    assert command.stderr is not None
    said = command.stderr.read()
    _, status, used = os.wait4(command.pid, 0)
    if status:
        raise SystemExit(said.decode())
    return time.perf_counter() - begin, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def files_in(folder: Path) -> tuple[int, float]:
    """How many files, and megabytes."""
    sizes = [path.stat().st_size for path in folder.rglob("*") if path.is_file()]
    return len(sizes), sum(sizes) / 1e6


def rows(args: argparse.Namespace, home: Path) -> Iterator[tuple[str, float, float, float, int, float]]:
    """What was done, seconds, those of processors, megabytes of memory, files and their megabytes."""
    write(generate(args.families), home / "book")
    folders = []
    for at in args.only or range(1, args.parts + 1):
        folder = home / f"part-{at}"
        took = run("build", "--root", home / "book", "--shard", f"{at}/{args.parts}", "--site-dir", folder)
        folders.append(folder)
        yield (f"part {at} of {args.parts}", *took, *files_in(folder))
    if not args.only:
        took = run("merge", *folders, "--site-dir", home / "joined")
        yield ("joined", *took, *files_in(home / "joined"))
    if args.whole:
        took = run("build", "--root", home / "book", "--site-dir", home / "whole")
        yield ("in one", *took, *files_in(home / "whole"))


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("--families", type=int, default=1000)
    parser.add_argument("--parts", type=int, default=4)
    parser.add_argument("--only", type=int, nargs="+", default=[], help="these parts alone; then nothing is joined")
    parser.add_argument("--whole", action="store_true", help="also build it in one")
    args = parser.parse_args()
    print(f"| {args.families:,} families | seconds | of processors | memory | files | on disk |")
    print("| --- | ---: | ---: | ---: | ---: | ---: |")
    with tempfile.TemporaryDirectory() as folder:
        for what, seconds, processors, memory, count, size in rows(args, Path(folder)):
            print(f"| {what} | {seconds:.0f} | {processors:.0f} | {memory:.0f} MB | {count:,} | {size:.0f} MB |", flush=True)


if __name__ == "__main__":
    main()
