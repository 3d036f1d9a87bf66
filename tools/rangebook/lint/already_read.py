"""What the rules have in common that pass on what reading and schema check found."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.context import TextContext
from rangebook.lint.finding import Problem
from rangebook.lint.rule import TextCheck, name_of
from rangebook.reading.entry import Entry


def already_read(module: str) -> TextCheck[TextContext]:
    """A generator of the entry's problems that belong to the rule in a module."""
    rule = name_of(module)

    def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
        """Yield what reading the file found under this rule's name."""
        yield from (problem for problem in entry.problems if problem.rule == rule)

    return TextCheck(TextContext, check_text)
