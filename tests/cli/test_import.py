"""``rangebook import``: nothing is lost, nothing that is there is touched, and the same rows again change nothing."""

from __future__ import annotations

import csv
import io
import json
import os
import shutil
from pathlib import Path

import pytest

from rangebook.book.load import load
from rangebook.cli import main
from rangebook.desk.importing.spoiled import numbers_in

ROOT = Path(__file__).parents[2]

MAPPING = """\
columns:
  number: Part No.
  family: Family
  connector: Housing
  status: Status
  pins: Pins
  superseded_by: Replaced by
  since: Since
  vehicle: Vehicle
  years: Years
  plug: Plug
  came_with: Built with
notes: [Remarks]
ignore: [Price]
values:
  connector: {13 oval: oval-13}
  status: {NLA: discontinued, ok: current}
  pins: {starter in: start_feed, starter out: start_out}
split: {superseded_by: /}
new_family: {positions: [P, R, N, D, 2, 1]}
source: {kind: catalogue, detail: "our list", by: counter, on: 2026-02-11}
"""

HEADING = "Part No.,Family,Housing,Status,Pins,Replaced by,Since,Vehicle,Years,Plug,Built with,Remarks,Price"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A copy of the demo book, with a mapping beside it."""
    shutil.copytree(ROOT / "entries", tmp_path / "entries")
    (tmp_path / "map.yaml").write_text(MAPPING, "utf-8")
    return tmp_path


def row(**cells: str) -> str:
    names = {folded: folded for folded in HEADING.split(",")} | {"number": "Part No.", "next": "Replaced by", "with": "Built with"}
    stated = {names.get(key, key.capitalize()): value for key, value in cells.items()}
    assert set(stated) <= set(HEADING.split(",")), stated
    out = io.StringIO()
    csv.writer(out).writerow([stated.get(name, "") for name in HEADING.split(",")])
    return out.getvalue().strip()


def write(book: Path, *rows: str, name: str = "list.csv", encoding: str = "utf-8", heading: str = HEADING) -> Path:
    path = book / name
    path.write_bytes("\n".join([heading, *rows, ""]).encode(encoding))
    return path


def take(book: Path, *more: str, file: str = "list.csv") -> int:
    return main(["import", str(book / file), "--map", str(book / "map.yaml"), "--root", str(book), *more])


def entries(book: Path) -> dict[str, bytes]:
    return {str(path.relative_to(book)): path.read_bytes() for path in sorted((book / "entries").rglob("*.md"))}


def errors(book: Path, capsys: pytest.CaptureFixture) -> list[dict]:
    capsys.readouterr()
    main(["lint", "--root", str(book), "--format", "json"])
    return [one for one in json.loads(capsys.readouterr().out) if one["severity"] == "error"]


def left(book: Path, name: str = "list.not-taken.csv", delimiter: str = ",") -> list[dict[str, str]]:
    text = (book / name).read_bytes().decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text, newline=""), delimiter=delimiter))


WITH = {"with": "tb 2319"}
GOOD = (
    row(
        number="ZZ-1", family="tamblin-drum", housing="13 Oval", status="NLA", pins="1=starter in; 2=starter out", remarks="four, they say"
    ),
    row(number="ZZ-2", family="Brand New", housing="oval-13", status="OK"),
    row(number="ZZ-3", family="brand new", housing="13 oval", status="superseded", next="ZZ 2", since="2009-05"),
    row(
        number="ZZ-1",
        family="Tamblin drum switch",
        vehicle="Yessick Mirren 1.3",
        years="1993 – 1994",
        plug="oval-four",
        **{"with": "tb 2319"},
    ),
)


def test_rows_become_parts_and_vehicles(book: Path, capsys: pytest.CaptureFixture) -> None:
    before = entries(book)
    write(book, *GOOD)
    assert take(book) == 0, capsys.readouterr()
    after = entries(book)
    changed = {file for file in after if after[file] != before.get(file)}
    assert changed == {"entries/switches/brand-new.md", "entries/switches/tamblin-drum.md"}
    assert after["entries/switches/brand-new.md"].decode() == (
        "---\nkind: switch\nid: brand-new\ntitle: Brand New\npositions: [P, R, N, D, 2, 1]\nparts:\n"
        "  - number: ZZ-2\n    connector: oval-13\n    status: current\n"
        "    sources:\n      - {kind: catalogue, detail: our list, by: counter, on: 2026-02-11}\n"
        "  - number: ZZ-3\n    connector: oval-13\n    status: superseded\n    superseded_by:\n      - {number: ZZ 2, since: 2009-05}\n"
        "    sources:\n      - {kind: catalogue, detail: our list, by: counter, on: 2026-02-11}\n---\n"
    )
    assert errors(book, capsys) == []
    assert not (book / "list.not-taken.csv").exists()


def test_no_other_byte_of_an_entry_is_touched(book: Path) -> None:
    before = (book / "entries/switches/tamblin-drum.md").read_bytes().split(b"\n")
    write(book, *GOOD)
    take(book)
    after = (book / "entries/switches/tamblin-drum.md").read_bytes().split(b"\n")
    new = [line for line in after if line not in before]
    rest = list(after)
    for line in new:
        rest.remove(line)
    # Some lines of the new part are to be found elsewhere in the file too.
    assert [line for line in before if line in rest] == before
    assert b"  - number: ZZ-1" in new
    assert b"  - {vehicle: Yessick Mirren 1.3, years: 1993-1994, plug: oval-four, came_with: tb 2319}" in new


def test_the_same_rows_again_change_nothing(book: Path, capsys: pytest.CaptureFixture) -> None:
    write(book, *GOOD)
    assert take(book) == 0
    once = entries(book)
    capsys.readouterr()
    assert take(book) == 0
    assert entries(book) == once
    said = capsys.readouterr().out
    assert "0 taken, 4 with nothing new, 0 not taken" in said and "Written" not in said


def test_a_dry_run_shows_and_writes_nothing(book: Path, capsys: pytest.CaptureFixture) -> None:
    before = entries(book)
    write(book, *GOOD, row(number="ZZ-9"))
    assert take(book, "--dry-run") == 1
    assert entries(book) == before and not (book / "list.not-taken.csv").exists()
    said = capsys.readouterr().out
    assert "+++ b/entries/switches/brand-new.md" in said and "+  - number: ZZ-1" in said and "Nothing was written." in said


NOT_TAKEN = [
    (row(number="", family="tamblin-drum"), "number is missing"),
    (row(number="ZZ-9"), "which family ZZ-9 is of is not said"),
    (row(number="ZZ-9", family="???"), "no file can be called after"),
    (row(number="ZZ-9", family="tamblin-lever", housing="oval-88"), "oval-88, which the book does not have"),
    (row(number="ZZ-9", family="tamblin-lever", housing="Oval!"), "small letters"),
    (row(number="ZZ-9", family="tamblin-lever", status="gone"), "`gone` is not known"),
    (row(number="ZZ-9", family="tamblin-lever", pins="7"), "that is how many"),
    (row(number="ZZ-9", family="tamblin-lever", pins="starter in"), "cannot be read at 'starter in'"),
    (row(number="ZZ-9", family="tamblin-lever", pins="1=start_feed, 1=start_out"), "cavity 1 twice"),
    (row(number="ZZ-9", family="tamblin-lever", housing="oval-13", pins="1=start_fed"), "start_fed"),
    (row(number="ZZ-9", family="tamblin-lever", housing="oval-13", pins="99=start_feed"), "99"),
    (row(number="ZZ-9", family="tamblin-lever", status="superseded", next="ZZ-404"), "ZZ-404"),
    (row(number="ZZ-9", family="tamblin-lever", since="2009"), "not by which number"),
    (row(number="ZZ-9", family="tamblin-lever", years="2003-2008"), "but not the vehicle"),
    (row(number="ZZ-9", family="tamblin-lever", vehicle="Corran Delver", years="03/08"), "model years"),
    (row(number="ZZ-9", family="tamblin-lever", vehicle="Corran Delver", plug="ten-wire"), "no plug 'ten-wire'"),
    (row(number="ZZ-9", family="tamblin-lever", vehicle="Corran Delver", years="2008-2003"), "2003"),
    (row(number="1.20E+05", family="tamblin-lever"), "spreadsheet program spoils it"),
    (row(number="#REF!", family="tamblin-lever"), "Part No.: #REF! is a spreadsheet program's word for an error"),
    (row(number="ZZ-9", family="tamblin-lever", housing="#N/A"), "Housing: #N/A is"),
    (row(number="ZZ-9", family="tamblin-lever", remarks="see #NAME?"), "#NAME? is"),
    (row(number="ZZ-9", family="tamblin-lever", pins="#DIV/0!"), "#DIV/0! is"),
    (row(number="ZZ-9001, ZZ-9002", family="tamblin-lever"), "is 2 numbers in one cell"),
    (row(number="ZZ-9001 / ZZ-9002", family="tamblin-lever"), "is 2 numbers in one cell"),
    (row(number="ZZ-9001/ZZ-9002", family="tamblin-lever"), "is 2 numbers in one cell"),
    (row(number="ZZ-9001\nZZ-9002\nZZ-9003", family="tamblin-lever"), "is 3 numbers in one cell"),
    (row(number="ZZ-9", family="tamblin-lever", vehicle="Corran Delver", **{"with": "TB-2319; TB-2270"}), "is 2 numbers in one cell"),
    (row(number="TB-12340", family="tamblin-drum"), "is in entries/switches/tamblin-lever.md"),
    (row(number="tw-9018", family="tamblin-drum"), "number of the kit"),
    (row(number="TB-2319", housing="oval-14"), "the row says oval-14: see which is right"),
    (row(number="TB-2319", remarks="rusty"), "add it by hand"),
    (row(number="TB-2319", next="TB-2270"), "add it by hand"),
    (row(number="TB-2270", next="TB-2319", since="2001"), "see which is right"),
    ("ZZ-9,tamblin-lever", "the row has 2 cells, the heading 13"),
    (row(number="ZZ-9", family="tamblin-lever") + ",more", "has to stand in quotes"),
]


@pytest.mark.parametrize("number", ["55 20417", "GH 2315 04", "342 118 226", "62/30417/B", "TB-20417/A", "9012 3456", "PV.63307.A"])
def test_one_number_is_one_however_it_is_written(number: str) -> None:
    assert numbers_in(number) == [number]


@pytest.mark.parametrize(("bad", "why"), NOT_TAKEN, ids=[why for _, why in NOT_TAKEN])
def test_a_row_that_cannot_be_taken_is_kept_with_the_reason(book: Path, capsys: pytest.CaptureFixture, bad: str, why: str) -> None:
    before = entries(book)
    write(book, GOOD[1], bad, GOOD[2])
    assert take(book) == 1
    said = capsys.readouterr().out
    assert "line 3: NOT TAKEN: " in said and why in said
    after = entries(book)
    assert [file for file in after if after[file] != before.get(file)] == ["entries/switches/brand-new.md"]
    raw = (book / "list.not-taken.csv").read_bytes().decode("utf-8-sig")
    rows = list(csv.reader(io.StringIO(raw, newline="")))
    assert rows[0] == ["line", "not taken because", *HEADING.split(",")]
    assert len(rows) == 2 and rows[1][0] == "3" and why in rows[1][1]
    assert rows[1][2:] == next(csv.reader([bad]))
    assert errors(book, capsys) == []


def test_what_was_left_can_be_mended_and_taken_from_its_own_file(book: Path, capsys: pytest.CaptureFixture) -> None:
    write(book, row(number="ZZ-9", family="tamblin-lever", status="gone"), "ZZ-8,tamblin-lever")
    assert take(book) == 1
    side = book / "list.not-taken.csv"
    side.write_bytes(side.read_bytes().replace(b"gone", b"ok"))
    assert take(book, file="list.not-taken.csv") == 1
    assert "number: ZZ-9" in (book / "entries/switches/tamblin-lever.md").read_text("utf-8")
    (again,) = left(book, "list.not-taken.not-taken.csv")
    assert again["Part No."] == "ZZ-8" and "2 cells" not in again["not taken because"] and "4 cells" in again["not taken because"]


def test_a_file_of_left_rows_that_was_edited_is_not_written_over(book: Path) -> None:
    write(book, row(number="ZZ-9"))
    assert take(book) == 1
    side = book / "list.not-taken.csv"
    first = side.read_bytes()
    assert take(book) == 1
    assert not (book / "list.not-taken-2.csv").exists()
    side.write_bytes(first + b"mine")
    assert take(book) == 1
    assert side.read_bytes() == first + b"mine"
    assert (book / "list.not-taken-2.csv").read_bytes() == first


def test_a_row_is_left_out_with_the_rows_that_need_it(book: Path, capsys: pytest.CaptureFixture) -> None:
    write(
        book,
        row(number="ZZ-5", family="New", status="superseded", next="ZZ-6"),
        row(number="ZZ-6", family="New", status="superseded", next="ZZ-7"),
        row(number="ZZ-7", family="New", housing="oval-88"),
        row(number="ZZ-8", family="New"),
    )
    assert take(book) == 1
    assert [one["Part No."] for one in left(book)] == ["ZZ-5", "ZZ-6", "ZZ-7"]
    assert "number: ZZ-8" in (book / "entries/switches/new.md").read_text("utf-8")
    assert errors(book, capsys) == []


def test_doubled_and_contradicting_rows(book: Path, capsys: pytest.CaptureFixture) -> None:
    one = row(number="ZZ-5", family="New", housing="oval-13")
    other, more = row(number="zz5", family="New", housing="oval-14"), row(number="ZZ-5", family="New", status="ok")
    write(book, one, one, other, more, row(number="ZZ-4"), row(number="ZZ-4"))
    assert take(book) == 1
    said = capsys.readouterr().out
    assert "line 3: nothing new: the same as line 2" in said
    assert "line 4: NOT TAKEN: connector is oval-14 here and oval-13 in line 2" in said
    assert "line 5: taken" in said
    assert "line 7: NOT TAKEN: the same as line 6" in said
    assert len(left(book)) == 3
    text = (book / "entries/switches/new.md").read_text("utf-8")
    assert text.count("number:") == 1 and "    connector: oval-13\n    status: current\n" in text


CLAIM = """---
kind: switch
id: odd
title: Odd
positions: [P, R, N, D]
parts:
  - number: OD-1
    connector: oval-13
    status: superseded
    pins: {1: start_feed, 2: start_out}
    contacts:
      - {pins: [1, 2], closed: [P, N]}
    superseded_by:
      - {number: ZZ-9}
plugs:
  two:
    connector: oval-13
    wires: {1: {circuit: start_feed}, 2: {circuit: start_out}}
applications:
  - {vehicle: Odd, years: 2001, plug: two, came_with: OD-1}
---
"""


def test_a_part_that_makes_a_claim_of_the_book_wrong_is_not_taken(book: Path, capsys: pytest.CaptureFixture) -> None:
    """As long as ZZ-9 is not in the book nothing contradicts that it takes the place of OD-1."""
    path = book / "entries/switches/odd.md"
    path.write_text(CLAIM, "utf-8")
    write(book, row(number="ZZ-9", family="odd", housing="square-9"), row(number="ZZ-8", family="odd"))
    assert take(book) == 1
    (one,) = left(book)
    assert one["Part No."] == "ZZ-9" and "is said to take the place of OD-1, but it does not fit" in one["not taken because"]
    assert "number: ZZ-8" in path.read_text("utf-8")


ODD = [
    ("parts: [{number: OD-1, connector: oval-13, sources: [{kind: seen}]}]", "written on one line"),
    ("parts: [{number: OD-1, connector: oval-13,\n  sources: [{kind: seen}]}]", "written on one line"),
    ("parts:\n-\n  number: OD-1\n  connector: oval-13\n  sources: [{kind: seen}]", "a dash on a line for each item"),
]


@pytest.mark.parametrize(("parts", "why"), ODD)
def test_where_lines_cannot_be_added_the_rows_are_left(book: Path, capsys: pytest.CaptureFixture, parts: str, why: str) -> None:
    path = book / "entries/switches/odd.md"
    path.write_text(f"---\nkind: switch\nid: odd\ntitle: Odd\npositions: [P, R, N, D]\n{parts}\n---\n", "utf-8")
    before = path.read_bytes()
    write(book, row(number="ZZ-9", family="odd"))
    assert take(book) == 1
    assert path.read_bytes() == before
    assert why in left(book)[0]["not taken because"]


FORMS = [
    ("parts:\n- number: OD-1\n  connector: oval-13\n# about the applications\n\napplications:\n- {vehicle: Odd}\n", b"\n"),
    ("parts:\n    -   number: OD-1\n        connector: oval-13\n        # the last word on it\nfitting: {set_in: N}\n", b"\r\n"),
    ("parts:\n  - number: OD-1\n    note: |\n      # not a comment\n\n      more\n", b"\n"),
]


@pytest.mark.parametrize(("lists", "end"), FORMS)
def test_lines_are_added_in_the_way_that_the_file_is_written(book: Path, capsys: pytest.CaptureFixture, lists: str, end: bytes) -> None:
    path = book / "entries/switches/odd.md"
    text = f"---\nkind: switch\nid: odd\ntitle: Odd\npositions: [P, R, N, D]\n{lists}---\nProse.\n"
    path.write_bytes(text.encode().replace(b"\n", end))
    before = path.read_bytes().split(end)
    write(book, row(number="ZZ-9", family="odd", vehicle="Odder", years="2001"))
    assert take(book) == 0, capsys.readouterr()
    after = path.read_bytes().split(end)
    assert b"\n" not in b"".join(after) or end == b"\n"
    kept = iter(after)
    assert all(line in kept for line in before), path.read_text("utf-8")
    assert errors(book, capsys) == []
    main(["look", "ZZ-9", "--root", str(book)])
    assert "ZZ-9" in capsys.readouterr().out
    assert take(book) == 0 and path.read_bytes().split(end) == after


def test_an_entry_that_cannot_be_read_is_left_alone(book: Path, capsys: pytest.CaptureFixture) -> None:
    path = book / "entries/switches/tamblin-drum.md"
    path.write_bytes(path.read_bytes().replace(b"kind: switch", b"kind: [switch"))
    before = path.read_bytes()
    write(book, row(number="TB-2270", status="superseded"), row(number="ZZ-9", family="tamblin-drum"))
    assert take(book) == 1
    assert path.read_bytes() == before
    assert all("cannot be read" in one["not taken because"] for one in left(book))


ENCODINGS = [("utf-8", ()), ("utf-8-sig", ()), ("utf-16", ()), ("windows-1252", ("--encoding", "windows-1252"))]


@pytest.mark.parametrize(("encoding", "flags"), ENCODINGS)
@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_encodings_and_delimiters(book: Path, capsys: pytest.CaptureFixture, encoding: str, flags: tuple[str, ...], delimiter: str) -> None:
    rows = [delimiter.join(line.split(",")) for line in (row(number="ZZ-9", family="Größe Süd"), row(number="ZZ-8", family="???"))]
    write(book, *rows, encoding=encoding, heading=delimiter.join(HEADING.split(",")))
    assert take(book, *flags) == 1, capsys.readouterr()
    assert "title: Größe Süd\n" in (book / "entries/switches/gr-e-s-d.md").read_text("utf-8")
    assert [one["Part No."] for one in left(book, delimiter=delimiter)] == ["ZZ-8"]


def test_a_separator_line_windows_ends_and_blank_rows(book: Path) -> None:
    text = f"sep=;\r\n{HEADING.replace(',', ';')}\r\n\r\n{';' * 12}\r\nZZ-9;tamblin-lever{';' * 11}\r\n"
    (book / "list.csv").write_bytes(text.encode())
    assert take(book) == 0


def test_a_cell_of_several_lines_and_a_number_kept_as_text(book: Path) -> None:
    write(book, row(number='="00123"', family="New", remarks="first\nsecond"), row(number="ZZ-9"))
    assert take(book) == 1
    text = (book / "entries/switches/new.md").read_text("utf-8")
    assert "number: 00123\n" in text and 'note: "Remarks: first second"' in text
    assert left(book)[0]["line"] == "4"


CANNOT = [
    (b"", "is empty"),
    (b"\n\n", "is empty"),
    (b"a,b\n1,2\n", "none of the mapping's headings"),
    (b"Part No.,Family\nZZ-9,tamblin-drum\n", "names columns that the file has not: `Housing`"),
    (HEADING.encode() + b",Part No.\n", "several columns called `Part No.`"),
    (HEADING.encode() + b"\nZZ-9,Gr\xf6\xdfe" + b"," * 11 + b"\n", "line 2: the byte 0xf6 is not UTF-8"),
    (HEADING.encode() + "\nZZ-8,Größe".encode() + b"," * 11 + b"\nZZ-9,\xf6" + b"," * 11, "encodings are mixed: line 2 is UTF-8, line 3"),
    (HEADING.encode("utf-16-le"), "looks like UTF-16"),
    (HEADING.encode() + b'\nZZ-9,"never closed' + b"," * 11 + b"\nZZ-8\n", "line 2: unexpected end of data"),
    (HEADING.encode() + b'\nZZ-9,"9" wide"' + b"," * 11 + b"\n", "line 2: ',' expected after '\"'"),
    (HEADING.encode() + b"\n" + b"x" * 200_000 + b"," * 12 + b"\n", "line 2: field larger than field limit"),
    (b"\xff\xfe" + HEADING.encode("utf-16-le") + b"\x0a", "not utf-16"),
]


@pytest.mark.parametrize(("data", "why"), CANNOT, ids=[why[:50] for _, why in CANNOT])
def test_a_file_that_cannot_be_read_says_where(book: Path, capsys: pytest.CaptureFixture, data: bytes, why: str) -> None:
    before = entries(book)
    (book / "list.csv").write_bytes(data)
    assert take(book) == 2
    said = capsys.readouterr().err
    assert why in said and "list.csv" in said
    assert entries(book) == before


FLAGS = [
    (("--encoding", "utf-9"), "there is no encoding utf-9"),
    (("--encoding", "windows-1252"), "the file is UTF-8 (see line 2)"),
    (("--encoding", "ascii"), "line 2: this is not ascii"),
    (("--delimiter", "colon"), "expected comma, semicolon, tab, bar, or one sign"),
    (("--delimiter", "semicolon"), "names columns that the file has not"),
]


@pytest.mark.parametrize(("flags", "why"), FLAGS)
def test_flags_that_do_not_fit_the_file(book: Path, capsys: pytest.CaptureFixture, flags: tuple[str, ...], why: str) -> None:
    write(book, row(number="ZZ-9", family="Größe"))
    assert take(book, *flags) == 2
    assert why in capsys.readouterr().err


def test_mixed_encodings_are_seen_with_a_stated_one_too(book: Path, capsys: pytest.CaptureFixture) -> None:
    lines = [row(number="ZZ-8", family="Größe").encode("utf-8"), row(number="ZZ-9", family="Größe").encode("windows-1252")]
    (book / "list.csv").write_bytes(b"\n".join([HEADING.encode(), *lines, b""]))
    assert take(book, "--encoding", "windows-1252") == 2
    assert "encodings are mixed: line 2 is UTF-8, line 3 is not" in capsys.readouterr().err


MAPPINGS = [
    ("", "the mapping is empty; begin with `columns:`"),
    ("columns: [a]\n", "which column holds the part number"),
    ("columns: {number: Part No.}\ncolums: {}\n", "line 2: there is no key `colums` in a mapping; did you mean `columns`?"),
    ("columns: {number: Part No., numbr: x}\n", "no field `numbr`; did you mean `number`?"),
    ("columns: {number: Part No.}\ncolumns: {}\n", "line 2: the key `columns` stands here a second time"),
    ("columns: {number: [a]}\n", "has to be the heading of one column"),
    ("columns: {number: Part No., status: }\n", "`status` has no heading"),
    ("columns: {number: Part No.}\nfixed: {number: x}\n", "is under `columns` too"),
    ("columns: {number: Part No.}\nfixed: {status: [x]}\n", "`fixed.status` has to be text"),
    ("columns: {number: Part No.}\nsplit: {status: /}\n", "a row has one status only"),
    ("columns: {number: Part No.}\nvalues: {status: [x]}\n", "the list's words and the book's"),
    ("columns: {number: Part No.}\nnotes: Remarks\n", "has to be a list of headings"),
    ("columns: {number: Part No.}\nnew_family: {id: x}\n", "comes from the rows"),
    ("columns: {number: Part No.}\nnew_family: {positions: [P]}\n", "`new_family` in the mapping"),
    ("columns: {number: Part No.}\nnew_family: {positons: [P, R]}\n", "did you mean `positions`"),
    ("columns: {number: Part No.}\nsource: {kind: gossip}\n", "`gossip` is not known"),
    ("columns: {number: Part No.\n", "not closed"),
    ("columns: &a {number: Part No.}\n", "anchor"),
    ("columns:\n\tnumber: x\n", "a tab stands here"),
]


@pytest.mark.parametrize(("text", "why"), MAPPINGS, ids=[why[:50] for _, why in MAPPINGS])
def test_a_mapping_that_will_not_do(book: Path, capsys: pytest.CaptureFixture, text: str, why: str) -> None:
    before = entries(book)
    write(book, *GOOD)
    (book / "map.yaml").write_text(text, "utf-8")
    assert take(book) == 2
    assert why in capsys.readouterr().err
    assert entries(book) == before


@pytest.mark.parametrize("missing", ["list.csv", "map.yaml"])
def test_a_file_that_is_not_there(book: Path, capsys: pytest.CaptureFixture, missing: str) -> None:
    write(book, *GOOD)
    (book / missing).unlink()
    assert take(book) == 2
    assert missing in capsys.readouterr().err


@pytest.mark.parametrize("folder", ["list.csv", "map.yaml"])
def test_a_file_that_is_a_folder(book: Path, capsys: pytest.CaptureFixture, folder: str) -> None:
    write(book, *GOOD)
    (book / folder).unlink()
    (book / folder).mkdir()
    before = entries(book)
    assert take(book) == 2
    assert f"{folder}: Is a directory" in capsys.readouterr().err
    assert entries(book) == before


def test_where_nothing_may_be_written_nothing_is_lost(book: Path, capsys: pytest.CaptureFixture, monkeypatch: pytest.MonkeyPatch) -> None:
    """Root may write everything; for the test nobody may. Once it is mended the same rows are taken."""
    write(book, *GOOD)
    before = entries(book)
    with monkeypatch.context() as patched:
        patched.setattr(os, "access", lambda *_: False)
        assert take(book) == 2
    said = capsys.readouterr().err
    assert "it is write-protected" in said and "mend this and run it again" in said
    assert {file: data for file, data in entries(book).items() if file in before} == before
    assert take(book) == 0
    assert "ZZ-1" in (book / "entries/switches/tamblin-drum.md").read_text("utf-8")


def test_a_column_that_nothing_is_said_of_is_told(book: Path, capsys: pytest.CaptureFixture) -> None:
    write(book, row(number="ZZ-9", family="New") + ",top shelf", heading=HEADING + ",Shelf")
    assert take(book) == 0
    assert "Shelf; name them under `notes` or `ignore`" in capsys.readouterr().err


def test_pins_in_columns_and_what_is_the_same_in_every_row(book: Path, capsys: pytest.CaptureFixture) -> None:
    (book / "map.yaml").write_text(
        "columns: {number: No, pins: {1: Pin 1, 2: Pin 2}, vehicle: Fits}\n"
        "fixed: {family: New, gearbox: Box 1, connector: oval-13, plug: two}\n"
        "values: {pins: {S+: start_feed, S-: start_out}}\nsplit: {vehicle: ;}\n"
        "new_family:\n  positions: [P, R, N, D]\n"
        "  plugs: {two: {connector: oval-13, wires: {1: {circuit: start_feed}, 2: {circuit: start_out}}}}\n",
        "utf-8",
    )
    write(book, "ZZ-9,s+,S-,Corran A; Corran B", "ZZ-8,,S-,", heading="No,Pin 1,Pin 2,Fits")
    assert take(book) == 0, capsys.readouterr()
    text = (book / "entries/switches/new.md").read_text("utf-8")
    assert "gearboxes: [Box 1]\npositions: [P, R, N, D]\n" in text
    assert "    pins: {1: start_feed, 2: start_out}\n" in text and "    pins: {2: start_out}\n" in text
    assert "  - {vehicle: Corran A, gearbox: Box 1, plug: two}\n  - {vehicle: Corran B, gearbox: Box 1, plug: two}\n" in text
    assert errors(book, capsys) == []


def test_the_help_shows_a_mapping_that_is_one(capsys: pytest.CaptureFixture) -> None:
    from rangebook.desk.importing.columns import columns_of
    from rangebook.desk.importing.mapping import read_mapping
    from rangebook.schema.store import load_schemas

    with pytest.raises(SystemExit):
        main(["import", "--help"])
    shown = capsys.readouterr().out
    start = shown.index("    columns: ")
    text = "\n".join(line[4:] for line in shown[start : shown.index("\n\nA row with a vehicle")].split("\n"))
    mapping = read_mapping("help", text.encode(), columns_of(load_schemas()))
    assert mapping.columns["number"] == "Part No." and mapping.new_family["positions"][0] == "P"


def test_several_connectors_come_in_by_name(book: Path, capsys: pytest.CaptureFixture) -> None:
    heading = "Part No.,Family,Housings,Pins"
    lines = ['PW 671.077,harnby-pair,"main=square-9, lamp: round-5","main.B=start_feed, main.C=start_out, lamp.2=backup_feed"']
    lines.append("PW 671.078,harnby-pair,square-9,main.B=start_feed")
    (book / "list.csv").write_text("\n".join([heading, *lines, ""]), "utf-8")
    columns = {"number": "Part No.", "family": "Family", "connectors": "Housings", "pins": "Pins"}
    (book / "map.yaml").write_text(json.dumps({"columns": columns, "source": {"kind": "catalogue", "detail": "a list"}}), "utf-8")
    status = main(["import", str(book / "list.csv"), "--map", str(book / "map.yaml"), "--root", str(book)])
    said = capsys.readouterr()
    text = (book / "entries/switches/harnby-pair.md").read_text("utf-8")
    assert "number: PW 671.077" in text and "connectors: {main: square-9, lamp: round-5}" in text, said
    assert "pins: {main.B: start_feed, main.C: start_out, lamp.2: backup_feed}" in text
    assert status != 0 and "PW 671.078" not in text and "as in `main=rect-9, lamp=oval-2`" in said.out + said.err


HUB_HEADING = "Part No.,Family,Mount,Looked at in,Hub at,Detents,Turns"
HUB_MAP = {
    "columns": {
        "number": "Part No.",
        "family": "Family",
        "mount": "Mount",
        "hub_position": "Looked at in",
        "hub_at_deg": "Hub at",
        "hub_steps_deg": "Detents",
        "hub_turns": "Turns",
    },
    "values": {"hub_turns": {"cw": "clockwise", "left": "anticlockwise"}},
    "new_family": {"positions": ["P", "R", "N", "D", "2", "1"]},
}


def take_hubs(book: Path, *rows: str, **more: object) -> int:
    (book / "map.yaml").write_text(json.dumps({**HUB_MAP, **more}), "utf-8")
    write(book, *rows, heading=HUB_HEADING)
    return take(book)


def test_where_the_hub_stands_comes_in_with_its_mount(book: Path, capsys: pytest.CaptureFixture) -> None:
    rows = (
        "ZZ-9,New,low boss,N,35,18 16 16 18 18,CW",
        "ZZ-8,New,low boss,N,35,18; 16; 16; 18; 18,cw",
        "ZZ-7,New,ear,,,18 16 16 18 18.5,left",
    )
    assert take_hubs(book, *rows) == 0, capsys.readouterr()
    text = (book / "entries/switches/new.md").read_text("utf-8")
    assert "  low boss:\n    hub: {position: N, at_deg: 35, steps_deg: [-18, -16, -16, -18, -18]}\n" in text
    assert "  ear:\n    hub: {steps_deg: [18, 16, 16, 18, 18.5]}\n" in text
    assert errors(book, capsys) == []
    before = entries(book)
    assert take_hubs(book, *rows) == 0 and entries(book) == before, "the same rows again"
    assert "3 with nothing new" in capsys.readouterr().out


HUBS_LEFT = [
    ("ZZ-9,New,,N,35,18,cw", "not of which mount"),
    ("ZZ-9,New,boss,N,35,18 16 16 18 18,", "which way the hub turns is not said"),
    ("ZZ-9,New,boss,N,35,18 -16 16 18 18,left", "which is clockwise, and hub_turns says anticlockwise"),
    ("ZZ-9,New,boss,N,35,18 16 16 18 18,round", "the hub_turns 'round' is not known"),
    ("ZZ-9,New,boss,N,35,18 half 16 18 18,cw", "cannot be read at 'half'"),
    ("ZZ-9,New,boss,N,35,,cw", "not how far from detent to detent"),
    ("ZZ-9,New,boss,N,35 or so,,", "35 or so"),
    ("ZZ-9,New,boss,N,35,18 16 16,cw", "hub-detents"),
    ("TB-20417-X,tamblin-lever,no such,N,35,,", "no mount 'no such'"),
]


@pytest.mark.parametrize(("line", "why"), HUBS_LEFT, ids=[why for _, why in HUBS_LEFT])
def test_a_hub_that_cannot_be_is_left_with_the_reason(book: Path, capsys: pytest.CaptureFixture, line: str, why: str) -> None:
    assert take_hubs(book, line, "ZZ-1,Other,boss,N,35,-18 -16 -16 -18 -18,") == 1
    (one,) = left(book)
    assert one["Part No."] == line.partition(",")[0] and why in one["not taken because"]
    assert "steps_deg: [-18, -16, -16, -18, -18]" in (book / "entries/switches/other.md").read_text("utf-8")


def test_a_hub_has_to_be_as_other_rows_have_it(book: Path, capsys: pytest.CaptureFixture) -> None:
    rows = ("ZZ-9,New,boss,N,35,,", "ZZ-8,New,boss,N,40,,", "ZZ-7,New,boss,N,,-18 -16 -16 -18 -18,")
    assert take_hubs(book, *rows, new_family={"positions": list("PRND21"), "mounts": {"boss": {"hub": {"position": "N"}}}}) == 1
    (one,) = left(book)
    assert one["Part No."] == "ZZ-8" and "`hub.at_deg` 35, the row says 40" in one["not taken because"]
    text = (book / "entries/switches/new.md").read_text("utf-8")
    assert "hub: {position: N, at_deg: 35, steps_deg: [-18, -16, -16, -18, -18]}" in text


def test_nothing_is_written_into_a_mount_that_is_there(book: Path, capsys: pytest.CaptureFixture) -> None:
    path = book / "entries/switches/odd.md"
    odd = "parts:\n  - number: OD-1\n    mount: boss\nmounts: {boss: {hub: {position: N, at_deg: 35.0}}}"
    path.write_text(f"---\nkind: switch\nid: odd\ntitle: Odd\npositions: [P, R, N, D]\n{odd}\n---\n", "utf-8")
    rows = ("OD-1,odd,boss,N,35,,", "OD-2,odd,boss,N,35,,", "OD-3,odd,boss,N,36,,", "OD-4,odd,boss,N,35,18 16 16,cw")
    assert take_hubs(book, *rows) == 1
    assert "1 taken, 1 with nothing new, 2 not taken" in capsys.readouterr().out
    assert [one["not taken because"] for one in left(book)] == [
        "entries/switches/odd.md has the mount boss with `hub.at_deg` 35, the row says 36: see which is right",
        "entries/switches/odd.md has the mount boss without `hub.steps_deg`, the row says [-18, -16, -16]: add it by hand",
    ]
    assert "mounts: {boss: {hub: {position: N, at_deg: 35.0}}}" in path.read_text("utf-8") and "number: OD-2" in path.read_text("utf-8")


def test_where_the_engine_cranks_comes_in_with_its_vehicle(book: Path, capsys: pytest.CaptureFixture) -> None:
    mapping = (
        "columns:\n  {number: Part No., family: Family, vehicle: Vehicle, years: Years, came_with: Part No., cranks_in: Cranks,"
        " cranks_by: By}\n"
        "values: {cranks_in: {park: P}}\n"
        "new_family:\n  positions: [P, R1, R2, N, D, L]\n  means: {R1: R, R2: R, L: 1}\n  plugs:\n    six:\n      connector: oval-13\n"
        "      wires: {1: {circuit: start_feed}, 2: {circuit: start_out}}\n      loops: [[5, 6]]\n"
    )
    (book / "map.yaml").write_text(mapping, "utf-8")
    rows = (
        "XY 1,Upton dale,Upton Dale 1.6,1999-2003,park,\nXY 2,Upton dale,Upton Dale 2.0,1999-2003,P N,module\nXY 3,Upton dale,,,,module\n"
    )
    (book / "list.csv").write_text(f"Part No.,Family,Vehicle,Years,Cranks,By\n{rows}", "utf-8")
    main(["import", str(book / "list.csv"), "--map", str(book / "map.yaml"), "--root", str(book)])
    assert "cranks_by is stated, but not the vehicle" in (out := capsys.readouterr()).out + out.err
    text = (book / "entries/switches/upton-dale.md").read_text("utf-8")
    assert "means: {R1: R, R2: R, L: 1}" in text and load(book).book.families["upton-dale"].plugs["six"].loops == (("5", "6"),)
    assert "cranks: {in: [P]}" in text and "cranks: {by: module, in: [P, N]}" in text


def test_conditions_come_in_with_their_vehicle_and_their_successor(book: Path) -> None:
    columns = {"number": "No.", "family": "Family", "superseded_by": "Next", "successor_vin_from": "Next VIN", "vehicle": "Vehicle"}
    columns |= {"successor_steering": "Next wheel", "successor_built_to": "Until"}
    columns |= {"vin_from": "VIN", "vin_to": "to", "steering": "Wheel", "built_for": "Market", "stamped_at": "Read at", "marked": "Dot"}
    text = "".join(f"  {name}: {heading}\n" for name, heading in columns.items())
    (book / "map.yaml").write_text(
        f"columns:\n{text}values: {{steering: {{RHD: right}}}}\nnew_family: {{positions: [P, R, N, D]}}\n", "utf-8"
    )
    heading = ",".join(columns.values())
    cells = {"No.": "ZZ-9", "Family": "New", "Next": "TB-2319", "Next VIN": "104418", "Next wheel": "left", "Until": "2011-06"}
    cells |= {"Vehicle": "Odd", "VIN": "00100", "to": "00899", "Wheel": "RHD", "Market": "islands", "Read at": "door post"}

    def line(**more: str) -> str:
        return ",".join({**cells, **more}.get(name, "") for name in columns.values())

    write(book, line(), heading=heading)
    assert take(book) == 0
    front = load(book).book.families["new"].entry.front
    assert front is not None
    link = {"number": "TB-2319", "when": {"vin": {"from": "104418"}, "built": {"to": "2011-06"}, "steering": "left"}}
    assert front["parts"][0]["superseded_by"] == [link]
    when = {"vin": {"from": "00100", "to": "00899"}, "steering": "right", "built_for": "islands", "stamped_at": "door post"}
    assert front["applications"] == [{"vehicle": "Odd", "when": when}]
    before = entries(book)
    assert take(book) == 0 and entries(book) == before, "the same rows again change nothing"
    write(book, line(VIN="00900", to="00999"), heading=heading)
    assert take(book) == 0 and len(load(book).book.families["new"].applications) == 2, "another vehicle of the same name"
    write(book, line(Vehicle=""), line(Next=""), heading=heading)
    assert take(book) == 1
    assert [one["not taken because"].split()[0] for one in left(book)] == ["vin_from", "successor_vin_from"]


@pytest.mark.parametrize(("cell", "loops"), [("5+6, 7+8", [["5", "6"], ["7", "8"]]), ("5=6", [["5", "6"]]), ("None", []), ("", None)])
def test_the_jumpers_of_a_plug_come_in_with_a_family_that_is_begun(book: Path, cell: str, loops: list | None) -> None:
    heading = "No.,Family,Vehicle,Plug,Jumpers"
    columns = "columns: {number: No., family: Family, vehicle: Vehicle, plug: Plug, loops: Jumpers}\n"
    wires = "{1: {circuit: start_feed}, 2: {circuit: start_out}}"
    plugs = f"new_family: {{positions: [P, R, N, D], plugs: {{six: {{connector: wedge-14, wires: {wires}}}}}}}\n"
    (book / "map.yaml").write_text(columns + plugs, "utf-8")
    write(book, f'ZZ-9,New,Odd,six,"{cell}"', heading=heading)
    assert take(book) == 0
    (plug,) = load(book).book.families["new"].plugs.values()
    assert (plug.loops_stated, [list(one) for one in plug.loops]) == (loops is not None, loops or [])
    assert take(book) == 0, "the same row again changes nothing"
    if loops is not None:
        for wrong, why in (("1+2", "see which is right"), ("5", "cannot be read")):
            write(book, f"ZZ-9,New,Odd,six,{wrong}", heading=heading)
            assert take(book) == 1
            assert any(
                why in one["not taken because"]
                for file in book.glob("list.not-taken*.csv")
                for one in csv.DictReader(file.open("r", encoding="utf-8"))
            )
            for file in book.glob("list.not-taken*.csv"):
                file.unlink()


def test_tails_what_it_is_sold_in_and_wires_that_some_lack(book: Path) -> None:
    mapping = (
        "columns:\n  {number: Part No., family: Family, tail_length_mm: Lead, tail_ends: Ends, sold_in_set: Set, vehicle: Vehicle,"
        " plug: Plug, optional_cavities: Maybe}\n"
        "values: {tail_ends: {loose: bare}}\n"
        "new_family:\n  positions: [P, R, N, D]\n  plugs:\n    six:\n      connector: oval-13\n"
        "      wires: {1: {circuit: start_feed}, 2: {circuit: start_out}, 9: {colour: RD}}\n"
    )
    (book / "map.yaml").write_text(mapping, "utf-8")
    rows = "XY 1,Upton dale,180,,SET 7,Upton Dale 1.6,six,1 9\nXY 2,Upton dale,,loose,,,,\n"
    (book / "list.csv").write_text(f"Part No.,Family,Lead,Ends,Set,Vehicle,Plug,Maybe\n{rows}", "utf-8")
    assert main(["import", str(book / "list.csv"), "--map", str(book / "map.yaml"), "--root", str(book)]) == 0
    family = load(book).book.families["upton-dale"]
    one, other = family.parts
    assert one.tails[""].length_mm == 180 and dict(one.sold_as) == {"set": "SET 7"} and other.tails[""].ends == "bare"
    assert family.applications[0].optional_cavities == ("1", "9")


def test_what_was_tried_in_the_bay_is_a_record_for_each_row(book: Path, capsys: pytest.CaptureFixture) -> None:
    mapping = (
        "columns:\n  {number: Part No., family: Family, fitted_on: Day, fitted_vehicle: Into, fitted_outcome: Came, fitted_note: Seen}\n"
        "values: {fitted_outcome: {ok: works, nok: fails}}\nfixed: {fitted_by: bay 2}\n"
        "new_family:\n  positions: [P, R, N, D]\n  plugs:\n    six:\n      connector: oval-13\n      wires: {1: {circuit: start_feed}}\n"
    )
    (book / "map.yaml").write_text(mapping, "utf-8")
    rows = "XY 1,Upton dale,2026-03-02,Upton Dale 1.6,ok,\nXY 1,Upton dale,2026-04-07,Upton Dale 2.0,nok,cranks in D\nXY 2,Upton dale,,,,\n"
    (book / "list.csv").write_text(f"Part No.,Family,Day,Into,Came,Seen\n{rows}", "utf-8")
    command = ["import", str(book / "list.csv"), "--map", str(book / "map.yaml"), "--root", str(book)]
    assert main(command) == 0
    one, other = load(book).book.families["upton-dale"].parts
    assert [(each.outcome, each.by, each.vehicle, each.note) for each in one.fitted] == [
        ("works", "bay 2", "Upton Dale 1.6", None),
        ("fails", "bay 2", "Upton Dale 2.0", "cranks in D"),
    ]
    assert other.fitted == (), "what is the same in every row makes no record"
    assert main(command) == 0, "the same rows again change nothing"
    (book / "list.csv").write_text("Part No.,Family,Day,Into,Came,Seen\nXY 1,Upton dale,2026-05-01,Upton Dale 1.6,nok,\n", "utf-8")
    assert main(command) == 1, "into a part that is there nothing is written"
    capsys.readouterr()
    assert main(["look", "XY 1", "--root", str(book)]) == 0
    assert "tried in the bay: worked and did not" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("column", "cell", "stated"),
    [
        (
            "signals_as_written",
            "[{pin: 5, supply: 8, ground: 6, kind: duty_percent, values: {P: 10, R: 20}, frequency_hz: 125}]",
            {
                "signals": [
                    {
                        "pin": "5",
                        "supply": "8",
                        "ground": "6",
                        "kind": "duty_percent",
                        "values": {"P": 10, "R": 20},
                        "frequency_hz": 125,
                    }
                ]
            },
        ),
        (
            "contacts_as_written",
            "[{pins: [3, 4], ohms: {P: 4300, R: 2000}, tolerance_percent: 5}, {pins: [1, 2], closed: [P, N], one_way: yes}]",
            {
                "contacts": [
                    {"pins": ["3", "4"], "ohms": {"P": 4300, "R": 2000}, "tolerance_percent": 5},
                    {"pins": ["1", "2"], "closed": ["P", "N"], "one_way": True},
                ]
            },
        ),
        ("needs_as_written", "[{item: bolt, count: 2, once: yes}]", {"needs": [{"item": "bolt", "count": 2, "once": True}]}),
        ("also_numbered_as_written", "[{number: 55 20417, by: other box}]", {"also_numbered": [{"number": "55 20417", "by": "other box"}]}),
    ],
)
def test_what_has_no_form_of_its_own_stands_in_a_cell_as_in_an_entry(book: Path, column: str, cell: str, stated: dict) -> None:
    """A part with it is taken as it is typed, key by key; the same list again changes nothing."""
    (book / "map.yaml").write_text(MAPPING.replace("  status: Status\n", f"  status: Status\n  {column}: More\n"), "utf-8")
    pins = "1=start_feed, 2=start_out, 3=range_signal, 4=range_return, 5=range_signal, 6=signal_ground, 8=supply"
    text = row(number="ZZ-7741", family="tamblin-lever", housing="oval-13", status="ok", pins=pins)
    out = io.StringIO()
    csv.writer(out).writerow([cell])
    write(book, f"{text},{out.getvalue().strip()}", heading=f"{HEADING},More")
    assert take(book) == 0
    part = load(book).book.part("ZZ-7741")
    front = next(entry for entry in load(book).entries if entry.stem == "tamblin-lever").front
    (found,) = [one for one in front["parts"] if one["number"] == "ZZ-7741"]
    assert part is not None
    for key, value in stated.items():
        assert json.loads(json.dumps(found[key])) == value
    before = (book / "entries" / "switches" / "tamblin-lever.md").read_bytes()
    assert take(book) == 0
    assert (book / "entries" / "switches" / "tamblin-lever.md").read_bytes() == before


@pytest.mark.parametrize("cell", ["[{pin: 5", "{a: 1}\nb: 2", "5: 1, 2", "&a [1]", "volts"])
def test_a_cell_that_is_not_as_in_an_entry_is_not_taken(book: Path, cell: str, capsys: pytest.CaptureFixture[str]) -> None:
    (book / "map.yaml").write_text(MAPPING.replace("  status: Status\n", "  status: Status\n  signals_as_written: More\n"), "utf-8")
    out = io.StringIO()
    csv.writer(out).writerow([cell])
    write(
        book,
        f"{row(number='ZZ-7741', family='tamblin-lever', housing='oval-13', status='ok')},{out.getvalue().strip()}",
        heading=f"{HEADING},More",
    )
    before = (book / "entries" / "switches" / "tamblin-lever.md").read_bytes()
    assert take(book) == 1
    assert (book / "entries" / "switches" / "tamblin-lever.md").read_bytes() == before
    said = capsys.readouterr()
    assert "More" in said.out + said.err or "signals" in said.out + said.err
