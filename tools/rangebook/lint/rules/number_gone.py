"""A number that the book had is gone.

Of two revisions of the book, each number of a part or a kit that only the older one has is told: at the list of parts of
what is left of its entry, else at the top of the file that is gone. What an entry that cannot be read seems to hold is not
gone. Only `rangebook lint --changed-since` has two revisions to look at.

Why it matters: somebody has a part with that number in the hand. "Withdrawn, do not fit it" helps them; "nobody knows it" does not.

Fails: the kit has another number than before.

    kind: kit
    number: TW-7707

Mended: it keeps its own.

    kind: kit
    note: "Sold under this number since 2009."
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.removed_numbers import removed_numbers
from rangebook.lint.context import TwoRevisions
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, rule
from rangebook.reading.located import Mark, mark_at


def check_revisions(context: TwoRevisions) -> Iterator[Problem]:
    """Yield a finding for each number that is gone."""
    for one in removed_numbers(context.before, context.book):
        mark = Mark(1, 1)
        family = context.book.families.get(one.entry) if one.kind == "part" else None
        if family is not None and family.entry.front is not None and family.entry.file == one.file:
            mark = mark_at(family.entry.front, ("parts",), key=True)
        yield Problem("", one.file, mark, one.kind, {"number": one.number})


MESSAGES = {
    "part": Told(
        "{number} was in the book and is gone: whoever has one in the hand is told that nobody knows it",
        "put it back with `status: withdrawn`; a number that was mistyped too, with a note that says so",
    ),
    "kit": Told(
        "{number} was in the book and is gone: whoever has one in the hand is told that nobody knows it",
        "put its entry back, and say in its note that it is no longer sold",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, BookCheck(TwoRevisions, check_revisions), messages=MESSAGES)
