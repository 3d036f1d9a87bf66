"""One entry as it stands in its file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from rangebook.reading import files, front_matter, garbage, strict_yaml, text
from rangebook.reading.form import PLAIN, Form, form_of
from rangebook.reading.located import Map
from rangebook.reading.problem import Problem


@dataclass(slots=True)
class Entry:
    """A file of the book, read but not yet believed.

    ``front`` is the located front matter (``None`` where it could not be read), ``prose`` the Markdown below it, which
    begins on line ``prose_line``; ``problems`` is everything found so far that keeps the entry from being taken as it is.
    ``form`` is what ``source`` no longer shows of the file.
    """

    file: str
    source: str = ""
    front: Map | None = None
    prose: str = ""
    prose_line: int = 1
    problems: list[Problem] = field(default_factory=list)
    form: Form = PLAIN

    @property
    def stem(self) -> str:
        """The file's name without folder and ``.md``."""
        return self.file.rsplit("/", 1)[-1].removesuffix(".md")

    @property
    def folder(self) -> str:
        """The folder that the file stands in, as ``switches``."""
        return self.file.rsplit("/", 2)[-2] if "/" in self.file else ""


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
