"""The text of one entry, as fixers look at it."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property

from rangebook.lint.fixing.layout import Mapping, lay_out
from rangebook.lint.fixing.typed import Known
from rangebook.reading import front_matter
from rangebook.reading.entry import Entry, read_entry
from rangebook.reading.files import FOLDERS
from rangebook.reading.finding import Problem
from rangebook.reading.located import Mark
from rangebook.schema.store import KINDS, Schemas

_KIND_OF = {folder: kind for kind, folder in FOLDERS.items()}

LONGEST = 100_000
"""Characters. A longer entry is not mended: nobody typed it, and each fix is checked by reading it all again."""


@dataclass(frozen=True)
class Page:
    """One entry's text, every line end ``\\n``, and what fixers have to know beside it."""

    file: str
    text: str
    schemas: Schemas
    known: Known

    @cached_property
    def entry(self) -> Entry:
        """The text read. The schema has not been asked about it."""
        return read_entry(self.file, self.text.encode("utf-8", "surrogatepass"))

    @cached_property
    def _halves(self) -> front_matter.Halves | None:
        found = front_matter.split(self.file, self.text)
        return None if isinstance(found, Problem) else found

    @property
    def front_start(self) -> int:
        """Where the line after the first ``---`` begins."""
        return self.text.find("\n") + 1

    @property
    def front_end(self) -> int:
        """Where the closing ``---`` begins; ``front_start`` where the file has no front matter."""
        halves = self._halves
        if halves is None:
            return self.front_start
        end = self.front_start + len(halves.front)
        return end if self.text[self.front_start : end] == halves.front else self.front_start

    @property
    def prose_start(self) -> int:
        """Where the line after the closing ``---`` begins; the length of the text where there is none."""
        if self._halves is None:
            return len(self.text)
        end = self.text.find("\n", self.front_end)
        return len(self.text) if end < 0 else end + 1

    @cached_property
    def layout(self) -> Mapping | None:
        """The front matter's layout; ``None`` where the reader has anything against it."""
        if self.entry.front is None or self.entry.problems or self.front_end == self.front_start:
            return None
        return lay_out(self.text[self.front_start : self.front_end], self.front_start)

    @cached_property
    def kind(self) -> str | None:
        """The kind of the entry: what it says, in whatever case, else what its folder is for."""
        stated = self.entry.front.get("kind") if self.entry.front is not None else None
        if isinstance(stated, str) and stated.lower() in KINDS:
            return stated.lower()
        return _KIND_OF.get(self.entry.folder)

    def mark(self, offset: int) -> Mark:
        """The line and column of an offset."""
        line = bisect_right(self._line_starts, offset)
        return Mark(line, offset - self._line_starts[line - 1] + 1)

    def offset(self, mark: Mark) -> int:
        """The offset of a line and column."""
        return self._line_starts[mark.line - 1] + mark.column - 1

    @cached_property
    def _line_starts(self) -> list[int]:
        return [0, *(match.end() for match in re.finditer("\n", self.text))]

    def with_text(self, text: str) -> Page:
        """The same entry with another text."""
        return Page(self.file, text, self.schemas, self.known)
