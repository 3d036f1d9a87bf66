"""A site that is built in parts and joined is the site that is built in one, to the byte; what does not belong together is not joined."""

from __future__ import annotations

import json
import random
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.site.test_build import tree

from generate import generate, write
from rangebook.cli import main
from rangebook.site.data import pieces
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import Checked, checked
from rangebook.site.parts import told
from rangebook.site.parts.join import join
from rangebook.site.shared.shard import Shard, read_shard

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Callable[[int], tuple[Path, list[Path]]]:
    """A generated book of six families whose indexes are in pieces: the site as it is built in one, and its parts, each made once."""
    home = tmp_path_factory.mktemp("shards")
    write(generate(6, seed=9), home / "book")
    (home / "book" / "shelf.csv").write_text("number,count,place\nNN-1,2,bin 4\n", "utf-8")
    book = checked(home / "book")

    def build(count: int) -> tuple[Path, list[Path]]:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(pieces, "LARGE", 0)
            if not (home / "whole").exists():
                build_site(book, home / "whole")
            return home / "whole", parts_of(book, home, count)

    return build


def parts_of(book: Checked, home: Path, count: int) -> list[Path]:
    folders = [home / f"{at}-of-{count}" for at in range(1, count + 1)]
    for at, folder in enumerate(folders, 1):
        if not folder.exists():
            build_site(book, folder, shard=Shard(at, count))
    return folders


@pytest.mark.parametrize("count", [1, 2, 5])
def test_parts_in_any_order_are_the_site(built: Callable[[int], tuple[Path, list[Path]]], tmp_path: Path, count: int) -> None:
    whole, parts = built(count)
    random.Random(count).shuffle(parts)
    target = tmp_path / "site"
    target.mkdir()
    (target / "CNAME").write_text("switches.example\n", "utf-8")
    assert main(["merge", *map(str, parts), "--site-dir", str(target)]) == 0
    assert (target / "CNAME").read_text("utf-8") == "switches.example\n", "what no build wrote stays"
    (target / "CNAME").unlink()
    assert tree(target) == tree(whole)
    assert any(address.startswith("data/identify/block/") for address in tree(target)), "the book is a large one"
    assert sum("switches" in folder.parts for part in parts for folder in part.rglob("index.html")) == 6, "each family in one part"


@pytest.mark.slow
def test_the_demo_book_in_three_parts(site_dir: Path, tmp_path: Path) -> None:
    join(parts_of(checked(ROOT), tmp_path, 3), tmp_path / "site")
    assert tree(tmp_path / "site") == tree(site_dir)


def _is_part(folder: Path, **said: object) -> None:
    path = folder / told.PART_URL
    path.write_text(json.dumps({**json.loads(path.read_text("utf-8")), **said}), "utf-8")


def test_what_is_no_whole_site_is_not_joined(
    built: Callable[[int], tuple[Path, list[Path]]], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    one, two = (shutil.copytree(part, tmp_path / part.name) for part in built(2)[1])
    again = shutil.copytree(one, tmp_path / "again")
    target = tmp_path / "site"

    def said(*parts: Path, to: Path = target) -> str:
        assert main(["merge", *map(str, parts), "--site-dir", str(to)]) == 2
        assert not target.exists()
        return capsys.readouterr().err

    assert "of 2 parts 2 is missing" in said(one)
    assert "give each part once" in said(one, two, again)
    assert "give each part once" in said(one, one)
    assert f"{tmp_path} is no part of a site" in said(one, tmp_path)
    assert "lie one in the other" in said(one, two, to=two / "site")
    _is_part(again, part=2, of=3)
    assert "build all parts with the same N" in said(one, again)
    _is_part(again, part=2, of=2, book="0" * 64)
    assert "other settings, stock or history" in said(one, again)
    _is_part(again, edition="Edition 2031-01-01 · 00000000")
    assert "another edition or another book" in said(one, again)
    page = next((two / "switches").rglob("index.html"))
    text = page.read_text("utf-8")
    page.unlink()
    assert "is not in it as it was built" in said(one, two)
    page.symlink_to(next((one / "switches").rglob("index.html")))
    assert "is not in it as it was built" in said(one, two)
    page.unlink()
    page.write_text(text, "utf-8")
    target.mkdir()
    (target / "notes.txt").write_text("mine", "utf-8")
    assert main(["merge", str(one), str(two), "--site-dir", str(target)]) == 2
    assert "holds something that is not a site of this book (notes.txt)" in capsys.readouterr().err
    assert [path.name for path in target.iterdir()] == ["notes.txt"]


@pytest.mark.parametrize("text", ["0/3", "4/3", "1", "1/0", "x/2", "-1/2", "1/2/3", "1/99999"])
def test_what_is_no_part(text: str, small_book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", "--root", str(small_book), f"--shard={text}"]) == 2
    assert f"{text} is no part of a site" in capsys.readouterr().err


def test_programs_of_the_book_s_own_write_no_parts(small_book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", "--root", str(small_book), "--shard", "1/2", "--whole-mkdocs-yml"]) == 2
    assert "not built in parts" in capsys.readouterr().err and not list(small_book.glob("part-*"))


def test_a_family_is_in_the_same_part_on_every_machine() -> None:
    """SHA-256 of the id, its first eight bytes as a number, by the count: reckoned by coreutils' sha256sum for `tamblin-gate`."""
    assert read_shard("2/4") == Shard(2, 4)
    assert [Shard(at, 7).has("tamblin-gate") for at in range(1, 8)].index(True) == TAMBLIN_GATE % 7


TAMBLIN_GATE = 0xACDD1E99E5AE675D
