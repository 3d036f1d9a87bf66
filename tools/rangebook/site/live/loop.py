"""Looks at the book's files again and again: after a change the changed entries' own pages at once, then all of the site, made by
another process, put in the place of what was shown."""

from __future__ import annotations

import subprocess
import sys
import threading
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from rangebook.lint.engine import has_errors
from rangebook.lint.finding import Finding
from rangebook.reading import garbage
from rangebook.reading.errors import LayersError
from rangebook.reading.files import is_entry
from rangebook.reading.layers import named_below, names_of
from rangebook.schema.errors import SchemaError
from rangebook.site.facts.computed import Computed
from rangebook.site.generator.gate import BookNow
from rangebook.site.generator.single_page import PageWriter
from rangebook.site.output.state import State, changed, state

LOOK_EVERY_SECONDS = 0.05
LOOK_SELDOM_SECONDS = 0.3
"""Where looking at all files takes longer than a tenth of the time in between: in a large book."""
SETTLED_SECONDS = 0.03
"""Files that are being written have to stand still for so long."""

MOST_AT_ONCE = 8
"""Of more changed entries than this the whole book is read again."""

Say = Callable[[str], None]


class Loop:
    """The book under ``root`` and the site of it in ``site``. ``say`` and ``complain`` are for the person at the terminal."""

    def __init__(self, root: Path, site: Path, whole: bool, say: Say, complain: Say) -> None:
        self._root, self._site, self._whole = root, site, whole
        self._say, self._complain = say, complain
        self._findings: Sequence[Finding] | None = None
        self._writer: PageWriter | None = None
        self._builder: subprocess.Popen[bytes] | None = None
        self._log = site.with_name("build.log")

    def against(self, file: str) -> Sequence[Finding]:
        """What the linter has against an entry's file at present."""
        return [one for one in self._findings or () if one.file == file] if file else []

    def run(self, before: State) -> None:
        """Until interrupted. ``before`` is the state of the files of which the site was made."""
        pause = threading.Event()
        self._look()
        took = 0.0
        while True:
            pause.wait(max(LOOK_EVERY_SECONDS, min(took * 10, LOOK_SELDOM_SECONDS)))
            self._look_at_builder()
            began = time.monotonic()
            now = state(self._root)
            took = time.monotonic() - began
            if now == before:
                continue
            pause.wait(SETTLED_SECONDS)
            if state(self._root) != now:
                continue
            files = changed(before, now)
            before = now
            self.stop()
            self._take(files, now)

    def stop(self) -> None:
        """End the other process, if it is at work."""
        if self._builder and self._builder.poll() is None:
            self._builder.terminate()
            self._builder.wait()
        self._builder = None

    def _look(self) -> BookNow | None:
        """The book as it is now, once what the linter has against it is known."""
        try:
            book = BookNow(self._root)
            self._findings = book.findings
        except (SchemaError, LayersError) as error:
            self._complain(str(error))
            return None
        return book

    def _take(self, files: Sequence[str], now: State) -> None:
        with garbage.put_off():
            book = self._look()
            if book is None:
                return
            if own := self._own(files, now):
                self._write(book, own)
        if has_errors(book.findings):
            kept = "; the last good site is still shown" if self._site.is_dir() else ""
            self._complain(f"{book.report()}not built, because of the errors above{kept}")
            return
        self._build()

    def _own(self, files: Sequence[str], now: State) -> list[str]:
        """The changed files, by path from the root, where they are a few entries and nothing else."""
        if names_of(self._root):
            return []
        names = [Path(file).relative_to(self._root).as_posix() for file in files]
        few = len(names) <= MOST_AT_ONCE and all(map(is_entry, names)) and all(file in now for file in files)
        return names if few else []

    def _write(self, book: BookNow, own: Sequence[str]) -> None:
        if not self._site.is_dir():
            return
        if self._writer is None:
            self._writer = PageWriter(self._root, self._site, self._whole)
        pages = self._writer.write(Computed(book.around(own)), [file.removeprefix("entries/") for file in own])
        if pages:
            self._say(f"Shown: {', '.join(page.removesuffix('.md') for page in pages)}. The rest of the site follows.")

    def _build(self) -> None:
        roots = [word for one in (*named_below(self._root), self._root) for word in ("--root", str(one))]
        words = [sys.executable, "-m", "rangebook", "build", *roots, "--site-dir", str(self._site)]
        words += ["--whole-mkdocs-yml"] if self._whole else []
        with self._log.open("wb") as log:
            self._builder = subprocess.Popen(words, stdout=log, stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL, start_new_session=True)

    def _look_at_builder(self) -> None:
        if self._builder is None or (status := self._builder.poll()) is None:
            return
        self._builder = None
        if status == 0:
            self._say("Built anew: load the page again.")
        else:
            self._complain(self._log.read_text("utf-8", "replace").strip() or f"the site could not be built (exit status {status})")
