"""Every file of a site can stand on every file system, whatever the numbers, titles and vehicles of the book are.

Source: Microsoft, Naming Files, Paths, and Namespaces (reserved names and characters; a file system that tells no capitals from small
letters), from memory; 255 bytes for a name: POSIX `NAME_MAX` as Linux has it.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from rangebook.reading.files import is_reserved
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked

LONG = "Ж" * 64
AWKWARD = ["CON", "aux", "Com1", "LPT-9", "nul", LONG, f"{LONG} {LONG}", "a: b? *", "...", "COM1.txt"]


def test_awkward_names_build(small_book: Path, tmp_path: Path) -> None:
    (entry,) = (small_book / "entries" / "switches").glob("*.md")
    text = entry.read_text("utf-8")
    numbers = ["CON", "AUX", "N-U-L", "COM1", "LPT 9", "PRN"]
    parts = "".join(f"  - number: {number}\n" for number in numbers)
    vehicles = "".join(f'  - {{vehicle: "{name}", years: 2003-2008}}\n' for name in AWKWARD)
    head, _, rest = text.partition("\nparts:\n")
    text = f"{head}\nparts:\n{parts}{rest}"
    head, _, rest = text.partition("\napplications:\n")
    text = f"{head}\napplications:\n{vehicles}{rest}"
    (title,) = [line for line in text.splitlines() if line.startswith("title:")]
    entry.write_text(text.replace(title, f"title: {LONG}"), "utf-8")
    site = tmp_path / "site"
    build_site(checked(small_book), site)
    files = [path.relative_to(site) for path in site.rglob("*") if path.is_file()]
    assert sum(path.parts[0] == "parts" for path in files) >= len(numbers)
    assert set(AWKWARD) <= set(json.loads((site / "api/v2/vehicles.json").read_text("utf-8"))["vehicles"])
    for path in files:
        for name in path.parts:
            assert not is_reserved(name) and not name.endswith((".", " ")), path
            assert not set(name) & set('<>:"|?*\\') and len(name.encode()) <= 255, path
    assert len({path.as_posix().casefold() for path in files}) == len(files)


@pytest.mark.parametrize(("name", "reserved"), [("con", True), ("CON.html", True), ("com9", True), ("console", False), ("lpt10", False)])
def test_what_is_reserved(name: str, reserved: bool) -> None:
    assert is_reserved(name) == reserved
