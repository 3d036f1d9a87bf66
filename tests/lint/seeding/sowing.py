"""Defects put into a clean book one at a time, and what the linter makes of each.

An *operator* is one kind of slip, and yields a *seed* for each place of the book that it fits. Where it fits goes by what
the entries say, never by what the linter finds.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from pathlib import Path

from rangebook.book.book import build_book
from rangebook.book.load import Loaded
from rangebook.lint.context import Scope
from rangebook.lint.engine import revision_findings
from rangebook.lint.finding import Finding
from rangebook.lint.fixing.edits import Edit, apply
from rangebook.lint.fixing.layout import Mapping as Block
from rangebook.lint.fixing.layout import Node, Scalar, Sequence, at, lay_out, walk
from rangebook.lint.registry import all_rules
from rangebook.lint.revisions import lint_beside_clean
from rangebook.reading.entry import Entry, read_entry
from rangebook.reading.files import read_all, strays
from rangebook.reading.photos import photo_of
from rangebook.reading.shelf import FILE, read_shelf
from rangebook.schema.check import Checker
from rangebook.schema.store import load_schemas

Place = tuple[str, int]
"""File and line."""


@dataclass(frozen=True)
class Seed:
    """One defect: the files that are other than in the clean book (``None``: gone), and the places where it may be told.

    There is mostly one place. There are two where two lines contradict each other and either may be the wrong one.
    """

    what: str
    files: Mapping[str, bytes | None]
    places: frozenset[Place]


@dataclass(frozen=True)
class Operator:
    """A kind of slip. ``rules`` are those that are there to find it: one, or two where it depends on what it meets."""

    name: str
    rules: frozenset[str]
    seeds: Callable[[Ground], Iterator[Seed]]
    group: str


@dataclass(frozen=True)
class Outcome:
    """What came of a seed: a finding in a right file at all, one by a right rule there, and one of these on a right line."""

    seed: Seed
    findings: tuple[Finding, ...]
    found: bool
    right_rule: bool
    right_line: bool


class Source:
    """One entry of the clean book: its text and layout."""

    def __init__(self, file: str, text: str, entry: Entry) -> None:
        self.file, self.text, self.entry = file, text, entry
        start = text.index("\n") + 1
        self.front_end = text.index("\n---\n", start - 1) + 1
        self.prose_start = self.front_end + 4
        self.layout = lay_out(text[start : self.front_end], start)

    @property
    def kind(self) -> str:
        return self.entry.front["kind"]

    def nodes(self, *pattern: str) -> Iterator[tuple[tuple, Node]]:
        """Paths and nodes that a pattern leads to; ``*`` stands for any key or index."""
        for path, node in walk(self.layout):
            if len(path) == len(pattern) and all(want in ("*", step) for want, step in zip(pattern, path, strict=True)):
                yield path, node

    def scalars(self, *pattern: str) -> Iterator[tuple[tuple, Scalar]]:
        """The same, values that are text only."""
        for path, node in self.nodes(*pattern):
            if isinstance(node, Scalar) and node.end > node.start:
                yield path, node

    def key_nodes(self, *pattern: str) -> Iterator[tuple[tuple, Scalar]]:
        """Paths and keys of the mappings that a pattern leads to."""
        for path, node in self.nodes(*pattern):
            if isinstance(node, Block):
                for key, _ in node.pairs:
                    yield (*path, key.value), key

    def at(self, *path: str | int) -> Node | None:
        return at(self.layout, path)

    def key(self, *path: str | int) -> Scalar:
        """The key at the end of a path."""
        owner = at(self.layout, path[:-1])
        assert isinstance(owner, Block)
        return next(key for key, _ in owner.pairs if key.value == path[-1])

    def line(self, offset: int) -> int:
        return self.text.count("\n", 0, offset) + 1

    def line_span(self, offset: int) -> tuple[int, int]:
        """The line that an offset is in, its end with it."""
        end = self.text.find("\n", offset)
        return self.text.rfind("\n", 0, offset) + 1, len(self.text) if end < 0 else end + 1

    def whole(self, *path: str | int) -> tuple[int, int]:
        """From the line of a key in a block to the end of its value's last line."""
        node = self.at(*path)
        assert node is not None
        return self.line_span(self.key(*path).start)[0], self.line_span(node.end - 1)[1]

    def seed(self, *edits: tuple[int, int, str], told: int | None = None, also: frozenset[Place] = frozenset()) -> Seed:
        """A seed of edits to this entry. It is to be told where the first edit is, or at the offset ``told`` of the clean text."""
        made = [Edit(*edit) for edit in edits]
        offset = made[0].start if told is None else told
        moved = offset + sum(len(one.text) - (one.end - one.start) for one in made if one.end <= offset and one.start < offset)
        text = apply(self.text, made)
        line = text.count("\n", 0, max(moved, 0)) + 1
        start, end = self.line_span(edits[0][0])
        what = f"{self.file}:{line}: {self.text[start:end].strip()[:60]}"
        return Seed(what, {self.file: text.encode("utf-8")}, frozenset({(self.file, line)}) | also)

    def put(self, node: Scalar, text: str, **where) -> Seed:
        """A seed of another value in the place of one, inside its quotes if it has any."""
        start, end = (node.start + 1, node.end - 1) if node.quote else (node.start, node.end)
        return self.seed((start, end, text), **where)


class Ground:
    """The clean book, read once. What is sown is linted with the other entries as they are."""

    def __init__(self, root: Path, today: date) -> None:
        self.root, self.today, self._runs = root, today, 0
        self.schemas = load_schemas(root)
        self._checker = Checker(self.schemas)
        self.bytes = {file: data for file, data in read_all(root) if isinstance(data, bytes)}
        self._entries = {file: self._read(file, data) for file, data in self.bytes.items()}
        self.shelf = read_shelf(root)
        self.loaded = self._load(self._entries)

    @cached_property
    def sources(self) -> list[Source]:
        return [Source(file, entry.source, entry) for file, entry in self._entries.items()]

    def of(self, kind: str) -> Iterator[Source]:
        return (one for one in self.sources if one.kind == kind)

    def source(self, file: str) -> Source:
        return next(one for one in self.sources if one.file == file)

    def lint(self, files: Mapping[str, bytes | None] = {}, since: bool = False) -> list[Finding]:
        """The findings of the book with some files other than they are; ``since``: also what comparing it with the clean one finds."""
        # The linter puts garbage off for good, which is right for a command and not for thousands of runs in one process.
        self._runs += 1
        if self._runs % 200 == 0:
            gc.unfreeze()
            gc.collect()
        entries = {file: entry for file, entry in self._entries.items() if file not in files}
        lost = strays((*self._entries, *files))
        pictures = {file: photo_of(data) for file, data in files.items() if data is not None and "/photos/" in file and file not in lost}
        kept = {file: data for file, data in files.items() if data is not None and file not in (FILE, *lost, *pictures)}
        entries.update({file: self._read(file, data) for file, data in kept.items()})
        loaded = replace(self._load(entries), shelf=files.get(FILE, self.shelf), strays=lost, photos=pictures or None)
        return [*lint_beside_clean(self.loaded, loaded, self.today), *(revision_findings(self.loaded, loaded, self.today) if since else ())]

    def on_shelf(self, line: str, at: int | None = None) -> Seed:
        """A seed of one more line in the stock list, ``at`` that line of it from 0, else at its end."""
        assert isinstance(self.shelf, bytes)
        lines = self.shelf.decode().splitlines()
        at = len(lines) if at is None else at
        lines.insert(at, line)
        return Seed(f"{FILE}:{at + 1}: {line}", {FILE: "\n".join(lines).encode()}, frozenset({(FILE, at + 1)}))

    def try_out(self, operator: Operator, seed: Seed) -> Outcome:
        """Sow one seed. What compares revisions is asked only where a rule is there for the seed that does so."""
        since = any(all_rules()[name].scope is Scope.REVISIONS for name in operator.rules)
        findings = tuple(self.lint(seed.files, since))
        right_files = {file for file, _ in seed.places}
        right = [one for one in findings if one.rule in operator.rules and one.file in right_files]
        return Outcome(
            seed,
            findings,
            any(one.file in right_files for one in findings),
            bool(right),
            any((one.file, one.line) in seed.places for one in right),
        )

    def _read(self, file: str, data: bytes) -> Entry:
        entry = read_entry(file, data)
        entry.problems += self._checker.check(entry)
        return entry

    def _load(self, entries: Mapping[str, Entry]) -> Loaded:
        ordered = [entries[file] for file in sorted(entries, key=lambda file: file.split("/"))]
        return Loaded(self.root, ordered, self.schemas, build_book(ordered, self.schemas.circuits), shelf=self.shelf)


__all__ = ["Block", "Ground", "Operator", "Outcome", "Place", "Scalar", "Seed", "Sequence", "Source"]
