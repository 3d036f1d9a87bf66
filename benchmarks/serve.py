"""Measure how long `rangebook serve` takes from an edit to the page that shows it, in a generated book. Writes a table in Markdown.

    .venv/bin/python benchmarks/serve.py
    .venv/bin/python benchmarks/serve.py --families 100 --repeat 5

The clock starts when the entry's file is written and stops when the page that waits for it (as an open browser tab does) is told and has
the new text. The whole site follows in another process; one edit is made while that is at work.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path
from urllib.parse import quote

from generate import generate, write

ROOT = Path(__file__).resolve().parents[1]
PAUSE = int(re.findall(r"PAUSE_MS = (\d+);", (ROOT / "tools/rangebook/site/live/live.js").read_text("utf-8"))[0]) / 1000
"""Seconds after which a page that is open in a browser asks again."""

EDITS = (("a sentence of prose", "", ""), ("a contact closes in D too", "closed: [P, N]", "closed: [P, N, D]"))
"""What is done, and the text that it puts in the place of what; for prose a sentence at the end."""


def _fetch(address: str) -> str:
    with urllib.request.urlopen(address, timeout=120) as answer:
        return answer.read().decode()


def _until_shown(address: str, path: Path, text: str, words: str) -> float:
    """Seconds from writing the file until its page has the words."""
    page = f"switches/{path.stem}/"
    mark = re.search(r'<meta name="shown" content="(\w+)">', _fetch(address + page))
    assert mark
    start = time.perf_counter()
    path.write_text(text, "utf-8")
    while True:
        time.sleep(PAUSE)
        if json.loads(_fetch(f"{address}live/shown?page={quote(page)}"))["shown"] != mark.group(1) and words in _fetch(address + page):
            return time.perf_counter() - start


def main() -> int:
    """Measure as the command line says."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("--families", type=int, nargs="+", default=[1000])
    parser.add_argument("--repeat", type=int, default=3)
    args = parser.parse_args()
    load = " ".join(f"{one:.1f}" for one in os.getloadavg()) if hasattr(os, "getloadavg") else "not known"
    print(f"Python {sys.version.split()[0]}, {os.cpu_count()} cores, load before {load}\n")
    print("| families | edit | quickest, s | slowest, s |\n| ---: | --- | ---: | ---: |")
    for families in args.families:
        with tempfile.TemporaryDirectory() as folder:
            root = Path(folder)
            write(generate(families), root)
            served = subprocess.Popen(
                [sys.executable, "-m", "rangebook", "serve", "--root", str(root), "--port", "0"],
                stdout=subprocess.PIPE,
                text=True,
                env={**os.environ, "PYTHONUNBUFFERED": "1"},
            )
            try:
                assert served.stdout
                found = re.search(r"http://\S+", served.stdout.readline())
                assert found
                listed = sorted((root / "entries" / "switches").glob("*.md"))
                time.sleep(max(5.0, families / 50))  # it reads the book once more before it watches
                for name, good, bad in EDITS:
                    path = listed[len(listed) // 2 if not good else len(listed) // 3]
                    text = path.read_text("utf-8")
                    times = []
                    for turn in range(args.repeat):
                        spoilt = text.replace(good, bad, 1) if good else f"{text}\nSentence {turn} more.\n"
                        words = "the starter could turn in gear" if good else f"Sentence {turn} more."
                        times.append(_until_shown(found.group(), path, spoilt, words))
                        if good:
                            path.write_text(text, "utf-8")
                            while "the starter could turn in gear" in _fetch(f"{found.group()}switches/{path.stem}/").split("<article")[0]:
                                time.sleep(0.2)
                    print(f"| {families:,} | {name} | {min(times):.2f} | {max(times):.2f} |", flush=True)
            finally:
                served.terminate()
                served.wait()
    return 0


if __name__ == "__main__":
    sys.exit(main())
