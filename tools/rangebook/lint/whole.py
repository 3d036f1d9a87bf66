"""A whole book linted from its files, in little memory, and by two processes where that is worth while.

The tree of values with their places is some fifteen times as large as the text it was read from. Only the rules of scope ``text`` look
at all of it; so it is put away when they have seen it, and read again for an entry in which another rule finds something.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from functools import partial
from pathlib import Path
from typing import NamedTuple

from rangebook.book import build
from rangebook.book.book import book_of
from rangebook.book.load import Loaded, with_photos
from rangebook.lint.context import Context, TextContext
from rangebook.lint.finding import Finding
from rangebook.lint.registry import all_rules
from rangebook.lint.run import book_findings, entry_findings, settle, text_findings
from rangebook.reading import garbage
from rangebook.reading.aside import Aside, can_fork, processors
from rangebook.reading.entry import Entry, read_entry
from rangebook.schema.check import Checker
from rangebook.schema.store import Schemas

Source = tuple[str, bytes | OSError]
"""A file's name relative to the root, and its bytes or why it could not be read."""

MANY = 300
"""From so many files on a second process is worth its start."""


class _Taken(NamedTuple):
    entries: list[Entry]
    items: list[build.Item | None]
    findings: list[Finding]


def processes_for(files: int) -> int:
    """How many processes to use for a book of so many files: one or two."""
    return 2 if files >= MANY and processors() > 1 and can_fork() else 1


def lint_files(
    root: Path, sources: Iterable[Source], schemas: Schemas, today: date | None = None, processes: int = 1
) -> tuple[Loaded, list[Finding]]:
    """The same as loading a book and linting it, with all rules. Two ``processes`` share the work; more are not used.

    Bytes are let go of as they are read where ``sources`` lets them go too.
    """
    today = today or date.today()
    checker = Checker(schemas)
    rules = list(all_rules().values())
    take_in = partial(_take_in, checker=checker, today=today)
    with garbage.put_off():
        if processes > 1:
            dealt = list(sources)
            other = Aside(partial(take_in, [one for at, one in enumerate(dealt) if _is_sent(at)]))
            taken = _in_order(take_in([one for at, one in enumerate(dealt) if not _is_sent(at)]), other.result())
        else:
            taken = take_in(sources)
        for entry in taken.entries:
            if entry.tree is None and entry.head is not None:
                entry.again = checker.read_again
        book = book_of(zip(taken.entries, taken.items, strict=True))
        context = Context(with_photos(Loaded(root, taken.entries, schemas, book)), today, remembers=False)
        computed = [rule for rule in rules if rule.scope == "computed"]
        stated = [rule for rule in rules if rule.scope != "computed"]
        find_computed = partial(_all_findings, context, computed)
        if processes > 1:
            other = Aside(find_computed)
            found = [*taken.findings, *_all_findings(context, stated), *other.result()]
        else:
            found = [*taken.findings, *_all_findings(context, stated), *find_computed()]
        return context.loaded, settle(context, found, rules)


def _take_in(sources: Iterable[Source], *, checker: Checker, today: date) -> _Taken:
    """Read, check and make each, and run the rules of its text."""
    taken = _Taken([], [], [])
    context = TextContext(checker.schemas, today)
    rules = list(all_rules().values())
    for file, data in sources:
        entry = read_entry(file, data)
        entry.problems += checker.check(entry)
        taken.entries.append(entry)
        taken.items.append(build.item(entry))
        taken.findings.extend(text_findings(entry, context, rules))
        if not entry.problems:
            entry.put_away()
    return taken


def _is_sent(at: int) -> bool:
    """Whether the other process takes in the file at a place. It gets three of seven: sending back what it made takes its time too."""
    return at % 7 in (1, 3, 5)


def _in_order(kept: _Taken, sent: _Taken) -> _Taken:
    """What was taken in here and by the other process, in the order in which it was dealt."""
    here, there = (zip(one.entries, one.items, strict=True) for one in (kept, sent))
    count = len(kept.entries) + len(sent.entries)
    both = [next(there if _is_sent(at) else here) for at in range(count)]
    return _Taken([entry for entry, _ in both], [item for _, item in both], kept.findings + sent.findings)


def _all_findings(context: Context, rules: Sequence) -> list[Finding]:
    return [*entry_findings(context, rules), *book_findings(context, rules)]
