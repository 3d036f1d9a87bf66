"""A book's own stock list: what is read out of it. What is told of a wrong one is tested with the rule ``shelf-line``."""

from __future__ import annotations

from pathlib import Path

import pytest

from rangebook.lint.stock import stock_of
from rangebook.reading.shelf import FILE, read_shelf


@pytest.mark.parametrize(
    "text",
    [
        "number,count,place\nTB-1,3,bin 4\n0563 17,,\n",
        "Number;Count;Place\r\nTB-1;3;bin 4\r\n0563 17;1;\r\n",
        "\ufeffplace\tnumber\tcount\tremark\n bin 4 \t TB-1 \t3\told\n\t0563 17\t1\t\n",
        "number;place;count\nTB-1;bin 4;3\n0563 17\n",
    ],
)
def test_a_list_as_spreadsheets_write_it(text: str) -> None:
    """The columns go by their headings; a count that is not stated is one."""
    assert stock_of(text.encode()) == ((("TB-1", 3, "bin 4", 2), ("0563 17", 1, "", 3)), ())


def test_a_cell_that_was_kept_from_being_reckoned_out_is_what_it_was() -> None:
    assert stock_of(b"sep=,\nnumber,count,place\n'-88,2,'=A1\n").lying == (("-88", 2, "=A1", 3),)


def test_a_line_that_is_wrong_keeps_no_other_from_the_shelf() -> None:
    stock = stock_of(b"number,count\nTB-1,many\nTB-2,2\n")
    assert [one.number for one in stock.lying] == ["TB-2"] and [(one.line, one.code) for one in stock.wrong] == [(2, "count")]


def test_a_book_without_one_has_an_empty_shelf(tmp_path: Path) -> None:
    assert read_shelf(tmp_path) is None and stock_of(None) == ((), ())
    (tmp_path / FILE).mkdir()
    assert isinstance(read_shelf(tmp_path), OSError)
