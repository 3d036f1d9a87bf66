"""The program that the handbook shows says of a part what the command says."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from rangebook.book.load import Loaded
from rangebook.cli import main

PAGE = Path("tools") / "rangebook" / "site" / "handbook" / "programs.md"


def test_the_program_that_is_shown(root: Path, site_dir: Path, loaded: Loaded, capsys: pytest.CaptureFixture[str]) -> None:
    (program,) = re.findall(r"^```python\n(.*?)^```$", (root / PAGE).read_text("utf-8"), re.MULTILINE | re.DOTALL)
    part = max(loaded.book.parts, key=lambda one: len(one.number))
    assert main(["fit", part.number, "--json", "--root", str(root)]) == 0
    seats = json.loads(capsys.readouterr().out)["seats"]
    ran = subprocess.run(
        [sys.executable, "-c", program, f"{site_dir.as_uri()}/", part.number.lower()], capture_output=True, encoding="utf-8", timeout=60
    )
    assert ran.returncode == 0, ran.stderr
    expected = []
    for seat in seats:
        expected.append(f"{seat['family']} {seat['how']}")
        for one in seat["candidates"]:
            offered = "offer it" if one["number"] in seat["offered"] else "do not offer it"
            expected += [f"  {one['number']} {one['verdict']} {offered}", *(f"    {reason['text']}" for reason in one["reasons"])]
    said = [re.sub(r"^(\S+) \S+ ", r"\1 ", line) for line in ran.stdout.splitlines()]
    assert said == expected and len(seats) > 1
