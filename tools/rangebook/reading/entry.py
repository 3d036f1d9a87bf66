"""One entry as it stands in its file."""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path

from rangebook.reading import front_matter, garbage, stack, strict_yaml, text
from rangebook.reading.finding import Problem
from rangebook.reading.form import PLAIN, Form, form_of
from rangebook.reading.laid_over import Clash, lay_over
from rangebook.reading.located import LAYER, Map, Mark
from rangebook.reading.stacked import Stacked

HEAD = ("kind", "id", "allow")
"""The keys that are kept of an entry's front matter when the rest is put away."""

FEW = 64
"""So many of the trees that were put away and read again are kept, the last ones."""


@dataclass(slots=True)
class Entry:
    """A file of the book, read but not yet believed.

    ``prose`` is the Markdown below the front matter, which begins on line ``prose_line``; ``problems`` is everything found so far that
    keeps the entry from being taken as it is. ``form`` is what ``source`` no longer shows of the file.

    What layers above the lowest say something of has ``pieces``: the entry as each layer has it, the lowest first; its ``source`` is what
    they say together, its places tell their layer (:data:`rangebook.reading.located.LAYER`), ``clashes`` are where they contradict, and
    ``read_with`` is how many problems reading them gave.
    """

    file: str
    source: str = ""
    tree: Map | None = field(default=None, repr=False)
    prose: str = ""
    prose_line: int = 1
    problems: list[Problem] = field(default_factory=list)
    form: Form = PLAIN
    again: Callable[[Entry], Map | None] | None = field(default=None, compare=False, repr=False)
    pieces: tuple[Piece, ...] = ()
    clashes: tuple[Clash, ...] = ()
    read_with: int = 0
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
    def schema_problems(self) -> list[Problem]:
        """What was found in it after reading: what the schema has against what several layers say together."""
        return self.problems[self.read_with :]

    @property
    def layer(self) -> int:
        """The uppermost layer that says something of it."""
        return self.pieces[-1].layer if self.pieces else 0

    def called(self, layer: int) -> str:
        """The name of one of the layers that say something of it."""
        return next((piece.name for piece in self.pieces if piece.layer == layer), "")

    def text_in(self, layer: int) -> str:
        """Its text as a layer has it; empty where that says nothing of it."""
        if not self.pieces:
            return self.source if layer == 0 else ""
        return next((piece.entry.source for piece in self.pieces if piece.layer == layer), "")

    def own(self, layer: int) -> Entry:
        """The entry as a layer has it by itself, to be written in: with nothing but its kind and id where that says nothing of it yet."""
        if layer == 0 and not self.pieces:
            return self
        found = next((piece.entry for piece in self.pieces if piece.layer == layer), None)
        kind = self.head.get("kind") if self.head is not None else None
        return found or read_entry(self.file, f"---\nkind: {kind}\nid: {self.stem}\n---\n".encode())

    def prose_mark(self, offset: int) -> Mark:
        """The line and column in the file of an offset in the prose."""
        start, line, within = 0, self.prose_line, self.prose
        for piece in self.pieces if len(self.pieces) > 1 else ():
            if piece.prose_at > offset:
                break
            # Of the heading above what a layer adds it is the first line of that.
            start, line, within = piece.prose_at, piece.entry.prose_line + piece.layer * LAYER, piece.entry.prose
        before = within[: max(0, offset - start)]
        return Mark(line + before.count("\n"), len(before) - (before.rfind("\n") + 1) + 1)

    @property
    def stem(self) -> str:
        """The file's name without folder and ``.md``."""
        return self.file.rsplit("/", 1)[-1].removesuffix(".md")

    @property
    def folder(self) -> str:
        """The folder that the file stands in, as ``switches``."""
        return self.file.rsplit("/", 2)[-2] if "/" in self.file else ""


@dataclass(frozen=True, slots=True)
class Piece:
    """An entry as one layer has it, read for itself. ``name`` is the layer's; ``prose_at`` is where its prose begins in that of all."""

    layer: int
    name: str
    entry: Entry
    prose_at: int = 0


_READ_AGAIN: deque[Entry] = deque()


def _keep_for_a_while(entry: Entry) -> None:
    _READ_AGAIN.append(entry)
    if len(_READ_AGAIN) > FEW:
        _READ_AGAIN.popleft().tree = None


def read_entry(file: str, data: bytes | OSError) -> Entry:
    """Bytes -> entry. Never raises: what is wrong is in the entry's ``problems``."""
    return _laid_together(file, data) if isinstance(data, Stacked) else _read(file, data)


def _laid_together(file: str, data: Stacked) -> Entry:
    """What several layers say of one entry. Where one of them cannot be read nobody knows what it would have said, and there is none."""
    pieces: list[Piece] = []
    fronts: list[tuple[Map | None, str]] = []
    problems: list[Problem] = []
    prose = ""
    for layer, name, own in data.pieces:
        alone = _read(file, own)
        halves = front_matter.split(file, alone.source) if alone.source else None
        if isinstance(halves, front_matter.Halves):
            # Read once more: what is laid together has its numbers made numbers, and each piece is still looked at as it stands.
            front, found = strict_yaml.parse(file, halves.front, 2 + layer * LAYER)
        else:
            front, found = None, [replace(one, mark=Mark(one.mark.line + layer * LAYER, one.mark.column)) for one in alone.problems]
        at = len(prose)
        if prose.strip() and alone.prose.strip():
            head = f"{prose.rstrip()}\n\n## {_MARKDOWN.sub(_ESCAPED, name)}\n\n"
            at, prose = len(head), head + alone.prose
        elif not prose.strip():
            at, prose = 0, alone.prose
        pieces.append(Piece(layer, name, alone, at))
        fronts.append((front, name))
        problems += found
    (tree, _), *above = fronts
    clashes: list[Clash] = []
    for front, name in above:
        if tree is None or front is None:
            tree = None
            break
        tree, found_now = lay_over(tree, front, name)
        clashes += found_now
    source = "\n".join(piece.entry.source for piece in pieces)
    lowest = pieces[0]
    line = lowest.entry.prose_line + lowest.layer * LAYER
    return Entry(file, source, tree, prose, line, problems, pieces=tuple(pieces), clashes=tuple(clashes), read_with=len(problems))


_MARKDOWN, _ESCAPED = re.compile(r"([\\`*_{}\[\]()#+!|<>&~-])"), r"\\\1"


def _read(file: str, data: bytes | OSError) -> Entry:
    source = text.decode(file, data)
    if isinstance(source, Problem):
        return Entry(file, problems=[source])
    form = form_of(data) if isinstance(data, bytes) else PLAIN
    halves = front_matter.split(file, source)
    if isinstance(halves, Problem):
        return Entry(file, source, problems=[halves], form=form)
    front, problems = strict_yaml.parse(file, halves.front)
    return Entry(file, source, front, halves.prose, halves.prose_line, problems, form)


def read_before(file: str, data: bytes, head: Map) -> Entry:
    """An entry whose bytes could be read once, with the ``head`` that it had then, put away; whoever keeps it sets how it is read
    ``again``."""
    source = text.decode(file, data)
    halves = front_matter.split(file, source) if isinstance(source, str) else source
    if isinstance(source, Problem) or isinstance(halves, Problem):
        raise ValueError(file)  # noqa: TRY004 - of a text that is none any more
    return Entry(file, source, None, halves.prose, halves.prose_line, [], form_of(data), _head=head)


def read_front(file: str, source: str) -> Map | None:
    """The front matter alone of a text that was read before."""
    halves = front_matter.split(file, source)
    return None if isinstance(halves, Problem) else strict_yaml.parse(file, halves.front)[0]


def as_text(file: str, data: bytes | OSError) -> Entry:
    """An entry with nothing but its text, for showing a place in it."""
    if isinstance(data, Stacked):
        return Entry(file, pieces=tuple(Piece(layer, name, as_text(file, own)) for layer, name, own in data.pieces))
    source = text.decode(file, data)
    form = form_of(data) if isinstance(data, bytes) else PLAIN
    return Entry(file, "" if isinstance(source, Problem) else source, form=form)


def read_entries(root: Path) -> list[Entry]:
    """Every entry under ``root/entries`` and in the layers below, in a fixed order."""
    return read_all(stack.read_all(root))


def read_all(sources: Iterable[tuple[str, bytes | OSError]]) -> list[Entry]:
    """Every entry among the given files (name relative to the root, bytes)."""
    with garbage.put_off():
        return [read_entry(file, data) for file, data in sources]
