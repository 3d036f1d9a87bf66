"""One input tried: a file in a small book, and what has to hold whatever is in it."""

from __future__ import annotations

import hashlib
import json
import time
from collections.abc import Mapping
from datetime import date
from functools import cache
from pathlib import Path

from lxml import etree

from rangebook.book.book import build_book
from rangebook.book.load import Loaded
from rangebook.lint.engine import lint
from rangebook.lint.examples import base_book
from rangebook.lint.finding import Finding
from rangebook.lint.fixing.page import Page
from rangebook.lint.fixing.typed import Known
from rangebook.lint.linted import Linted
from rangebook.lint.plan import fix_text
from rangebook.lint.reports import FORMATS, writer
from rangebook.reading.entry import Entry, read_entry
from rangebook.reading.text import decode
from rangebook.schema.check import Checker
from rangebook.schema.store import load_schemas

TODAY = date(2026, 6, 1)
LIMIT = 5.0
"""Seconds of processor that one file of any content may take to read and lint. Slow machines and a fuzzer's counting are allowed for."""

PLACES = ("entries/switches/fuzz.md", "entries/connectors/fuzz.md", "entries/kits/fuzz.md")
WITNESS = "entries/connectors/witness.md"
"""Beside each input stands this entry, in which two things are wrong that no other entry has a say in. They are to be told each time."""

WITNESS_TEXT = """---
kind: connector
id: witness
title: "<b>A</b> plug"
outline: oval
rows: [[1, 2, 2]]
sources: [{kind: seen}]
---
"""

MAY_CHANGE_VALUES = {"normal-form", "colour", "unquoted-text", "tabs"}


class BrokenError(AssertionError):
    """Something did not hold; ``data`` is the file that broke it."""

    def __init__(self, what: str, data: bytes) -> None:
        super().__init__(what)
        self.data = data


@cache
def _checker() -> Checker:
    return Checker(load_schemas())


@cache
def _companions() -> Mapping[str, Entry]:
    files = {**base_book(), WITNESS: WITNESS_TEXT}
    return {file: _read(file, text.encode("utf-8")) for file, text in files.items()}


def _read(file: str, data: bytes) -> Entry:
    entry = read_entry(file, data)
    entry.problems += _checker().check(entry)
    return entry


def try_file(data: bytes, file: str, *, in_place: bool = False, limit: float = LIMIT) -> list[Finding]:
    """Read and lint a file beside the others, or ``in_place`` of the one of its name. Raises :class:`BrokenError`; gives its findings."""
    started = time.process_time()
    entry = _read(file, data)
    entries = [other for name, other in _companions().items() if not (in_place and name == file)]
    entries = sorted([*entries, entry], key=lambda one: one.file.split("/"))
    loaded = Loaded(Path(), entries, _checker().schemas, build_book(entries, _checker().schemas.circuits))
    found = lint(loaded, TODAY)
    took = time.process_time() - started
    if took > limit:
        raise BrokenError(f"it took {took:.1f} s", data)
    _all_there(loaded, found, data)
    _placed(loaded, found, data)
    _written(loaded, found, data)
    _mended(loaded, entry, data)
    return [one for one in found if one.file == file]


def _all_there(loaded: Loaded, found: list[Finding], data: bytes) -> None:
    """No entry is lost from the book or the report because of another."""
    book = loaded.book
    kept = {one.entry.file for index in (book.families, book.connectors, book.kits) for one in index.values()}
    lost = {one.file for one in book.lost}
    if kept | lost != {one.file for one in loaded.entries} or kept & lost:
        raise BrokenError("an entry is neither in the book nor set aside", data)
    for entry in book.lost:
        same_id = [one for one in loaded.entries if entry.front and one.front and one.front.get("id") == entry.front.get("id")]
        if not entry.problems and len(same_id) < 2:
            raise BrokenError(f"{entry.file} is set aside and nothing says why", data)
    if WITNESS in kept and not {"cavity-twice", "unsafe-prose"} <= {one.rule for one in found if one.file == WITNESS}:
        raise BrokenError("what is wrong in another entry is not told any more", data)
    for entry in loaded.entries:
        if entry.problems and entry.file not in {one.file for one in found}:
            raise BrokenError(f"{entry.file} is set aside and not in the report", data)


def _placed(loaded: Loaded, found: list[Finding], data: bytes) -> None:
    lines = {entry.file: entry.source.split("\n") for entry in loaded.entries}
    for one in found:
        if one.file not in lines:
            raise BrokenError(f"a finding in {one.file}, which is no file of the book", data)
        text = lines[one.file]
        if text != [""] and not (1 <= one.line <= len(text) and 1 <= one.column <= len(text[one.line - 1]) + 2):
            raise BrokenError(f"a finding at a place that there is not: {one}", data)
        if not one.message.strip() or not one.fix.strip():
            raise BrokenError(f"a finding without words: {one}", data)


def _written(loaded: Loaded, found: list[Finding], data: bytes) -> None:
    linted = Linted(loaded.root, loaded.entries)
    texts = {name: writer(name)(found, linted) for name in FORMATS}
    if len(json.loads(texts["json"])) != len(found) or len(json.loads(texts["sarif"])["runs"][0]["results"]) != len(found):
        raise BrokenError("a finding is lost in a report", data)
    etree.fromstring(texts["junit"].encode("utf-8"))
    if len(texts["github"].splitlines()) != len(found):
        raise BrokenError("an annotation is not one line", data)
    for text in texts.values():
        text.encode("utf-8")


def _mended(loaded: Loaded, entry: Entry, data: bytes) -> None:
    """``--fix`` changes nothing that it does not say that it changes, and is done the first time."""
    text = decode(entry.file, data)
    if not isinstance(text, str) or len(text) > 20_000:
        return
    page = Page(entry.file, text, loaded.schemas, Known(frozenset({"oval-9", "oval-13"}), frozenset(loaded.schemas.circuits)))
    mended, notes = fix_text(page)
    by = {note.fixer for note in notes}
    before, after = page.entry, mended.entry
    if before.front is not None and not by & MAY_CHANGE_VALUES and after.front != before.front:
        raise BrokenError(f"--fix ({', '.join(by)}) changed what the entry says", data)
    # What could not be read at all before may show more than one thing that is wrong once it can; the plan for a book weighs that.
    if before.front is not None and len(after.problems) > len(before.problems):
        raise BrokenError(f"--fix ({', '.join(by)}) made it worse", data)
    again, notes = fix_text(mended)
    if again.text != mended.text:
        raise BrokenError(f"--fix is not done the first time ({', '.join({note.fixer for note in notes})})", data)


def try_entry(data: bytes) -> None:
    """The bytes as a file, in one folder or another."""
    try_file(data, PLACES[len(data) % 3])


PIECES = (
    "\n", " ", "  ", "\t", "- ", ": ", "#", "---\n", "[", "]", "{", "}", '"', "'", "&a ", "*a", "!!str ", "|", ">", "~", "null",
    "-", "0", "1e99", "-1", "NO", "yes", "open", "case", "\u2028", "\r\n", "\ufeff", "\x07", "\\", "<b>", "](", "javascript:", "é",
    "😀", "P", "N", "R", "D", "99", "4300", "oval-9", "oval-13", "fuzz", "start_feed", "start_out", "backup_feed", "backup_out",
    "range_signal", "code_1", "TB-20417", "TB-20455", "2026-02-31", "2009-05", "2003-2008", "superseded", "withdrawn",
    "oval-9-renewal", "allow: [{rule: schema, reason: x}]\n", "superseded_by: [{number: TB-20417}]",
)  # fmt: skip
"""What is put into an entry: signs of YAML and Markdown, and words that mean something here."""


def mutant(data: bytes) -> tuple[bytes, str]:
    """An entry of the example book, changed as the bytes say: three for each change, the first byte says which entry."""
    files = [*base_book()]
    file = files[data[0] % len(files)] if data else files[0]
    text = base_book()[file]
    for at in range(1, min(len(data), 91) - 2, 3):
        what, where, which = data[at : at + 3]
        words = [0, *(index for index, sign in enumerate(text) if sign in " \n[{,:"), len(text)]
        start = words[(where * 257 + which) % len(words)]
        end = words[min(len(words) - 1, (where * 257 + which) % len(words) + 1 + which % 3)]
        line = text.rfind("\n", 0, start) + 1
        line_end = text.find("\n", start) + 1 or len(text)
        piece = PIECES[which % len(PIECES)]
        match what % 9:
            case 0:
                text = text[:start] + piece + text[start:]
            case 1:
                text = text[:start] + text[end:]
            case 2:
                text = text[:start] + piece + text[end:]
            case 3:
                text = text[:end] + text[start:end] + text[end:]
            case 4:
                text = text[:line] + text[line_end:]
            case 5:
                text = text[:line_end] + text[line:line_end] + text[line_end:]
            case 6:
                other = words[which % len(words)]
                text = text[:start] + text[other : other + 40] + text[start:]
            case 7:
                text = text[: start + 1] + text[start + 2 :]
            case _:
                text = text[:start] + text[start:end] * (2 + which) + text[end:]
        text = text[:60_000]
    return text.encode("utf-8", "replace"), file


def try_mutant(data: bytes) -> None:
    """A changed entry in its own place, and if the bytes say so beside the one that it was."""
    made, file = mutant(data)
    in_place = bool(not data or data[0] & 128)
    try_file(made, file if in_place else PLACES[("switches", "connectors", "kits").index(file.split("/")[1])], in_place=in_place)


def keep(folder: Path, data: bytes) -> str:
    """Keep an input that broke something; its name."""
    folder.mkdir(parents=True, exist_ok=True)
    name = f"{hashlib.sha256(data).hexdigest()[:12]}.md"
    (folder / name).write_bytes(data)
    return name
