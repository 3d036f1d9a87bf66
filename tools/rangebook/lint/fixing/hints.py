"""What rules have in common that report what ``rangebook lint --fix`` would mend."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import islice

from rangebook.lint.context import TextContext
from rangebook.lint.finding import Problem, problem_at
from rangebook.lint.fixing.edits import Fix
from rangebook.lint.fixing.page import LONGEST, Page
from rangebook.lint.fixing.typed import Known
from rangebook.lint.fixing.verify import verified
from rangebook.reading.entry import Entry

MOST = 100
"""After so many of one kind in one file the rest is not told; ``--fix`` mends all of them."""

FIX = "`rangebook lint --fix` does it"


def hints(entry: Entry, context: TextContext, find: Callable[[Page], Iterator[Fix]]) -> Iterator[Problem]:
    """Yield a finding for each fix that is found in an entry. Look first whether there may be any: this takes its time."""
    if len(entry.source) > LONGEST:
        return
    page = Page(entry.file, entry.source, context.schemas, Known())
    for fix in verified(page, list(islice(find(page), MOST))):
        yield problem_at(entry, page.mark(fix.offset), fix.code, **fix.values)
