"""A table taken into a book, but for the rows that cannot be, or that the linter has an error against: those are told one by one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from rangebook.book.load import Loaded
from rangebook.book.model import Family
from rangebook.book.numbers import normalise
from rangebook.desk.importing.mapping import ColumnMapping
from rangebook.desk.importing.plan import FileBytes, Plan, plan
from rangebook.desk.importing.resemblance import resemblances
from rangebook.desk.importing.rows import RowError, RowFacts, facts_of
from rangebook.reading.entry import read_entry
from rangebook.reading.finding import Finding
from rangebook.reading.located import Map, Seq
from rangebook.reading.table import Row, Table

NewErrors = Callable[[Mapping[str, bytes]], Sequence[Finding]]
"""Files put into the book -> the errors that the linter has against it then and has not now."""

MOST_ROUNDS = 12
"""A row that is left out may leave another without its successor, and so on; after so many rounds all that is concerned is left out."""


@dataclass(frozen=True)
class Outcome:
    """What became of one row, by the line that it begins on: ``added``, ``known`` (the book or another row says all of it) or
    ``refused``, and more in words."""

    line: int
    what: str
    words: str


@dataclass(frozen=True)
class Imported:
    """``files`` to be written, by path relative to the root, and the outcome of every row in the order of the table; ``alike`` are families
    of the book that one which is begun resembles: its file, the family, and in what."""

    files: Mapping[str, bytes]
    outcomes: tuple[Outcome, ...]
    alike: tuple[tuple[str, Family, str], ...] = ()

    def refused(self, table: Table) -> list[tuple[Row, str]]:
        """The rows that were not taken, each with the reason."""
        why = {one.line: one.words for one in self.outcomes if one.what == "refused"}
        return [(row, why[row.line]) for row in table.rows if row.line in why]


def take(loaded: Loaded, mapping: ColumnMapping, table: Table, bytes_of: FileBytes, new_errors: NewErrors) -> Imported:
    """Take as many rows as can be. Writes nothing."""
    outcomes: dict[int, Outcome] = {}
    facts: list[RowFacts] = []
    seen: dict[tuple[object, ...], int] = {}
    same_as: dict[int, int] = {}
    for row in table.rows:
        first = seen.setdefault((*(cell.strip() for cell in row.cells), *row.held), row.line)
        if first != row.line:
            same_as[row.line] = first
            continue
        try:
            facts.append(facts_of(row, table, mapping))
        except RowError as error:
            outcomes[row.line] = Outcome(row.line, "refused", str(error))
    made, against = _accepted(loaded, mapping, facts, bytes_of, new_errors)
    for what, words in (("added", made.added), ("known", made.known), ("refused", {**made.refused, **against})):
        outcomes |= {line: Outcome(line, what, text) for line, text in words.items()}
    # What is the same as a row that was not taken was not taken either.
    for line, first in same_as.items():
        same, there = f"the same as {table.unit} {first}", outcomes[first]
        refused = there.what == "refused"
        outcomes[line] = Outcome(line, "refused", f"{same}: {there.words}") if refused else Outcome(line, "known", same)
    alike = tuple(resemblances(loaded.book, made.files))
    return Imported(made.files, tuple(outcomes[line] for line in sorted(outcomes)), alike)


def _accepted(
    loaded: Loaded, mapping: ColumnMapping, facts: Sequence[RowFacts], bytes_of: FileBytes, new_errors: NewErrors
) -> tuple[Plan, dict[int, str]]:
    """A plan that the linter has no error against, and the rows that had to be left out for it, each with the reason."""
    against: dict[int, str] = {}
    for turn in range(MOST_ROUNDS + 1):
        made = plan(loaded, mapping, [one for one in facts if one.line not in against], bytes_of)
        errors = new_errors(made.files) if made.files else []
        if not errors:
            return made, against
        for error in errors:
            words = f"{error.message}; {error.fix} [{error.rule}]"
            blamed = _all(made, error.file) if turn == MOST_ROUNDS - 1 else _blamed(made, error, facts)
            for line in blamed:
                against.setdefault(line, words)
        if turn == MOST_ROUNDS:
            break
    return Plan({}, {}, {}, {}, {}), {**against, **dict.fromkeys(made.added, "the book would get errors by it")}


def _blamed(made: Plan, error: Finding, facts: Sequence[RowFacts]) -> Iterable[int]:
    """The rows that an error comes from: those of the item that it stands in, else those whose number that item names (as a part does
    what takes its place), else all of the file."""
    found = _item_at(made.files.get(error.file, b""), error)
    if found is None:
        return _all(made, error.file)
    key, index, node = found
    if lines := made.origin.get((error.file, key, index)):
        return lines
    named = set(map(normalise, _texts(node)))
    return [one.line for one in facts if one.line in made.added and normalise(one.number) in named] or _all(made, error.file)


def _texts(node: object) -> Iterator[str]:
    """Every text in a piece of an entry."""
    if isinstance(node, Mapping):
        for inner in node.values():
            yield from _texts(inner)
    elif isinstance(node, Sequence) and not isinstance(node, str):
        for inner in node:
            yield from _texts(inner)
    elif isinstance(node, str):
        yield node


def _all(made: Plan, file: str) -> Iterable[int]:
    of_file = {line for (name, _, _), lines in made.origin.items() if name == file for line in lines}
    return of_file or set(made.added)


def _item_at(data: bytes, error: Finding) -> tuple[str, int, object] | None:
    """The list, the index in it and the part or vehicle itself that a finding stands in; of a mount its name alone counts."""
    front = read_entry("x.md", data).front
    if front is None:
        return None
    at = error.mark
    key = max((one for one in front if front.key_mark(one) <= at), key=front.key_mark, default=None)
    mounts = front.get(key) if key == "mounts" else None
    if key is not None and isinstance(mounts, Map):
        index = max((index for index, one in enumerate(mounts) if mounts.key_mark(one) <= at), default=None)
        return None if index is None else (key, index, None)
    listed = front.get(key) if key in ("parts", "applications") else None
    if not isinstance(listed, Seq):
        return None
    index = max((index for index in range(len(listed)) if listed.item_mark(index) <= at), default=None)
    return None if key is None or index is None else (key, index, listed[index])
