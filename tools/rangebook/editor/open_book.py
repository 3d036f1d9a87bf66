"""A book while it is edited: what editors have open stands in the place of what is on the disk, and every finding follows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from threading import Lock
from typing import NamedTuple

from rangebook.book.load import assemble, with_files
from rangebook.editor.at import At
from rangebook.editor.text import UTF_16, Span, Text
from rangebook.fitting.fitter import Fitter
from rangebook.lint.engine import lint
from rangebook.lint.finding import Finding, Severity
from rangebook.lint.fixing.edits import Fix
from rangebook.lint.fixing.page import LONGEST, Page
from rangebook.lint.fixing.verify import fixed, verified
from rangebook.lint.now import Now
from rangebook.lint.now import with_files as now_with_files
from rangebook.lint.plan import fix_text, known_of
from rangebook.lint.registry import all_rules
from rangebook.lint.wording import found_words
from rangebook.reading.entry import read_all as read_entries
from rangebook.reading.files import is_entry, read_bytes
from rangebook.reading.layers import names_of
from rangebook.reading.links import refuse_links
from rangebook.reading.stack import read_all, with_own
from rangebook.schema.store import load_schemas


class Marked(NamedTuple):
    """A finding with where it begins and ends, as editors count."""

    finding: Finding
    span: Span


class Mending(NamedTuple):
    """A fix that is offered: what it does in words, the rule whose findings it takes away, and the text that comes of it."""

    title: str
    rule: str
    text: str


class OpenBook:
    """The book under ``root``. One thread may put files into it while another one settles it; what it was at the last :meth:`settle` is
    there for all. Columns are counted in units of ``encoding``."""

    def __init__(self, root: Path, encoding: str = UTF_16) -> None:
        self.root, self.encoding = root, encoding
        self.open: dict[str, str] = {}
        self.now: Now | None = None
        self._stale: set[str] | None = None
        self._day = date.min
        self._lock = Lock()

    def put(self, file: str, text: str) -> None:
        """A file as somebody is editing it."""
        with self._lock:
            self.open[file] = text
            self._mark(file)

    def close(self, file: str) -> None:
        """It is no longer edited: what is on the disk counts again."""
        with self._lock:
            self.open.pop(file, None)
            self._mark(file)

    def look_again(self, file: str) -> None:
        """A file has changed on the disk."""
        with self._lock:
            if file not in self.open:
                self._mark(file)

    def _mark(self, file: str) -> None:
        if self._stale is not None:
            self._stale = self._stale | {file} if is_entry(file) else None

    def settle(self) -> Now:
        """The book as it is now. Raises ``SchemaError``."""
        with self._lock:
            stale, self._stale = self._stale, set()
            opened = {file: text.encode("utf-8", "surrogatepass") for file, text in self.open.items() if is_entry(file)}
        try:
            changed = {file: data for file in stale or () if (data := opened.get(file, self._on_disk(file))) is not None}
            if self.now is None or stale is None or len(changed) < len(stale) or self._day != date.today():
                self.now = self._afresh(opened)
            elif changed:
                self.now = now_with_files(self.now, changed)
        except BaseException:
            with self._lock:
                self._stale = None
            raise
        return self.now

    def _on_disk(self, file: str) -> bytes | None:
        try:
            refuse_links(self.root, self.root / file)
            return read_bytes(self.root / file)
        except OSError:
            return None

    def _afresh(self, opened: Mapping[str, bytes]) -> Now:
        self._day = date.today()
        files = {**dict(read_all(self.root)), **with_own(self.root, opened)}
        in_order = sorted(files.items(), key=lambda one: one[0].split("/"))
        loaded = with_files(assemble(self.root, read_entries(in_order), load_schemas(self.root), names_of(self.root)))
        fitter = Fitter(loaded.book)
        return Now(loaded, fitter, lint(loaded))

    def text(self, file: str) -> Text:
        """A file's text as it is edited, else as it was read."""
        if file in self.open:
            return Text(self.open[file], self.encoding)
        entries = self.now.loaded.entries if self.now else ()
        found = next((one for one in entries if one.file == file), None)
        return Text(found.text_in(self._own_layer) if found else "", self.encoding)

    @property
    def _own_layer(self) -> int:
        """The number of the layer that the folder is: above it there is none."""
        return max(0, len(self.now.loaded.book.layers) - 1) if self.now else 0

    def marked(self) -> Mapping[str, list[Marked]]:
        """The findings by file."""
        found: dict[str, list[Marked]] = {}
        texts: dict[str, Text] = {}
        for one in self.now.findings if self.now else ():
            if one.layer != self._own_layer:
                continue  # it is in another folder, which is not edited here
            text = texts.get(one.file) or texts.setdefault(one.file, self.text(one.file))
            start = text.at(one.mark.in_file)
            found.setdefault(one.file, []).append(Marked(one, text.span(start, text.word_end(start))))
        return found

    def at(self, file: str) -> At | None:
        """What can be asked of places in a file; ``None`` before the book was read."""
        return At(self.now.loaded, file, self.text(file)) if self.now else None

    def mendings(self, file: str, first: int, last: int) -> Iterator[Mending]:
        """What can be mended between two lines (from 0): each fix of a rule by itself, then all that can be mended in the file."""
        if self.now is None or not is_entry(file):
            return
        page = Page(file, self.text(file).text, self.now.loaded.schemas, known_of(self.now.loaded))
        if len(page.text) > LONGEST:
            return
        for rule in all_rules().values():
            fixer = rule.fixer
            if fixer is None or fixer.find is None:
                continue
            for fix in fixer.find(page):
                if any(first <= line <= last for line in _lines(page, fix)) and verified(page, [fix]):
                    yield Mending(found_words(rule, fix.code, fix.values), rule.name, fixed(page, [fix]).text)
        whole, notes = fix_text(page)
        if notes and whole.text != page.text:
            yield Mending("", "", whole.text)


def severity_of(finding: Finding) -> int:
    """How severe a finding is, from 0, the most."""
    return list(Severity).index(finding.severity)


def _lines(page: Page, fix: Fix) -> Iterator[int]:
    yield page.mark(fix.offset).line - 1
    for edit in fix.edits:
        yield from range(page.mark(edit.start).line - 1, page.mark(edit.end).line)
