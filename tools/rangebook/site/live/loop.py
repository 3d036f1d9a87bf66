"""Looks at the book's files again and again: after a change the changed entries' own pages at once, then all of the site, made by
another process, put in the place of what was shown."""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from rangebook.lint.engine import has_errors
from rangebook.lint.finding import Finding
from rangebook.lint.linted import Linted
from rangebook.lint.now import Now, read_now, with_files
from rangebook.lint.reports import text
from rangebook.reading import garbage
from rangebook.reading.errors import LayersError
from rangebook.reading.files import FOLDERS, read_bytes
from rangebook.reading.layers import named_below, names_of
from rangebook.schema.errors import SchemaError
from rangebook.site.facts.computed import Computed
from rangebook.site.generator.single_page import PageWriter
from rangebook.site.output.state import State, changed, state

LOOK_EVERY_SECONDS = 0.3
SETTLED_SECONDS = 0.1
"""Files that are being written have to stand still for so long."""

MOST_AT_ONCE = 8
"""Of more changed entries than this the whole book is read again."""

Say = Callable[[str], None]


class Loop:
    """The book under ``root`` and the site of it in ``site``. ``say`` and ``complain`` are for the person at the terminal."""

    def __init__(self, root: Path, site: Path, whole: bool, say: Say, complain: Say) -> None:
        self._root, self._site, self._whole = root, site, whole
        self._say, self._complain = say, complain
        self._now: Now | None = None
        self._writer: PageWriter | None = None
        self._builder: subprocess.Popen[bytes] | None = None
        self._log = site.with_name("build.log")

    def against(self, file: str) -> Sequence[Finding]:
        """What the linter has against an entry's file at present."""
        now = self._now
        return now.against(file) if now and file else []

    def run(self, before: State) -> None:
        """Until interrupted. ``before`` is the state of the files of which the site was made."""
        pause = threading.Event()
        self._read()
        while True:
            pause.wait(LOOK_EVERY_SECONDS)
            self._look_at_builder()
            now = state(self._root)
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

    def _read(self) -> bool:
        try:
            self._now = read_now(self._root)
            return True
        except (SchemaError, LayersError) as error:
            self._complain(str(error))
            return False

    def _take(self, files: Sequence[str], now: State) -> None:
        own = self._own(files, now)
        if own and self._now:
            with garbage.put_off():
                self._now = with_files(self._now, own)
                self._write(own)
        elif not self._read():
            return
        assert self._now is not None
        if has_errors(self._now.findings):
            kept = "; the last good site is still shown" if self._site.is_dir() else ""
            report = text.write(self._now.findings, Linted(self._root, self._now.loaded.entries))
            self._complain(f"{report}not built, because of the errors above{kept}")
            return
        self._build()

    def _own(self, files: Sequence[str], now: State) -> dict[str, bytes]:
        """The changed files' bytes, by path from the root, where they are a few entries and nothing else; empty where all has to be read
        again."""
        if names_of(self._root):
            return {}
        names = {Path(file).relative_to(self._root).as_posix(): file for file in files}
        if len(names) > MOST_AT_ONCE or not all(map(_is_entry, names)) or any(file not in now for file in files):
            return {}
        try:
            return {name: read_bytes(Path(file)) for name, file in names.items()}
        except OSError:
            return {}

    def _write(self, own: Mapping[str, bytes]) -> None:
        if self._now is None or not self._site.is_dir():
            return
        if self._writer is None:
            self._writer = PageWriter(self._root, self._site, self._whole)
        pages = self._writer.write(Computed(self._now.loaded, self._now.fitter), [file.removeprefix("entries/") for file in own])
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


def _is_entry(file: str) -> bool:
    parts = file.split("/")
    return len(parts) == 3 and parts[0] == "entries" and parts[1] in FOLDERS.values() and parts[2].endswith(".md")
