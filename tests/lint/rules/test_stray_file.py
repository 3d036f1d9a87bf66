"""stray-file: what lies below entries/ and is read by nothing."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from rangebook.lint.examples import example_book
from rangebook.reading.files import find_strays
from tests.lint.marking import found_in
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "stray-file"


@operator("an entry with another ending", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        file = source.file.removesuffix("md") + "markdown"
        yield Seed("another ending", {file: source.text.encode()}, frozenset({(file, 1)}))


@pytest.mark.parametrize(
    ("file", "fix"),
    [
        ("entries/switch/a.md", "`entries/switches/`"),
        ("entries/a.md", "`switches`"),
        ("entries/switches/old/a.md", "too deep"),
        ("entries/switches/a.txt", "`a.md`"),
        ("entries/switches/a.MD", "`a.md`"),
        ("entries/switches/a.md.bak", "`a.md`"),
        ("entries/switches/front.jpg", "does not end"),
        ("entries/switches/photos/front.jpg", "no folder of an entry"),
        ("entries/switches/photos/nothing-here/front.jpg", "no folder of an entry"),
    ],
)
def test_each_is_told(file: str, fix: str) -> None:
    (found,) = [one for one in found_in({**example_book(""), file: b"---\n"}, RULE) if one.rule == RULE]
    assert (found.file, found.line) == (file, 1) and fix in f"{found.message} {found.fix}"


def test_what_is_let_be(tmp_path: Path) -> None:
    for file in ("LICENSE", "README.md", "kits/.gitkeep", ".DS_Store", "kits/a.md", "kits/photos/a/bag.jpg", "kits/readme.txt"):
        (tmp_path / "entries" / file).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "entries" / file).write_text("", "utf-8")
    assert find_strays(tmp_path) == ()
    (tmp_path / "entries" / "kits" / "b.yaml").write_text("", "utf-8")
    assert find_strays(tmp_path) == ("entries/kits/b.yaml",)
