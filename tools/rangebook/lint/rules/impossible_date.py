"""A date that is on no calendar.

The day of every date exists in its month: in the `on` of a source or of a record of the bay, wherever they stand.

Why it matters: whether a claim is fresh or old is reckoned from its date. One that does not exist was mistyped, and
nobody can tell which day was meant but who wrote it.

Fails:

    kind: kit
    sources: [{kind: seen, detail: "bag opened", by: bench, on: 2026-02-31}]

Mended:

    kind: kit
    sources: [{kind: seen, detail: "bag opened", by: bench, on: 2026-02-28}]
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from rangebook.book.model import KeyPath
from rangebook.lint.context import TextContext
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, problem, rule
from rangebook.reading.entry import Entry


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding for each day of an entry's sources and records that does not exist. One that is no date at all is the schema's."""
    if entry.front is None or entry.problems:
        return
    for path, typed in _dates(entry.front, ()):
        try:
            date.fromisoformat(typed)
        except ValueError:
            yield problem(entry, path, "no_day", day=typed)


def _dates(node: Any, path: KeyPath) -> Iterator[tuple[KeyPath, str]]:
    """Every `on` of every list of sources or records, with the way to it."""
    if isinstance(node, dict):
        for key in ("sources", "fitted"):
            for index, one in enumerate(node.get(key, ())):
                if "on" in one:
                    yield (*path, key, index, "on"), one["on"]
        for key in ("parts", "superseded_by", "applications"):
            for index, inner in enumerate(node.get(key, ())):
                yield from _dates(inner, (*path, key, index))


MESSAGES = {"no_day": Told("there is no day {day}", "look up which day it was, or leave `on` out")}

RULE = rule(__name__, __doc__, Severity.ERROR, TextCheck(TextContext, check_text), messages=MESSAGES)
