"""What a change of the book takes out of it, as findings: no rule of a single book can see that."""

from __future__ import annotations

from rangebook.book.book import Book
from rangebook.book.gone import Gone, gone_numbers
from rangebook.lint.finding import Finding, Severity
from rangebook.reading.located import Mark, mark_at

RULE = "number-gone"
"""The name under which ``rangebook lint --changed-since`` tells of it."""


def gone_findings(old: Book, new: Book) -> list[Finding]:
    """The same as findings: a warning at the list of parts of what is left of the entry, else at the top of the file that is gone."""
    return [
        Finding(
            one.file,
            *_place(one, new),
            RULE,
            Severity.WARNING,
            f"{one.number} was in the book and is gone: whoever has one in the hand is told that nobody knows it",
            one.advice,
        )
        for one in gone_numbers(old, new)
    ]


def _place(one: Gone, new: Book) -> tuple[int, int]:
    family = new.families.get(one.entry) if one.kind == "part" else None
    if family is None or family.entry.front is None or family.entry.file != one.file:
        mark = Mark(1, 1)
    else:
        mark = mark_at(family.entry.front, ("parts",), key=True)
    return mark.line, mark.column
