"""shelf-line. What is read out of a list is tested in tests/lint/test_stock.py."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from rangebook.cli import main
from rangebook.lint.examples import base_book, example_book
from rangebook.reading.shelf import FILE
from tests.lint.marking import found_in
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed


@operator("a count of the stock list that is no number", "shelf-line")
def _(ground: Ground) -> Iterator[Seed]:
    for count in ("-1", "2.5", "two"):
        yield ground.on_shelf(f"ZZ-1,{count},", 1)


@operator("a number twice in the stock list", "shelf-line")
def _(ground: Ground) -> Iterator[Seed]:
    for line in ground.shelf.decode().splitlines()[1:]:
        yield ground.on_shelf(line.lower())


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("TB-20417,-1", "`-1` is no count of TB-20417"),
        ("TB-20417,\u0663", "is no count"),
        ("TB-20417,10000", "is no count"),
        (",3", "no number"),
        ("--,3", "no number"),
        ("tw 7706,4", "tw 7706 stands there twice, in line 2 too"),
        ("TB\u200b-20417,1", "cannot be seen"),
        ("TB-20417,1,bin\u2028 4", "cannot be seen"),
        ("TB-20417,1," + "x" * 61, "more than 60"),
    ],
)
def test_a_line_that_cannot_be_right_is_named(line: str, says: str) -> None:
    (found,) = found_in({**example_book(""), FILE: f"number,count,place\nTW-7706,1,\n{line}\n".encode()}, "shelf-line")
    assert (found.file, found.line, found.rule, str(found.severity)) == (FILE, 3, "shelf-line", "error") and says in found.message


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "empty"),
        (b"part,count\nTB-1,2\n", "number"),
        (b"number\n\xff\n", "UTF-8"),
        (b"number\n" + b"x\n" * 600_000, "larger than 1024 KiB"),
    ],
)
def test_what_is_no_such_list_is_told_of(data: bytes, says: str) -> None:
    (found,) = found_in({**example_book(""), FILE: data}, "shelf-line")
    assert (found.file, found.line) == (FILE, 1) and says in found.message


@pytest.mark.parametrize("leads", ["a list", "nowhere", "a device"])
def test_a_link_is_not_followed(tmp_path: Path, capsys: pytest.CaptureFixture[str], leads: str) -> None:
    """Not to a list that is fine, and not to a device that never ends."""
    outside = tmp_path / "outside.csv"
    outside.write_text("number\nSECRET-1\n", "utf-8")
    book = tmp_path / "book"
    (book / "entries").mkdir(parents=True)
    (book / FILE).symlink_to({"a list": outside, "nowhere": tmp_path / "none", "a device": Path("/dev/zero")}[leads])
    assert main(["lint", "--root", str(book)]) == 1
    told = capsys.readouterr().out
    assert "shelf.csv:1:1: error: the stock list is a link" in told and "SECRET" not in told


def test_the_command_shows_the_line_and_looks_again_when_it_is_mended(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name, text in base_book().items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    shelf = tmp_path / FILE
    shelf.write_text("number,count\nTB-20417,two\n", "utf-8")
    assert main(["lint", "--root", str(tmp_path)]) == 1
    assert "shelf.csv:2:1: error: `two` is no count of TB-20417 [shelf-line]\n    TB-20417,two\n" in capsys.readouterr().out
    shelf.write_text("number,count\nTB-20417,2\n", "utf-8")
    assert main(["lint", "--root", str(tmp_path)]) == 0
    shelf.unlink()
    shelf.mkdir()
    assert main(["lint", "--root", str(tmp_path)]) == 1
    assert "the stock list cannot be read" in capsys.readouterr().out
