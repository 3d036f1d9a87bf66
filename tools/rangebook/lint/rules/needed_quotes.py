"""A bare hyphen in the rows of a connector.

Where a housing has no cavity the rows say ``"-"``, in quotes.

Why it matters: in YAML a hyphen alone begins a list. This reader takes it for a hyphen all the same, as far as it can; others
(editors, other people's tools) refuse the whole entry. (YAML 1.2.2, rule 126.)

Fails:

    kind: connector
    rows:
      - [1, 2, 3, 4, 5]
      - [6, 7, 8, 9, 10]
      - [-, 11, 12, 13]

Mended:

    kind: connector
    rows:
      - [1, 2, 3, 4, 5]
      - [6, 7, 8, 9, 10]
      - ["-", 11, 12, 13]
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.lint.context import TextContext
from rangebook.lint.fixing.edits import Edit, Fix
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.hints import FIX, hints
from rangebook.lint.fixing.page import Page
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, rule
from rangebook.reading.entry import Entry

BARE = re.compile(r"(?<=[\[,])[ ]*(-)[ ]*(?=[,\]])")
"""A hyphen alone between brackets and commas. YAML 1.2.2, rule 126: in brackets a plain text cannot be that."""

_PERHAPS = re.compile(r"- *[,\]]")
"""What is in each of these, and is soon looked for as it begins with a sign."""

_ROWS = re.compile(r"^rows:.*(?:\n(?:[ #-].*)?)*", re.MULTILINE)


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for each bare hyphen in ``rows``, whether the front matter can be read otherwise or not."""
    front = page.text[page.front_start : page.front_end]
    rows = _ROWS.search(front)
    if page.kind != "connector" or rows is None:
        return
    at = page.front_start + rows.start()
    for line in rows.group().split("\n"):
        for match in BARE.finditer(line.partition("#")[0]):
            start, end = match.start(1) + at, match.end(1) + at
            yield Fix(start, "bare", (Edit(start, end, '"-"'),))
        at += len(line) + 1


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding at each hyphen without quotes; where the entry cannot be read because of it, ``yaml-syntax`` says so."""
    if entry.folder == "connectors" and entry.front is not None and _PERHAPS.search(entry.source) and BARE.search(entry.source):
        yield from hints(entry, context, find)


MESSAGES = {
    "bare": Told('a `-` without quotes; where there is no cavity it is written `"-"`', ['write `"-"`; ', FIX]),
}

RULE = rule(
    __name__,
    __doc__,
    Severity.HINT,
    TextCheck(TextContext, check_text),
    messages=MESSAGES,
    fixer=Fixer("needed-quotes", Safety.FORM, Turn.READABLE, find),
)
