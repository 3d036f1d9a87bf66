"""What `rangebook serve` shows at once after an edit is made from what hangs together with it alone, and is what a build makes."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.site.test_build import tree

import generate
from rangebook.book.load import load
from rangebook.lint.engine import lint
from rangebook.site.data import pieces
from rangebook.site.facts.computed import Computed
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import BookNow, checked
from rangebook.site.generator.single_page import PageWriter


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Of several pieces, large by its own measure, with something on the shelf, and with prose that leads from one piece to another."""
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    monkeypatch.setattr(pieces, "LARGE", 20)
    root = tmp_path / "book"
    generate.write(generate.generate(8), root)
    first, *_, last = sorted((root / "entries" / "switches").glob("*.md"))
    part = next(part for part in load(root).book.parts)
    (root / "shelf.csv").write_text(f"number,pieces,place\n{part.number},3,Bin 4\n", "utf-8")
    for one, other in ((first, last), (last, first)):
        text = f"{one.read_text('utf-8')}\nSee [the other]({other.name}).\n"
        one.write_text(text, "utf-8")
    return root


def test_each_is_what_a_build_makes(book: Path) -> None:
    site = book.parent / "site"
    build_site(checked(book), site)
    right = tree(site)
    writer = PageWriter(book, site)
    read = set()
    for entry in sorted(book.glob("entries/*/*.md")):
        file = entry.relative_to(book).as_posix()
        around = BookNow(book).around([file])
        read.add(len(around.entries))
        for address in right:
            if not address.startswith("api/") and f"/{entry.stem}/" in f"/{address}".replace(".json", "/"):
                (site / address).write_text("as it was before", "utf-8")
        assert writer.write(Computed(around), [file.removeprefix("entries/")]) == [file.removeprefix("entries/")]
        assert tree(site) == right, file
    assert max(read) < len(list(book.glob("entries/*/*.md"))), "no more is read than hangs together"


def test_the_findings_are_those_of_the_whole_book(book: Path) -> None:
    assert BookNow(book).findings == lint(load(book))
    one = sorted(book.glob("entries/switches/*.md"))[3]
    one.write_text(one.read_text("utf-8").replace("closed: [P, N]", "closed: [P, N, D]", 1), "utf-8")
    now = BookNow(book)
    assert now.findings == lint(load(book)) != []
    assert one.name in now.report() and "start-path" in now.report()
