"""The bytes of an .xlsx or .ods file -> its sheets, each cell with what it holds: text, or the number, date or error that a spreadsheet
program made of what was typed.

openpyxl reads the one, odfdo the other. They do it in a process of their own, with a bound to its memory and its time: a file of a few
kilobytes can ask for a sheet of seventeen thousand million cells.
"""

from __future__ import annotations

import datetime
import io
import math
import multiprocessing
import re
import zipfile
from collections.abc import Iterator
from contextlib import suppress
from multiprocessing.connection import Connection
from typing import Any

from rangebook.reading.sheet import Held, Sheet, SheetRow

MOST_BYTES = 200_000_000
"""So many may a file have when it is unpacked: some 150,000 rows of twenty columns."""
MOST_MEMORY = 1_500_000_000
MOST_SECONDS = 120
MOST_ROWS, MOST_COLUMNS = 100_000, 500
MOST_FIGURES = 15
"""So many figures of a number a spreadsheet program keeps."""

_OLD = b"\xd0\xcf\x11\xe0"
_ENTITY = re.compile(b"<!ENTITY|" + re.escape("<!ENTITY".encode("utf-16-le")) + b"|" + re.escape("<!ENTITY".encode("utf-16-be")))


class WorkbookError(Exception):
    """The file cannot be read as a workbook; the message says why and what to do."""


def is_workbook(data: bytes) -> bool:
    """Whether these are the bytes of a workbook, or of an older one that has to be saved anew: not of a text."""
    return data.startswith((b"PK\x03\x04", _OLD))


def read_workbook(data: bytes) -> list[Sheet]:
    """The sheets in their order. Raises :class:`WorkbookError`."""
    read = _reader(data)
    receiver, sender = multiprocessing.get_context("spawn").Pipe(duplex=False)
    child = multiprocessing.get_context("spawn").Process(target=_in_child, args=(sender, read, data), daemon=True)
    child.start()
    sender.close()
    try:
        if not receiver.poll(MOST_SECONDS):
            raise WorkbookError(f"it cannot be read in {MOST_SECONDS} seconds: copy the list alone into a new sheet and save that")
        try:
            found = receiver.recv()
        except EOFError:
            found = _TOO_MUCH
    finally:
        child.kill()
        child.join()
        receiver.close()
    if isinstance(found, str):
        raise WorkbookError(found)
    sheets: list[Sheet] = found
    return sheets


_TOO_MUCH = "it needs more memory than a list should: copy the list alone into a new sheet and save that"


def _reader(data: bytes) -> str:
    """Which of the two formats it is, once it is sure that unpacking it does no harm."""
    if data.startswith(_OLD):
        raise WorkbookError("it is an old .xls file or has a password: save it as .xlsx or .ods without one")
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            names = set(packed.namelist())
            # zipfile never unpacks more of a member than is declared here, and no less is taken for the whole.
            if sum(one.file_size for one in packed.infolist()) > MOST_BYTES:
                raise WorkbookError(f"it has more than {MOST_BYTES // 1_000_000} MB when it is unpacked: no list of parts has")
            if any(one.flag_bits & 1 for one in packed.infolist()):
                raise WorkbookError("it has a password: save it without one")
            for name in names:
                if name.endswith((".xml", ".rels")) and _ENTITY.search(packed.read(name)):
                    raise WorkbookError(f"it defines XML entities (in {name}), which no spreadsheet program writes: save it anew")
            kind = packed.read("mimetype")[:100] if "mimetype" in names else b""
            manifest = packed.read("META-INF/manifest.xml") if "META-INF/manifest.xml" in names else b""
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, OSError, ValueError, zipfile.zlib.error) as error:  # type: ignore[attr-defined]
        raise WorkbookError(f"it is damaged ({error}): open it in a spreadsheet program and save it anew") from None
    if b"encryption-data" in manifest:
        raise WorkbookError("it has a password: save it without one")
    if kind.startswith(b"application/vnd.oasis.opendocument.spreadsheet"):
        return "ods"
    if "[Content_Types].xml" in names and any(name.startswith("xl/") for name in names):
        return "xlsx"
    raise WorkbookError("it is no spreadsheet: expected .xlsx, .ods or CSV")


def _in_child(sender: Connection, kind: str, data: bytes) -> None:
    """Sends the sheets, or why there are none."""
    with suppress(ImportError, ValueError, OSError):  # no such bound on Windows
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    try:
        found: Any = list(_ods(data) if kind == "ods" else _xlsx(data))
    except WorkbookError as error:
        found = str(error)
    except MemoryError:
        found = _TOO_MUCH
    except Exception as error:  # noqa: BLE001 - whatever a broken file makes a library do is this file's fault
        found = f"it is damaged ({type(error).__name__}: {error}): open it in a spreadsheet program and save it anew"
    try:
        sender.send(found)
    except MemoryError:
        sender.send(_TOO_MUCH)


def _bounded(name: str, rows: int, columns: int) -> None:
    if rows > MOST_ROWS or columns > MOST_COLUMNS:
        raise WorkbookError(
            f"the sheet {name} has something in row {rows}, column {columns}; a list may have {MOST_ROWS} rows and {MOST_COLUMNS} columns"
        )


def number_text(value: float) -> str:
    """A number in as many figures as it needs, without an exponent where it is a whole one."""
    if isinstance(value, int) or (math.isfinite(value) and value.is_integer() and abs(value) < 1e300):
        return str(int(value))
    return format(value, f".{MOST_FIGURES}g")


def _date_text(value: datetime.date, day: bool) -> str:
    return f"{value:%Y-%m-%d}" if day else f"{value:%Y-%m}"


def _xlsx(data: bytes) -> Iterator[Sheet]:
    import openpyxl  # type: ignore[import-untyped]

    results = openpyxl.load_workbook(io.BytesIO(data), data_only=True, keep_links=False)
    formulas: set[tuple[str, int, int]] = set()
    if any(b"<f" in member for member in _members(data, "xl/worksheets/")):
        typed = openpyxl.load_workbook(io.BytesIO(data), keep_links=False)
        formulas = {
            (sheet.title, row, column)
            for sheet in typed.worksheets
            for (row, column), cell in sheet._cells.items()  # noqa: SLF001 - see below
            if cell.data_type == "f"
        }
    for sheet in results.worksheets:
        rows: dict[int, tuple[dict[int, str], dict[int, Held]]] = {}
        # Any other way makes each cell of the rectangle that is not there.
        for (row, column), cell in sorted(sheet._cells.items()):  # noqa: SLF001
            text, held = _xlsx_cell(cell, (sheet.title, row, column) in formulas)
            if text or held:
                _bounded(sheet.title, row, column)
                texts, kinds = rows.setdefault(row, ({}, {}))
                texts[column - 1] = text
                if held:
                    kinds[column - 1] = held
        merged = [(one.min_row, one.min_col - 1, one.max_row, one.max_col - 1) for one in sheet.merged_cells.ranges]
        found = [SheetRow(number, *row) for number, row in rows.items()]
        yield Sheet(sheet.title, sheet.sheet_state != "visible", found, merged)


def _members(data: bytes, folder: str) -> Iterator[bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        yield from (packed.read(name) for name in packed.namelist() if name.startswith(folder))


def _xlsx_cell(cell: Any, formula: bool) -> tuple[str, Held | None]:
    value = cell.value
    style = "" if cell.number_format == "General" else str(cell.number_format)
    if value is None:
        return "", Held("formula") if formula else None
    if cell.data_type == "e":
        return str(value), Held("error")
    if isinstance(value, bool):
        return str(value).upper(), Held("truth")
    if isinstance(value, int | float):
        return number_text(value), Held("number", style)
    if isinstance(value, datetime.datetime | datetime.date):
        return _date_text(value, "d" in re.sub(r"\[[^]]*\]|\"[^\"]*\"", "", style).casefold()), Held("date", style)
    if isinstance(value, datetime.time | datetime.timedelta):
        return str(value), Held("time", style)
    return str(value), None


def _ods(data: bytes) -> Iterator[Sheet]:
    from odfdo import Document

    for table in Document(io.BytesIO(data)).body.tables:
        rows, merged, name = [], [], table.name or "without a name"
        table.rstrip(aggressive=True)
        _bounded(name, table.height, table.width)
        for number, row in enumerate(table.iter_rows(), 1):
            texts: dict[int, str] = {}
            kinds: dict[int, Held] = {}
            for column, cell in enumerate(row.iter_cells()):
                down = int(cell.get_attribute("table:number-rows-spanned") or 1)
                across = int(cell.get_attribute("table:number-columns-spanned") or 1)
                if down > 1 or across > 1:
                    merged.append((number, column, number + down - 1, column + across - 1))
                text, held = _ods_cell(cell)
                if text or held:
                    texts[column] = text
                    if held:
                        kinds[column] = held
            if texts:
                rows.append(SheetRow(number, texts, kinds))
        yield Sheet(name, table.get_attribute("table:display") == "false", rows, merged)


def _ods_cell(cell: Any) -> tuple[str, Held | None]:
    shown = "\n".join(one.inner_text for one in cell.get_elements("text:p"))
    kind = cell.get_attribute("office:value-type")
    if cell.get_attribute("calcext:value-type") == "error":
        return shown, Held("error")
    if kind in ("float", "percentage", "currency"):
        return number_text(float(cell.get_attribute("office:value"))), Held("number", shown)
    if kind == "date":
        stated = str(cell.get_attribute("office:date-value"))
        # Of a date that is shown by two figures or words only the day is left out.
        day = len(re.findall(r"\w+", shown)) != 2
        return _date_text(datetime.date.fromisoformat(stated[:10]), day), Held("date", shown)
    if kind == "time":
        return shown, Held("time", shown)
    if kind == "boolean":
        return str(cell.get_attribute("office:boolean-value")).upper(), Held("truth", shown)
    return shown, None
