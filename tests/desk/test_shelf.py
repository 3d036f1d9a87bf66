"""A book's own stock list: what is read out of it, and that nothing in it is taken that nobody sees."""

from __future__ import annotations

from pathlib import Path

import pytest

from rangebook.desk.shelf import FILE, ShelfError, read_shelf, shelf_of


@pytest.mark.parametrize(
    "text",
    [
        "number,count,place\nTB-1,3,bin 4\n0563 17,,\n",
        "Number;Count;Place\r\nTB-1;3;bin 4\r\n0563 17;1;\r\n",
        "\ufeffplace\tnumber\tcount\tremark\n bin 4 \t TB-1 \t3\told\n\n\t0563 17\t1\t\n",
        "sep=;\nnumber;place;count\nTB-1;bin 4;3\n0563 17\n",
    ],
)
def test_a_list_as_spreadsheets_write_it(text: str) -> None:
    """The columns go by their headings; a count that is not stated is one."""
    assert shelf_of(text.encode()) == (("TB-1", 3, "bin 4"), ("0563 17", 1, ""))


def test_a_cell_that_was_kept_from_being_reckoned_out_is_what_it_was() -> None:
    assert shelf_of(b"number,count,place\n'-88,2,'=A1\n") == (("-88", 2, "=A1"),)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("TB-2,-1", "is no count"),
        ("TB-2,2.5", "is no count"),
        ("TB-2,two", "is no count"),
        ("TB-2,10000", "is no count"),
        ("TB-2,\u0663", "is no count"),
        ("TB-2,99999999999999999999", "is no count"),
        (",3", "no number"),
        ("--,3", "no number"),
        ("tb 1,4", "stands there twice"),
        ("TB\u200b-2,1", "cannot be seen"),
        ("TB-2\u202e,1", "cannot be seen"),
        ("TB-2,1,bin\u2028 4", "cannot be seen"),
        ("TB-2,1," + "x" * 61, "more than 60"),
    ],
)
def test_a_line_that_cannot_be_right_is_named(line: str, says: str) -> None:
    with pytest.raises(ShelfError, match=f"shelf.csv, line 3: .*{says}") as told:
        shelf_of(f"number,count,place\nTB-1,1,\n{line}\n".encode())
    assert str(told.value).isprintable()


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
    with pytest.raises(ShelfError, match=says):
        shelf_of(data)


def test_a_book_without_one_has_an_empty_shelf(tmp_path: Path) -> None:
    assert read_shelf(tmp_path) == ()


@pytest.mark.parametrize("leads", ["a list", "nowhere", "a device"])
def test_a_link_is_not_followed(tmp_path: Path, leads: str) -> None:
    """Not to a list that is fine, and not to a device that never ends."""
    outside = tmp_path / "outside.csv"
    outside.write_text("number\nSECRET-1\n", "utf-8")
    book = tmp_path / "book"
    book.mkdir()
    (book / FILE).symlink_to({"a list": outside, "nowhere": tmp_path / "none", "a device": Path("/dev/zero")}[leads])
    with pytest.raises(ShelfError, match="link"):
        read_shelf(book)


def test_a_folder_of_that_name_is_no_list(tmp_path: Path) -> None:
    (tmp_path / FILE).mkdir()
    with pytest.raises(ShelfError, match="cannot be read"):
        read_shelf(tmp_path)
