"""A build takes over what the last one wrote of pieces that are the same, and gives what a fresh build gives, byte for byte."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from tests.lint.again.walk import Walk

import generate
from rangebook.schema.errors import SchemaError
from rangebook.site.generator import writer
from rangebook.site.generator.build import NotBuiltError, build_site
from rangebook.site.generator.gate import NotCleanError, checked
from rangebook.site.generator.plugin import STATIC
from rangebook.site.output.kept import Kept


def tree(folder: Path) -> dict[str, str]:
    """Every file below a folder with the hash of its bytes."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in files}


@contextmanager
def afresh(static: bool = True) -> Iterator[None]:
    """Nothing is known of pieces; with ``static`` what MkDocs writes is: that takes seconds, and is the same for every book."""
    knows = Kept.knows
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Kept, "knows", lambda self, name, key: static and name == STATIC and knows(self, name, key))
        yield


def built(root: Path, target: Path) -> str:
    """What became of a build."""
    try:
        build_site(checked(root), target)
    except (NotBuiltError, NotCleanError, SchemaError) as error:
        return str(error)
    return ""


def compared(walk: Walk, again: Path, fresh: Path) -> bool:
    """Build in both ways and hold one against the other; whether there was anything to build."""
    said = built(walk.root, again)
    with afresh():
        assert built(walk.root, fresh) == said, walk.steps[-3:]
    one, other = tree(again), tree(fresh)
    assert one == other, (walk.steps[-3:], sorted(name for name in one.keys() | other.keys() if one.get(name) != other.get(name))[:8])
    return not said


@pytest.mark.parametrize("seed", [1])
def test_after_each_step_of_a_walk_the_same_is_built(seed: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    walk = Walk(tmp_path / "book", seed, families=2)
    again, fresh = tmp_path / "again", tmp_path / "fresh"
    steps = int(os.environ.get("RANGEBOOK_WALK", "6"))
    refused = 0
    for _ in range(steps):
        refused = 0 if compared(walk, again, fresh) else refused + 1
        if refused > 2:
            walk.go_back()
        walk.step()


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Two pieces of two families each, built once."""
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    root = tmp_path / "book"
    generate.write(generate.generate(4), root)
    build_site(checked(root), tmp_path / "site")
    return root


def test_only_what_hangs_together_with_an_edit_is_made(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And a file that somebody has changed, or that is a link now, is made again with its piece."""
    site = book.parent / "site"
    made: list[str] = []
    make = writer.Writer._made
    monkeypatch.setattr(writer.Writer, "_made", lambda self, piece, key, out: made.append(piece.name) or make(self, piece, key, out))
    monkeypatch.setattr("rangebook.site.generator.writer.processors", lambda: 1)
    entry = min(book.glob("entries/switches/*.md"))
    entry.write_text(entry.read_text("utf-8") + "\nSeen again.\n", "utf-8")
    build_site(checked(book), site)
    assert len(made) == 1
    right = tree(site)
    made.clear()
    build_site(checked(book), site)
    assert (made, tree(site)) == ([], right)
    numbers = sorted(site.glob("parts/*/index.html"))
    numbers[0].write_bytes(numbers[0].read_bytes().replace(b"Pin-out", b"Pin-in"))
    aside = book.parent / "aside.html"
    os.replace(numbers[-1], aside)  # noqa: PTH105
    numbers[-1].symlink_to(aside)
    build_site(checked(book), site)
    assert tree(site) == right
    assert not numbers[-1].is_symlink()
    assert 1 <= len(made) <= 2
    with afresh(static=False):
        build_site(checked(book), book.parent / "whole")
    assert tree(book.parent / "whole") == right


def test_what_is_written_into_a_site_is_not_written_into_the_one_before(book: Path) -> None:
    """Files may be the very same ones in both while the old site is still there."""
    site, old = book.parent / "site", book.parent / "old"
    page = min(site.glob("connectors/*/index.html")).relative_to(site)
    before = (site / page).read_bytes()
    old.mkdir()
    os.link(site / page, old / "page")
    build_site(checked(book), site)
    entry = book / "entries" / "connectors" / f"{page.parts[1]}.md"
    entry.write_text(entry.read_text("utf-8").replace("title: ", "title: New ", 1), "utf-8")
    build_site(checked(book), site)
    assert (old / "page").read_bytes() == before != (site / page).read_bytes()
