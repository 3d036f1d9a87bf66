"""``rangebook import`` of .xlsx and .ods: nothing that a spreadsheet program made of a cell goes into the book unasked.

The files are written by openpyxl and odfdo, as people's programs write them; what is in them by hand is written into their XML.
"""

from __future__ import annotations

import datetime
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from odfdo import Cell, Document, Table

from rangebook.book.load import load
from rangebook.cli import main
from rangebook.cli import writing as writing_module
from rangebook.desk.importing.columns import columns_of
from rangebook.desk.importing.mapping import read_mapping
from rangebook.desk.importing.spoiled import error_word, numbers_in
from rangebook.reading import workbook
from rangebook.reading.workbook import WorkbookError, read_workbook
from rangebook.schema.store import load_schemas

ROOT = Path(__file__).parents[2]

MAPPING = """\
columns:
  number: Part No.
  family: Family
  connector: Housing
  pins: Pins
  contacts: Contacts
  superseded_by: Replaced by
  since: Since
  vehicle: Vehicle
  years: Years
new_family: {positions: [P, R, N, D, 2, 1]}
"""
HEADING = ["Part No.", "Family", "Housing", "Pins", "Contacts", "Replaced by", "Since", "Vehicle", "Years"]

Save = Callable[..., None]


def as_xlsx(path: Path, rows: Sequence[Sequence[Any]], merged: Sequence[str] = (), name: str = "Parts", formats: Any = ()) -> None:
    book = openpyxl.Workbook()
    book.active.title = name
    for row in rows:
        book.active.append(row)
    for one in merged:
        book.active.merge_cells(one)
    for at, style in dict(formats).items():
        book.active[at].number_format = style
    book.save(path)


def as_ods(path: Path, rows: Sequence[Sequence[Any]], merged: Sequence[str] = (), name: str = "Parts", formats: Any = ()) -> None:
    made = Document("spreadsheet")
    made.body.clear()
    table = Table(name)
    for y, row in enumerate(rows):
        for x, value in enumerate(row):
            if value is not None:
                table.set_cell((x, y), Cell(value, text=dict(formats).get(f"{chr(65 + x)}{y + 1}")))
    for one in merged:
        table.set_span(one)
    made.body.append(table)
    made.save(path)


BOTH = [("xlsx", as_xlsx), ("ods", as_ods)]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "entries", tmp_path / "entries")
    (tmp_path / "map.yml").write_text(MAPPING, "utf-8")
    return tmp_path


def take(book: Path, file: str, *flags: str) -> int:
    return main(["import", str(book / file), "--map", str(book / "map.yml"), "--root", str(book), *flags])


def row(**cells: Any) -> list[Any]:
    names = ["number", "family", "housing", "pins", "contacts", "next", "since", "vehicle", "years"]
    return [cells.get(name) for name in names]


def new_entry(book: Path, name: str = "new") -> str:
    return (book / f"entries/switches/{name}.md").read_text("utf-8")


def test_both_formats_are_taken_like_csv(book: Path) -> None:
    rows = [
        HEADING,
        row(number="ZZ-9001", family="New", housing="oval-13", pins="1=start_feed, 2=start_out", contacts="1-2 closed P,N", years=2003,
            vehicle="Odd"),
        row(number="0123", family="New"),
    ]  # fmt: skip
    made = {}
    for suffix, save in BOTH:
        save(book / f"list.{suffix}", [["Our list"], [], *rows])
        assert take(book, f"list.{suffix}") == 0
        made[suffix] = new_entry(book)
        (book / "entries/switches/new.md").unlink()
    assert made["xlsx"] == made["ods"]
    assert "number: 0123\n" in made["ods"] and "{pins: [1, 2], closed: [P, N]}" in made["ods"]
    assert "{vehicle: Odd, years: 2003}" in made["ods"]


@pytest.mark.parametrize(("suffix", "save"), BOTH)
def test_merged_cells_say_it_of_each_of_their_rows(book: Path, suffix: str, save: Save) -> None:
    rows = [
        HEADING,
        row(number="ZZ-9001", family="New", housing="oval-13"),
        row(number="ZZ-9002"),
        row(number="ZZ-9003", housing="oval-14"),
        row(number="ZZ-9004", housing="oval-14", family="Lever new"),
    ]
    save(book / f"list.{suffix}", rows, ["B2:B4", "C2:C3"])
    assert take(book, f"list.{suffix}") == 0
    text = new_entry(book)
    assert text.count("connector: oval-13") == 2 and text.count("connector: oval-14") == 1
    assert "ZZ-9003" in text and "ZZ-9004" not in text


@pytest.mark.parametrize(("suffix", "save"), BOTH)
def test_a_heading_that_is_merged_says_nothing_of_the_rows_below(
    book: Path, suffix: str, save: Save, capsys: pytest.CaptureFixture
) -> None:
    save(book / f"list.{suffix}", [HEADING, row(family="New"), row(number="ZZ-9001", family="New")], ["A1:A2"])
    assert take(book, f"list.{suffix}") == 1
    assert "row 2: NOT TAKEN: the part number is missing" in capsys.readouterr().out


BENT = [
    ({"number": 123}, "Part No.: the cell holds the number 123 and no text; a spreadsheet program makes 123 of 0123"),
    ({"number": 1.2}, "Part No.: the cell holds the number 1.2 and no text; a spreadsheet program makes 1.2 of 1.200"),
    ({"number": 12345678901234567}, "keeps 15 figures"),
    ({"number": datetime.date(2025, 5, 12)}, "Part No.: the cell holds the date 2025-05-12"),
    ({"number": True}, "Part No.: the cell holds TRUE"),
    ({"number": "ZZ-9", "next": 4711}, "Replaced by: the cell holds the number 4711"),
    ({"number": "ZZ-9", "contacts": datetime.date(2025, 2, 1)}, "Contacts: the cell holds the date 2025-02-01"),
    ({"number": "ZZ-9", "vehicle": "Odd", "years": datetime.date(2003, 8, 1)}, "Years: the cell holds the date 2003-08-01"),
    ({"number": "ZZ-9", "vehicle": 9.3}, "Vehicle: the cell holds the number 9.3"),
    ({"number": "ZZ-9", "next": "ZZ-8", "since": 2009.05}, "Since: the cell holds the number 2009.05"),
]


@pytest.mark.parametrize(("suffix", "save"), BOTH)
def test_what_a_spreadsheet_program_made_of_a_cell_is_asked_about(
    book: Path, suffix: str, save: Save, capsys: pytest.CaptureFixture
) -> None:
    save(book / f"list.{suffix}", [HEADING, *(row(family="New", **cells) for cells, _ in BENT)])
    assert take(book, f"list.{suffix}") == 1
    said = capsys.readouterr().out.splitlines()
    for number, (_, why) in enumerate(BENT, 2):
        (line,) = [one for one in said if one.startswith(f"row {number}:")]
        assert "NOT TAKEN" in line and why in line
    assert not (book / "entries/switches/new.md").exists()


@pytest.mark.parametrize(("suffix", "save"), BOTH)
def test_whole_numbers_are_taken_once_the_mapping_says_so(book: Path, suffix: str, save: Save) -> None:
    (book / "map.yml").write_text(MAPPING + "whole_numbers: [number]\n", "utf-8")
    save(book / f"list.{suffix}", [HEADING, row(number=4711, family="New"), row(number=4711.5, family="New")])
    assert take(book, f"list.{suffix}") == 1
    text = new_entry(book)
    assert "number: 4711\n" in text and text.count("number:") == 1


@pytest.mark.parametrize(("suffix", "save", "read"), [("xlsx", as_xlsx, workbook._xlsx), ("ods", as_ods, workbook._ods)])
def test_what_the_other_process_sends_is_what_stands_there(tmp_path: Path, suffix: str, save: Save, read: Callable[..., Any]) -> None:
    """A cell of each kind, and one that stands for four: read here, and through the process that has bounds."""
    rows = [
        ["ZZ-1", 4711, 9.25, True, datetime.date(2009, 5, 1), datetime.timedelta(hours=7)],
        [None, "two\nlines", "merged", None, -0.5, 1e21],
        ["last"],
    ]
    save(tmp_path / f"list.{suffix}", rows, merged=["C2:D3"])
    data = (tmp_path / f"list.{suffix}").read_bytes()
    (sheet,) = read(data)
    assert [sheet] == read_workbook(data)
    first, second, _ = sheet.rows
    assert [first.cells[at] for at in range(5)] == ["ZZ-1", "4711", "9.25", "TRUE", first.cells[4]]
    assert first.cells[4].startswith("2009-05") and second.cells[5] == "1000000000000000000000"
    assert {at: held.kind for at, held in first.held.items()} == {1: "number", 2: "number", 3: "truth", 4: "date", 5: "time"}
    assert sheet.merged == [(2, 2, 3, 3)]


def test_how_a_number_is_shown_is_told(book: Path, capsys: pytest.CaptureFixture) -> None:
    as_xlsx(book / "list.xlsx", [HEADING, row(number=123, family="New")], formats={"A2": "00000"})
    as_ods(book / "list.ods", [HEADING, row(number=123, family="New")], formats={"A2": "00123"})
    assert take(book, "list.xlsx") == take(book, "list.ods") == 1
    said = capsys.readouterr().out
    assert "the number 123 (shown as 00000)" in said and "the number 123 (shown as 00123)" in said


def test_a_month_stays_a_month(book: Path) -> None:
    """A spreadsheet program makes the first of May of ``2009-05``, and shows ``May 09``."""
    rows = [
        HEADING,
        row(number="ZZ-1001", family="New", next="ZZ-1002", since=datetime.date(2009, 5, 1)),
        row(number="ZZ-1002", family="New"),
    ]
    as_xlsx(book / "list.xlsx", rows, formats={"G2": "mmm yy"})
    assert take(book, "list.xlsx") == 0
    assert "since: 2009-05}" in new_entry(book)
    (book / "entries/switches/new.md").unlink()
    as_ods(book / "list.ods", rows, formats={"G2": "May 09"})
    assert take(book, "list.ods") == 0
    assert "since: 2009-05}" in new_entry(book)


@pytest.mark.parametrize(
    "word", ["#REF!", "#N/A", "#BEZUG!", "#NV", "#VALEUR!", "#¡REF!", "Err:502", "Fehler:502", "#####", "#QUELQUECHOSE!"]
)
def test_words_of_a_spreadsheet_program_for_an_error(word: str) -> None:
    assert error_word(word) == word


@pytest.mark.parametrize("text", ["#12", "No. #4", "C#", "Err: 12", "N/A", "Fuse #3!", "Shelf:512"])
def test_what_only_looks_like_one(text: str) -> None:
    assert error_word(text) is None


def test_an_error_and_a_formula_without_result(book: Path, capsys: pytest.CaptureFixture) -> None:
    as_xlsx(
        book / "list.xlsx", [HEADING, row(number="#N/A", family="New"), row(number="=B3", family="New"), row(number="ZZ-1", family="New")]
    )
    assert take(book, "list.xlsx") == 1
    said = capsys.readouterr().out
    assert "row 2: NOT TAKEN: Part No.: #N/A is" in said
    assert "row 3: NOT TAKEN: Part No.: the cell holds a formula without its result" in said
    assert "row 4: taken" in said


def test_two_numbers_in_one_cell_are_told_with_row_and_column(book: Path, capsys: pytest.CaptureFixture) -> None:
    as_ods(book / "list.ods", [HEADING, row(number="ZZ-9\nZZ-8", family="New"), row(number="ZZ-7; ZZ-6", family="New")])
    assert take(book, "list.ods") == 1
    said = capsys.readouterr().out
    assert "row 2: NOT TAKEN: Part No.: 'ZZ-9\\nZZ-8' is 2 numbers in one cell" in said
    assert "row 3: NOT TAKEN: Part No.: 'ZZ-7; ZZ-6' is 2 numbers in one cell" in said


CONTACTS = [
    ("1-2 closed P,N; 3-4 R", "{pins: [1, 2], closed: [P, N]}", "{pins: [3, 4], closed: [R]}"),
    ("1-2: P N\n3-5: never", "{pins: [1, 2], closed: [P, N]}", "{pins: [3, 5], closed: []}"),
    ("1 – 2 in P/N | 3-case", "{pins: [1, 2], closed: [P, N]}", "{pins: [3, case]}"),
    ("1-2 ?", "{pins: [1, 2]}", "pins"),
]


@pytest.mark.parametrize(("cell", "first", "second"), CONTACTS)
def test_contacts_in_one_cell(book: Path, cell: str, first: str, second: str) -> None:
    pins = "1=start_feed 2=start_out 3=lamp_feed 4=lamp_out 5=hot"
    (book / "map.yml").write_text(MAPPING + "values: {pins: {lamp_feed: backup_feed, lamp_out: backup_out, hot: ground}}\n", "utf-8")
    as_xlsx(book / "list.xlsx", [HEADING, row(number="ZZ-9", family="New", housing="oval-13", pins=pins, contacts=cell)])
    assert take(book, "list.xlsx") == 0
    assert first in new_entry(book) and second in new_entry(book)


@pytest.mark.parametrize("cell", ["1-2 closed", "1-2 D-2", "12 P", "1-2 P, 3-4 R", "1-2 P; 2-1 N", "1-2 always"])
def test_contacts_that_cannot_be_read(book: Path, capsys: pytest.CaptureFixture, cell: str) -> None:
    as_xlsx(book / "list.xlsx", [HEADING, row(number="ZZ-9", family="New", housing="oval-13", contacts=cell)])
    assert take(book, "list.xlsx") == 1
    assert not (book / "entries/switches/new.md").exists()


def test_a_column_for_each_contact(book: Path) -> None:
    mapping = "columns:\n  number: No\n  family: Family\n  connector: Housing\n  contacts: {1-2: Starter, 3-4: Lamps, 5-6: More}\n"
    (book / "map.yml").write_text(mapping + "new_family: {positions: [P, R, N, D]}\n", "utf-8")
    as_ods(book / "list.ods", [["No", "Family", "Housing", "Starter", "Lamps", "More"], ["ZZ-9", "New", "oval-13", "P N", "?", None]])
    assert take(book, "list.ods") == 0
    text = new_entry(book)
    assert "{pins: [1, 2], closed: [P, N]}" in text and "{pins: [3, 4]}" in text and "[5, 6]" not in text
    assert take(book, "list.ods") == 0


def test_which_sheet_is_taken(book: Path, capsys: pytest.CaptureFixture) -> None:
    made = openpyxl.Workbook()
    made.active.append(["Price list"])
    for name in ("One", "Two"):
        sheet = made.create_sheet(name)
        sheet.append(HEADING)
        sheet.append(row(number=f"ZZ-{name}1", family="New"))
    made["Two"].sheet_state = "hidden"
    made.save(book / "list.xlsx")
    assert take(book, "list.xlsx") == 0
    assert "ZZ-One1" in new_entry(book) and "ZZ-Two1" not in new_entry(book)
    assert take(book, "list.xlsx", "--sheet", "Two") == 0 and "ZZ-Two1" in new_entry(book)
    made["Two"].sheet_state = "visible"
    made.save(book / "list.xlsx")
    assert take(book, "list.xlsx") == 2
    assert take(book, "list.xlsx", "--sheet", "Three") == 2
    said = capsys.readouterr().err
    assert "`One`, `Two` all have such headings: say which, with --sheet" in said and "there is no sheet `Three`" in said


def test_rows_that_were_not_taken_go_beside_it_as_csv(book: Path) -> None:
    as_xlsx(book / "list.xlsx", [HEADING, row(number="ZZ-9", family="???")])
    assert take(book, "list.xlsx") == 1
    assert "ZZ-9" in (book / "list.not-taken.csv").read_text("utf-8-sig")


def rewritten(path: Path, member: str, edit: Callable[[bytes], bytes]) -> bytes:
    """The file with one of its members changed."""
    out = path.with_name("edited")
    with zipfile.ZipFile(path) as there, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for name in there.namelist():
            made.writestr(name, edit(there.read(name)) if member in name else there.read(name))
    return out.read_bytes()


def test_files_that_are_made_to_do_harm(tmp_path: Path) -> None:
    as_xlsx(tmp_path / "a.xlsx", [HEADING, row(number="ZZ-9")])
    as_ods(tmp_path / "a.ods", [HEADING, row(number="ZZ-9")])
    laughs = b'<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]>'
    cell = b'<table:table-cell office:value-type="string"><text:p>a</text:p></table:table-cell>'
    rows = b'<table:table-row table:number-rows-repeated="1000000">' + cell + b"</table:table-row>"
    xlsx, ods = ((tmp_path / "a.xlsx", "sheet1"), (tmp_path / "a.ods", "content.xml"))
    tried = [
        (rewritten(*xlsx, lambda data: data + b" " * workbook.MOST_BYTES), "when it is unpacked"),
        (rewritten(*xlsx, lambda data: data.replace(b"<worksheet", laughs + b"<worksheet")), "XML entities"),
        (rewritten(*ods, lambda data: data.replace(b"<office:document-content", laughs + b"<office:document-content")), "XML entities"),
        (rewritten(*xlsx, lambda data: data.replace(b'r="A2"', b'r="XFD1048576"')), "in row 1048576, column 16384"),
        (rewritten(*ods, lambda data: data.replace(b"</table:table>", rows + b"</table:table>")), "in row 1000002"),
        (rewritten(*xlsx, lambda data: data[:200]), "it is damaged"),
        (b"PK\x03\x04" + b"x" * 100, "it is damaged"),
        (b"\xd0\xcf\x11\xe0" + b"x" * 100, "an old .xls file or has a password"),
    ]
    for data, why in tried:
        with pytest.raises(WorkbookError) as error:
            read_workbook(data)
        assert why in str(error.value)


def test_a_mapping_is_proposed(book: Path, capsys: pytest.CaptureFixture) -> None:
    rows = [
        ["Part Number", "Type of housing", "Av.", "Pinout", "1-2", "Car", "Model years", "Netto price", "Colour"],
        ["TB-2319", "13 oval", "current", "1=start_feed", "P N", "Odd", "2001-2003", 12.5, "grey"],
        ["ZZ-9001", "oval-13", "superseded", "1=start_feed", "P N", "Odd", 2003, 12.5, "grey"],
        [4711, "oval-13", "NLA", "1=start_feed", "P N", "Odd", 2003, 12.5, "grey"],
    ]
    as_xlsx(book / "list.xlsx", [["Our list"], *rows])
    before = sorted(path.read_bytes() for path in (book / "entries").rglob("*.md"))
    assert main(["import", str(book / "list.xlsx"), "--root", str(book)]) == 0
    said = capsys.readouterr()
    assert "nothing was taken" in said.err
    assert sorted(path.read_bytes() for path in (book / "entries").rglob("*.md")) == before
    mapping = read_mapping("map.yml", said.out.encode(), columns_of(load_schemas(book)))
    assert dict(mapping.columns) == {
        "number": "Part Number", "connector": "Type of housing", "status": "Av.", "vehicle": "Car", "years": "Model years"
    }  # fmt: skip
    assert mapping.values["connector"] == {"13 oval": "oval-13"}
    assert list(mapping.ignore) == ["Netto price"]
    lines = said.out.splitlines()
    assert any(line.startswith("  # pins: Pinout") for line in lines) and any(line.startswith("  # contacts: {1-2: 1-2}") for line in lines)
    assert any("NLA" in line and line.startswith("  #") for line in lines)
    assert any("whole_numbers: [number]" in line and "1 of number" in line for line in lines)
    assert any("[Colour]" in line for line in lines)


def test_a_column_without_a_telling_heading_is_known_by_what_is_in_it(book: Path, capsys: pytest.CaptureFixture) -> None:
    parts = load(book).book.parts[:12]
    rows = [[part.number, part.connector, f"x{at}"] for at, part in enumerate(parts) if part.connector]
    (book / "list.csv").write_text("\n".join(";".join(one) for one in [["A", "B", "C"], *rows]), "utf-8")
    assert main(["import", str(book / "list.csv"), "--root", str(book)]) == 0
    mapping = read_mapping("map.yml", capsys.readouterr().out.encode(), columns_of(load_schemas(book)))
    assert dict(mapping.columns) == {"number": "A", "connector": "B"}


def test_a_list_in_which_no_number_can_be_seen(book: Path, capsys: pytest.CaptureFixture) -> None:
    (book / "list.csv").write_text("x,y\na,b\n", "utf-8")
    assert main(["import", str(book / "list.csv"), "--root", str(book)]) == 1
    assert "  # number:" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("cells", "why"),
    [
        ({"number": "ZZ-9001", "family": "Tamblin drums"}, "the names are alike"),
        ({"number": "ZZ-9001", "family": "Drum, Tamblin"}, "the names are alike"),
        ({"number": "ZZ-9001", "family": "Something", "vehicle": "Yessick Mirren 1.3", "years": "1989-1992"}, "it has Yessick Mirren 1.3"),
        ({"number": "ZZ-9001", "family": "Something", "next": "TB-2319"}, "TB-2319 of it and a number of the list"),
        ({"number": "ZZ-9001", "family": "Tamblin"}, None),
        ({"number": "ZZ-9001", "family": "Kestow drum switch"}, None),
        ({"number": "ZZ-9001", "family": "Something", "vehicle": "Nobody 1.3", "years": "1989-1992"}, None),
    ],
)
def test_a_family_that_resembles_one_that_is_there(
    book: Path, capsys: pytest.CaptureFixture, cells: dict[str, str], why: str | None
) -> None:
    family = load(book).book.families["tamblin-drum"]
    one = family.applications[0]
    if why and "it has" in why:
        cells, why = {**cells, "vehicle": one.vehicle, "years": one.years}, f"it has {one.vehicle}"
    as_xlsx(book / "list.xlsx", [HEADING, row(**cells)])
    assert take(book, "list.xlsx") == 0, capsys.readouterr()
    said = capsys.readouterr().out
    assert ("and resembles" in said) is bool(why)
    if why:
        assert f"resembles {family.title} ({family.entry.file}): " in said and why in said and "means tamblin-drum" in said


def test_an_edit_that_was_saved_meanwhile_stays(book: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture) -> None:
    path = book / "entries/switches/tamblin-drum.md"
    as_xlsx(book / "list.xlsx", [HEADING, row(number="ZZ-9001", family="tamblin-drum")])
    edited = path.read_bytes() + b"\nSomebody wrote this meanwhile.\n"
    whole = writing_module._unfinished

    def saved_meanwhile(*given: Any) -> Any:
        path.write_bytes(edited)
        return whole(*given)

    monkeypatch.setattr(writing_module, "_unfinished", saved_meanwhile)
    assert take(book, "list.xlsx") == 2
    assert path.read_bytes() == edited
    assert "was changed while it was looked at" in capsys.readouterr().err


def test_it_runs_as_people_run_it(book: Path) -> None:
    as_ods(book / "list.ods", [HEADING, row(number="ZZ-9001", family="New"), row(number=12.5, family="New")])
    done = subprocess.run(
        [sys.executable, "-m", "rangebook", "import", "list.ods", "--map", "map.yml"], cwd=book, capture_output=True, text=True, check=False
    )
    assert done.returncode == 1, done.stderr
    assert "row 2: taken: part ZZ-9001" in done.stdout and "row 3: NOT TAKEN: Part No.: the cell holds the number 12.5" in done.stdout
    assert done.stderr.count("Traceback") == 0


@pytest.mark.parametrize("cell", ["ZZ-1 / ZZ-2", "ZZ-1/ZZ-2", "ZZ-1, ZZ-2", "ZZ-1 or ZZ-2", "ZZ-1 ZZ-2", "ZZ-1,ZZ-2", "9012345 / 9012346"])
def test_short_numbers_of_one_shape_are_several_too(cell: str) -> None:
    assert len(numbers_in(cell)) == 2


@pytest.mark.parametrize("cell", ["A1/B2", "62/30417/B", "TB 20417", "AB 1", "55/20", "9012 3456"])
def test_a_number_with_a_sign_in_it_is_one(cell: str) -> None:
    assert numbers_in(cell) == [cell]
