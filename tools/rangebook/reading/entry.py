"""One entry as it stands in its file."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path

from rangebook.reading import files, front_matter, garbage, strict_yaml, text
from rangebook.reading.finding import Problem
from rangebook.reading.form import PLAIN, Form, form_of
from rangebook.reading.located import Map

HEAD = ("kind", "id", "allow")
"""The keys that are kept of an entry's front matter when the rest is put away."""

FEW = 64
"""So many of the trees that were put away and read again are kept, the last ones."""


@dataclass(slots=True)
class Entry:
    """A file of the book, read but not yet believed.

    ``prose`` is the Markdown below the front matter, which begins on line ``prose_line``; ``problems`` is everything found so far that
    keeps the entry from being taken as it is. ``form`` is what ``source`` no longer shows of the file.
    """

    file: str
    source: str = ""
    tree: Map | None = field(default=None, repr=False)
    prose: str = ""
    prose_line: int = 1
    problems: list[Problem] = field(default_factory=list)
    form: Form = PLAIN
    again: Callable[[Entry], Map | None] | None = field(default=None, compare=False, repr=False)
    _head: Map | None = field(default=None, compare=False, repr=False)

    @property
    def front(self) -> Map | None:
        """The located front matter, ``None`` where it could not be read. What was put away is read again."""
        if self.tree is None and self._head is not None:
            if self.again is None:
                raise RuntimeError(f"{self.file} was put away, and nobody said how to read it again")
            self.tree = self.again(self)
            _keep_for_a_while(self)
        return self.tree

    @property
    def head(self) -> Map | None:
        """The front matter with its ``kind``, ``id`` and ``allow`` at least: all of it, unless that was put away."""
        return self.tree if self.tree is not None else self._head

    def put_away(self) -> None:
        """Let go of the tree of values, some fifteen times as large as its text; ``again`` must be set for who asks for it later."""
        if self.tree is None:
            return
        self._head = self.tree.only(HEAD)
        self.tree = None

    @property
    def stem(self) -> str:
        """The file's name without folder and ``.md``."""
        return self.file.rsplit("/", 1)[-1].removesuffix(".md")

    @property
    def folder(self) -> str:
        """The folder that the file stands in, as ``switches``."""
        return self.file.rsplit("/", 2)[-2] if "/" in self.file else ""


_READ_AGAIN: deque[Entry] = deque()


def _keep_for_a_while(entry: Entry) -> None:
    _READ_AGAIN.append(entry)
    if len(_READ_AGAIN) > FEW:
        _READ_AGAIN.popleft().tree = None


def read_entry(file: str, data: bytes | OSError) -> Entry:
    """Bytes -> entry. Never raises: what is wrong is in the entry's ``problems``."""
    source = text.decode(file, data)
    if isinstance(source, Problem):
        return Entry(file, problems=[source])
    form = form_of(data) if isinstance(data, bytes) else PLAIN
    halves = front_matter.split(file, source)
    if isinstance(halves, Problem):
        return Entry(file, source, problems=[halves], form=form)
    front, problems = strict_yaml.parse(file, halves.front)
    return Entry(file, source, front, halves.prose, halves.prose_line, problems, form)


def read_front(file: str, source: str) -> Map | None:
    """The front matter alone of a text that was read before."""
    halves = front_matter.split(file, source)
    return None if isinstance(halves, Problem) else strict_yaml.parse(file, halves.front)[0]


def as_text(file: str, data: bytes | OSError) -> Entry:
    """An entry with nothing but its text, for showing a place in it."""
    source = text.decode(file, data)
    form = form_of(data) if isinstance(data, bytes) else PLAIN
    return Entry(file, "" if isinstance(source, Problem) else source, form=form)


def read_entries(root: Path) -> list[Entry]:
    """Every entry under ``root/entries``, in a fixed order."""
    return read_all(files.read_all(root))


def read_all(sources: Iterable[tuple[str, bytes | OSError]]) -> list[Entry]:
    """Every entry among the given files (name relative to the root, bytes)."""
    with garbage.put_off():
        return [read_entry(file, data) for file, data in sources]
