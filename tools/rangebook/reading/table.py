"""The bytes of a spreadsheet, saved as CSV or as its program saves it, -> its heading and rows, every cell as text, or an error that says
where and why."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from rangebook.reading.nearest import nearest
from rangebook.reading.sheet import Held, Sheet, SheetRow

DELIMITERS = {"comma": ",", "semicolon": ";", "tab": "\t", "bar": "|"}
"""Names of the delimiters that are tried."""

_HEADING_AMONG = 20
"""The heading of a sheet is one of so many rows that have something in them: a list has a title above it, and the date."""
_BOMS = ((codecs.BOM_UTF8, "utf-8"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))
_SEPARATOR_LINE = re.compile(r"sep=(.)\r?\n", re.IGNORECASE)


class TableError(Exception):
    """The file cannot be read as a table, or not as the table that the mapping is for; the message says where and what to do."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: the line of the file that it begins on, or the row of the sheet, from 1, and its cells, as many as it has; ``held`` are
    those of a workbook that are no text, by column from 0."""

    line: int
    cells: tuple[str, ...]
    held: Mapping[int, Held] = field(default_factory=dict)


@dataclass(frozen=True)
class Table:
    """``heading`` as it stands in the file; empty rows are left out. ``encoding`` is the one that it was read in; ``sheet`` the name of the
    sheet, where it is one of a workbook."""

    heading: tuple[str, ...]
    rows: tuple[Row, ...]
    delimiter: str = ","
    encoding: str = "utf-8"
    sheet: str | None = None

    @property
    def unit(self) -> str:
        """What people count its rows by: ``line`` or ``row``."""
        return "line" if self.sheet is None else "row"

    def column(self, heading: str) -> int:
        """Which column goes by a heading, from 0; case and spaces do not count. Raises ``KeyError``."""
        wanted = folded(heading)
        for index, one in enumerate(self.heading):
            if folded(one) == wanted:
                return index
        raise KeyError(heading)


def folded(heading: str) -> str:
    """A heading as it is compared."""
    return " ".join(heading.split()).casefold()


def read_table(
    data: bytes, wanted: Sequence[str], encoding: str | None = None, delimiter: str | None = None, *, all_of_them: bool = True
) -> Table:
    """Read a table that has the ``wanted`` headings; without ``all_of_them`` some may be missing.

    Without ``encoding`` it is UTF-8, or UTF-16 with a byte order mark; without ``delimiter`` the one of :data:`DELIMITERS` under
    which the headings are there. Raises :class:`TableError`.
    """
    text, used = decoded(data, encoding)
    stated = _SEPARATOR_LINE.match(text)
    first_line = 1
    if stated:
        text, first_line = text[stated.end() :], 2
        delimiter = delimiter or stated.group(1)
    if not text.strip():
        raise TableError("the file is empty")
    delimiter = delimiter or _delimiter(text, wanted, all_of_them)
    rows = [Row(line + first_line - 1, cells) for line, cells in _split(text, delimiter) if any(cell.strip() for cell in cells)]
    heading = rows[0].cells
    if all_of_them:
        _check_heading(heading, wanted)
    return Table(heading, tuple(rows[1:]), delimiter, used)


def table_of(sheets: Sequence[Sheet], wanted: Sequence[str], name: str | None = None, *, all_of_them: bool = True) -> Table:
    """The sheet of a workbook that has the ``wanted`` headings, or the one called ``name``, as a table. What a merged cell says it says of
    each of its rows. Raises :class:`TableError`; without ``all_of_them`` only where none of the headings is there."""
    if name is not None and not any(one.name == name for one in sheets):
        raise TableError(f"there is no sheet `{name}`; its sheets are {_quoted(one.name for one in sheets)}")
    tried = [one for one in sheets if one.rows and (one.name == name if name is not None else not one.hidden)]
    if not tried:
        raise TableError("the sheet is empty" if name is not None else "the file is empty")
    counted = [(*_heading_of(one, wanted), one) for one in tried]
    if not all_of_them and not any(found for found, _, _ in counted):
        counted = [(1, _broadest(one), one) for one in tried]
    most = max(found for found, _, _ in counted)
    best = [(row, sheet) for found, row, sheet in counted if found == most]
    if not most:
        first = ", ".join(tried[0].rows[0].cells.values())
        raise TableError(
            f"none of the headings {_quoted(wanted)} is in the first rows; the sheet {tried[0].name} begins with {first[:120]!r}"
        )
    if len(best) > 1:
        raise TableError(f"the sheets {_quoted(sheet.name for _, sheet in best)} all have such headings: say which, with --sheet")
    at, sheet = best[0]
    width = max(column for row in sheet.rows for column in row.cells) + 1
    filled = _filled_down(sheet, sheet.rows[at].number)
    rows = [Row(one.number, tuple(one.cells.get(column, "") for column in range(width)), one.held) for one in filled]
    heading = tuple(" ".join(sheet.rows[at].cells.get(column, "").split()) for column in range(width))
    if all_of_them:
        _check_heading(heading, wanted)
    return Table(heading, tuple(row for row in rows if any(cell.strip() for cell in row.cells) or row.held), sheet=sheet.name)


def _heading_of(sheet: Sheet, wanted: Sequence[str]) -> tuple[int, int]:
    """How many of the headings a row has at the most, and which row that is."""
    looked_for = {folded(one) for one in wanted}
    counted = [len({folded(cell) for cell in row.cells.values()} & looked_for) for row in sheet.rows[:_HEADING_AMONG]]
    return max(counted), counted.index(max(counted))


def _broadest(sheet: Sheet) -> int:
    """Which of the first rows has most in it."""
    widths = [len(row.cells) for row in sheet.rows[:_HEADING_AMONG]]
    return widths.index(max(widths))


def _filled_down(sheet: Sheet, heading: int) -> Iterable[SheetRow]:
    """The rows below the heading, each with what merged cells that begin below it say of it."""
    cells = {row.number: dict(row.cells) for row in sheet.rows if row.number > heading}
    held = {row.number: dict(row.held) for row in sheet.rows}
    for first, column, last, _ in sheet.merged:
        if first > heading and column in cells.get(first, {}):
            for number in range(first + 1, last + 1):
                if number in cells:  # a row with nothing of its own says nothing
                    cells[number][column] = cells[first][column]
                    if column in held[first]:
                        held[number][column] = held[first][column]
    return [SheetRow(number, row, held[number]) for number, row in sorted(cells.items())]


def decoded(data: bytes, encoding: str | None = None) -> tuple[str, str]:
    """The text of a file and the encoding that it was read in. Raises :class:`TableError`, naming the line."""
    for bom, name in _BOMS:
        if data.startswith(bom):
            if encoding and codecs.lookup(encoding).name not in (name, "utf-8-sig", "utf-16-le", "utf-16-be"):
                raise TableError(f"the file begins with a mark that says it is {name.upper()}, not {encoding}: leave --encoding out")
            return _decode(data[len(bom) :] if name == "utf-8" else data, name), name
    if encoding is None:
        if b"\x00" in data[:1000]:
            raise TableError("the file looks like UTF-16 without a byte order mark: state --encoding utf-16-le, or save it as CSV UTF-8")
        return _decode(data, "utf-8"), "utf-8"
    try:
        name = codecs.lookup(encoding).name
    except LookupError:
        raise TableError(f"there is no encoding {encoding}; the usual ones are utf-8, utf-16 and windows-1252") from None
    if name not in ("utf-8", "ascii") and not name.startswith(("utf-16", "utf-32")):
        _refuse_if_utf8(data, encoding)
    return _decode(data, name), name


def _decode(data: bytes, encoding: str) -> str:
    try:
        return data.decode(encoding)
    except UnicodeDecodeError as error:
        if encoding != "utf-8":
            line = data[: error.start].decode(encoding, "replace").count("\n") + 1
            words = f"line {line}: this is not {encoding} ({error.reason}); save the file as CSV UTF-8, or state another --encoding"
            raise TableError(words) from None
        utf8, other = _lines_by_encoding(data)
        if utf8:
            raise TableError(
                f"encodings are mixed: line {utf8[0]} is UTF-8, line {other[0]} is not ({len(other)} such lines). "
                "Two lists were probably put together: save each as CSV UTF-8 before that"
            ) from None
        raise TableError(
            f"line {other[0]}: the byte 0x{data[error.start]:02x} is not UTF-8. If a spreadsheet program on Windows wrote the file, "
            "state --encoding windows-1252, or save it as CSV UTF-8"
        ) from None


def _lines_by_encoding(data: bytes) -> tuple[list[int], list[int]]:
    """The lines beyond ASCII, from 1: those that are UTF-8 and those that are not."""
    utf8, other = [], []
    for number, line in enumerate(data.split(b"\n"), 1):
        if line.isascii():
            continue
        try:
            line.decode("utf-8")
            utf8.append(number)
        except UnicodeDecodeError:
            other.append(number)
    return utf8, other


def _refuse_if_utf8(data: bytes, encoding: str) -> None:
    """Text in one byte a letter is hardly ever UTF-8 by chance; read as such it would go into the book garbled."""
    utf8, other = _lines_by_encoding(data)
    if utf8 and not other:
        raise TableError(f"the file is UTF-8 (see line {utf8[0]}), not {encoding}: leave --encoding out")
    if utf8:
        raise TableError(
            f"encodings are mixed: line {utf8[0]} is UTF-8, line {other[0]} is not ({len(other)} such lines). "
            "Two lists were probably put together: save each as CSV UTF-8 before that"
        )


def _delimiter(text: str, wanted: Sequence[str], needed: bool) -> str:
    """The delimiter under which most of the wanted headings are there; where none is ``needed`` and none there, the one that parts most."""
    best, most, widest = None, 0, (1, ",")
    for delimiter in DELIMITERS.values():
        try:
            cells = next((cells for _, cells in _split(text, delimiter) if any(cell.strip() for cell in cells)), ())
        except TableError:
            continue
        widest = max(widest, (len(cells), delimiter), key=lambda one: one[0])
        there = {folded(cell) for cell in cells}
        found = sum(folded(one) in there for one in wanted)
        if found > most:
            best, most = delimiter, found
    if best is None and not needed:
        return widest[1]
    if best is None:
        first = text.strip().split("\n")[0].strip()
        raise TableError(
            f"none of the mapping's headings ({_quoted(wanted)}) is in the first line, {first[:120]!r}: check the mapping, or whether "
            "there are lines above the heading; take them out"
        )
    return best


def _split(text: str, delimiter: str) -> Iterable[tuple[int, tuple[str, ...]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    line = 1
    try:
        for cells in reader:
            yield line, tuple(cells)
            line = reader.line_num + 1
    except csv.Error as error:
        raise TableError(f"line {line}: {error}; look for a quote that is not closed, or that should be doubled, from there on") from None


def _check_heading(heading: Sequence[str], wanted: Sequence[str]) -> None:
    counts = Counter(folded(one) for one in heading)
    missing = [one for one in wanted if not counts[folded(one)]]
    if missing:
        words = []
        for one in missing:
            near = nearest(one, heading)
            words.append(f"`{one}`" + (f" (there is `{near}`)" if near else ""))
        raise TableError(f"the mapping names columns that the file has not: {', '.join(words)}; its columns are {_quoted(heading)}")
    twice = [one for one in wanted if counts[folded(one)] > 1]
    if twice:
        raise TableError(f"the file has several columns called {_quoted(twice)}: give each a name of its own")


def _quoted(names: Iterable[str]) -> str:
    return ", ".join(f"`{one}`" for one in names)
