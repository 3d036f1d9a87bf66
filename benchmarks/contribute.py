"""How long it takes to write one part down in each of the three ways. Writes a table in Markdown.

    .venv/bin/python benchmarks/contribute.py

The form is filled in by a script in Chromium at a person's pace of typing, on a screen as wide as a phone's; the command and the mapping of
the spreadsheet are counted. The commands (`lint`, `impact`) are run and timed. Beside that stands an estimate of the hand's and the
head's time by the keystroke-level model (S. K. Card, T. P. Moran, A. Newell, CACM 23 (1980) 396-410): 0.28 s for a sign typed (an average
typist), 1.3 s for a tap, 1.35 s to make up one's mind. These values are from memory. Measuring the part on the bench is not in it.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import os
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import sync_playwright

from rangebook.cli import main as rangebook
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.live.serve import listen

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from tests.site import ways  # noqa: E402 (of the checkout, not of the package)
from tests.site.conftest import FLAGS, PHONE  # noqa: E402
from tests.site.ways import Hand  # noqa: E402

SIGN, TAP, MIND = 0.28, 1.3, 1.35
"""Seconds, see above."""


def _git(root: Path, *command: str) -> None:
    who = ("-c", "user.name=bench", "-c", "user.email=bench@example.org", "-c", "commit.gpgsign=false")
    subprocess.run(("git", *who, *command), cwd=root, check=True, capture_output=True)


def _form(root: Path, desk: Path, hand: Hand) -> None:
    site = desk / "site"
    build_site(checked(ROOT), site)
    server = listen(site, 0, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=os.environ.get("RANGEBOOK_CHROMIUM", "/usr/bin/chromium"), args=[*FLAGS])
        page = browser.new_page(viewport=PHONE, service_workers="block")
        page.goto(f"http://127.0.0.1:{server.server_port}/write/")
        page.locator("[data-write-cols]").wait_for()
        start = time.perf_counter()
        text = ways.by_form(page, hand, desk)
        print(f"form, run by the script: {time.perf_counter() - start:.0f} s", file=sys.stderr)
        browser.close()
    server.shutdown()
    ways.paste(root / "entries/switches" / f"{ways.FAMILY}.md", text, hand)


def _new(root: Path, desk: Path, hand: Hand) -> None:
    assert _quietly(*ways.by_new(hand), "--root", str(root)) == 0


def _spreadsheet(root: Path, desk: Path, hand: Hand) -> None:
    assert _quietly(*ways.by_spreadsheet(hand, desk), "--root", str(root)) == 0


def _quietly(*words: str) -> int:
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        return rangebook(list(words))


WAYS: dict[str, Callable[[Path, Path, Hand], None]] = {"the form": _form, "`rangebook new`": _new, "a spreadsheet, one row": _spreadsheet}


def main() -> int:
    """Measure as the command line says."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("--pause", type=float, default=SIGN, help="seconds between two signs typed into the form")
    args = parser.parse_args()
    print(
        "| way | signs | taps | decisions | estimate of hand and head, s | lint and impact, s |\n| --- | ---: | ---: | ---: | ---: | ---: |"
    )
    for name, way in WAYS.items():
        with tempfile.TemporaryDirectory() as folder:
            root, desk = Path(folder) / "book", Path(folder) / "desk"
            shutil.copytree(ROOT / "entries", root / "entries")
            desk.mkdir()
            _git(root, "init", "-q", "-b", "main")
            _git(root, "add", "-A")
            _git(root, "commit", "-q", "-m", "one")
            hand = Hand(pause=args.pause)
            way(root, desk, hand)
            start = time.perf_counter()
            for words in (["lint"], ["impact", "main"]):
                subprocess.run((sys.executable, "-m", "rangebook", *words, "--root", str(root)), check=True, capture_output=True)
            ran = time.perf_counter() - start
            estimate = hand.signs * SIGN + hand.taps * TAP + hand.decisions * MIND
            print(f"| {name} | {hand.signs} | {hand.taps} | {hand.decisions} | {estimate:.0f} | {ran:.1f} |", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
