"""Take a shop's own spreadsheet (.xlsx, .ods or CSV) into the book.

Without --map nothing is taken: a mapping is proposed, by the headings and by what stands in the columns, for you to look over and save.
FILE's columns are named in MAPPING, a small YAML file; an example with all that there can be:

{example}

A row with a vehicle is also an application. New parts and vehicles are added to a family that is in the book, at the end of its
lists, and no other byte of its file is touched; families that are not are begun. What is in the book is never changed: a row that
says something else than the book is not taken, and neither is one that the linter has an error against. Those rows go with the
reason into FILE.not-taken.csv beside FILE, to be mended and taken from there. The same rows again change nothing.

Of an .xlsx or .ods the sheet is taken that has the headings, or state --sheet. What a merged cell says it says of each of its rows. A
part number that is a number and no text is not taken unasked: 0123 is 123 then, and 1.200 is 1.2.

CSV is read as UTF-8, or as UTF-16 where it begins with a byte order mark; state --encoding windows-1252 for what spreadsheet
programs on Windows call plain CSV. Comma, semicolon, tab or bar between the cells is found out by the headings, or stated.

Exit status 0: all rows taken or in the book already; 1: some were not taken; 2: could not run.
"""

from __future__ import annotations

import argparse
import csv
import difflib
import io
import textwrap
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from pathlib import Path

from rangebook.book.load import Loaded, load
from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, paint, progress, write_patch
from rangebook.cli.writing import NotWrittenError, as_loaded, create, put
from rangebook.desk.importing import mapping as mapping_module
from rangebook.desk.importing.columns import Columns, columns_of
from rangebook.desk.importing.mapping import ColumnMapping, MappingError, read_mapping
from rangebook.desk.importing.plan import check_new_family
from rangebook.desk.importing.proposal import headings_of, propose
from rangebook.desk.importing.run import Imported, take
from rangebook.lint.finding import Finding, Severity
from rangebook.lint.revisions import lint_both
from rangebook.reading.table import DELIMITERS, Row, Table, TableError, folded, read_table, table_of
from rangebook.reading.workbook import WorkbookError, is_workbook, read_workbook
from rangebook.revisions.report import finding_changes
from rangebook.revisions.states import amended
from rangebook.schema.store import load_schemas
from rangebook.words.shown import cell, shown

EXIT_NOT_ALL = 1
EXIT_CANNOT = 2

REASON, LINE = "not taken because", "line"
"""The columns that the side file has beside those of the file itself."""

_EXAMPLE = (mapping_module.__doc__ or "").split("::\n\n", 1)[1].split("\n\nWhat a column can be", 1)[0]
__doc__ = (__doc__ or "").format(example=textwrap.indent(textwrap.dedent(_EXAMPLE), "    "))


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook import``."""
    parser.add_argument("file", metavar="FILE", type=Path, help="the spreadsheet: .xlsx, .ods, or saved as CSV")
    can_be = ", ".join(columns_of(load_schemas(None)).names)
    parser.add_argument(
        "--map", metavar="MAPPING", type=Path, help=f"which column is what; left out, one is proposed; a column can be: {can_be}"
    )
    parser.add_argument("--sheet", metavar="NAME", help="which sheet of a workbook (the one that has the headings)")
    parser.add_argument("--encoding", metavar="NAME", help="the file's encoding (UTF-8, or what its byte order mark says)")
    parser.add_argument("--delimiter", metavar="NAME", help=f"{', '.join(DELIMITERS)}, or the sign itself (found out by the headings)")
    parser.add_argument("--dry-run", action="store_true", help="write nothing, show what would be written")
    add_root(parser)


def run(args: argparse.Namespace) -> int:
    """0: all taken, or a mapping proposed; 1: some rows were not; 2: could not run."""
    try:
        return _import(find_root(args.root), args)
    except (MappingError, NotWrittenError) as error:
        complain(str(error))
    except (TableError, WorkbookError) as error:
        complain(f"{args.file}: {error}")
    except OSError as error:
        complain(f"{error.filename}: {error.strerror or error}")
    return EXIT_CANNOT


def _import(root: Path, args: argparse.Namespace) -> int:
    can_be = columns_of(load_schemas(root))
    mapping = read_mapping(str(args.map), args.map.read_bytes(), can_be) if args.map is not None else None
    table = _table(args, mapping.wanted if mapping is not None else headings_of(can_be), mapping is not None)
    progress(f"reading {root / 'entries'} ...")
    loaded = load(root)
    if mapping is None:
        return _propose(loaded, can_be, table, args.file)
    check_new_family(mapping, loaded.schemas)
    progress(f"taking {len(table.rows)} rows ...")
    before = cache(lambda file: as_loaded(loaded, file))
    try:
        done = take(loaded, mapping, table, before, lambda files: _new_errors(loaded, files))
    except (NotWrittenError, OSError) as error:
        complain(f"{error}; nothing was written")
        return EXIT_CANNOT
    _tell(done, table, mapping)
    if args.dry_run:
        _show(root, done.files)
    elif not _write(loaded, done.files, before):
        return EXIT_CANNOT
    left = done.refused(table)
    if left and not args.dry_run and not _write_side_file(args.file, table, left):
        return EXIT_CANNOT
    return EXIT_NOT_ALL if left else 0


def _table(args: argparse.Namespace, wanted: Sequence[str], all_of_them: bool) -> Table:
    """The file's table. Raises :class:`TableError` and :class:`WorkbookError`."""
    data = args.file.read_bytes()
    if is_workbook(data):
        if stated := next((name for name in ("encoding", "delimiter") if getattr(args, name) is not None), None):
            raise TableError(f"this is a workbook and no CSV: leave --{stated} out")
        return table_of(read_workbook(data), wanted, args.sheet, all_of_them=all_of_them)
    if args.sheet is not None:
        raise TableError("this is no workbook, so it has no sheets: leave --sheet out")
    delimiter = DELIMITERS.get(args.delimiter, args.delimiter)
    if delimiter is not None and (len(delimiter) != 1 or delimiter in '"\r\n'):
        raise TableError(f"--delimiter {args.delimiter}: expected {', '.join(DELIMITERS)}, or one sign")
    return read_table(data, wanted, args.encoding, delimiter, all_of_them=all_of_them)


def _propose(loaded: Loaded, can_be: Columns, table: Table, file: Path) -> int:
    text, whole = propose(loaded.book, can_be, table, file.name)
    for line in text.splitlines():
        print(shown(line))
    complain(f"nothing was taken: save this as a file, look it over, and run `rangebook import {file} --map` with its name")
    return 0 if whole else EXIT_NOT_ALL


def _new_errors(loaded: Loaded, files: Mapping[str, bytes]) -> list[Finding]:
    states = amended(loaded, files)
    old, new = lint_both(states.old, states.new, fitters=states.fitters)
    came, _ = finding_changes(old, new)
    return [one for one in came if one.severity is Severity.ERROR]


def _tell(done: Imported, table: Table, mapping: ColumnMapping) -> None:
    styles = {"added": "straight", "known": "why", "refused": "error"}
    words = {"added": "taken", "known": "nothing new", "refused": "NOT TAKEN"}
    for one in done.outcomes:
        print(paint(f"{table.unit} {one.line}: {words[one.what]}: {one.words}", styles[one.what]))
    named = {folded(one) for one in (*mapping.wanted, *mapping.ignore, REASON, LINE)}
    unused = [one for one in table.heading if one.strip() and folded(one) not in named]
    if unused:
        complain(f"columns that the mapping says nothing of: {', '.join(unused)}; name them under `notes` or `ignore`")
    for begun, family, why in done.alike:
        how = f"say under `values`, `family`, that the list's name for it means {family.id}, and take the list again"
        print(paint(f"{begun} is begun, and resembles {family.title} ({family.entry.file}): {why}. If it is that one, {how}", "error"))
    counts = Counter(one.what for one in done.outcomes)
    print(shown(f"{len(table.rows)} rows: {counts['added']} taken, {counts['known']} with nothing new, {counts['refused']} not taken."))


def _show(root: Path, files: Mapping[str, bytes]) -> None:
    for file, data in files.items():
        path = root / file
        before = path.read_text("utf-8").splitlines(keepends=True) if path.is_file() else []
        after = data.decode("utf-8").splitlines(keepends=True)
        lines = difflib.unified_diff(before, after, f"a/{file}" if before else "/dev/null", f"b/{file}")
        write_patch(lines)
    print("Nothing was written.")


def _write(loaded: Loaded, files: Mapping[str, bytes], before: Callable[[str], bytes]) -> bool:
    """Whether all of them could be. What is written stays: the next run finds it in the book and goes on."""
    for file, data in files.items():
        try:
            if (loaded.root / file).exists():
                put(loaded.root, file, before(file), data)
            else:
                create(loaded.root, file, data)
        except (NotWrittenError, OSError) as error:
            complain(str(error))
            complain("what is told above as taken is not all written; mend this and run it again")
            return False
        print(shown(f"Written: {loaded.root / file}"))
    return True


def _write_side_file(file: Path, table: Table, left: Sequence[tuple[Row, str]]) -> bool:
    """Put the rows that were not taken beside the file. One that is there from another run, and says something else, stays."""
    data = _side_file(table, left)
    for number in range(1, 1000):
        path = file.with_name(f"{file.stem}.not-taken{'' if number == 1 else f'-{number}'}.csv")
        try:
            if path.exists():
                if path.read_bytes() != data:
                    continue
            else:
                create(path.parent, path.name, data)
        except (NotWrittenError, OSError) as error:
            complain(str(error))
            return False
        print(shown(f"The rows that were not taken, with the reasons: {path}"))
        return True
    complain(f"{file}: there are too many .not-taken files beside it; take some away")
    return False


def _side_file(table: Table, left: Sequence[tuple[Row, str]]) -> bytes:
    """As the file is, with line and reason in front, in UTF-8 with a mark, which every spreadsheet program knows.

    They stand in front so that a row with too few or too many cells still has as many.
    """
    drop = 2 if [folded(one) for one in table.heading[:2]] == [LINE, REASON] else 0
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=table.delimiter)
    writer.writerow(map(cell, [LINE, REASON, *table.heading[drop:]]))
    for row, why in left:
        writer.writerow(map(cell, [row.line, why, *row.cells[drop:]]))
    return b"\xef\xbb\xbf" + out.getvalue().encode("utf-8")
