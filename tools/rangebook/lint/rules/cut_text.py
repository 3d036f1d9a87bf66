"""Words that a hash cuts off.

In the front matter a hash with a space before it begins a remark, which nobody reads but who opens the file. Behind words without quotes it
stands for a part of them; one word with a wide gap behind it has a remark.

Why it matters: half of a caution is lost without a word. (YAML 1.2.2, rule 75: a remark is parted from what stands before it.)

Fails:

    kind: kit
    title: Plug renewal #2 of the list

Mended:

    kind: kit
    title: "Plug renewal #2 of the list"
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.book.places import path_at, value_at
from rangebook.lint.context import TextContext
from rangebook.lint.fixing.edits import Change, Edit, Fix, quoted
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.hints import FIX, hints
from rangebook.lint.fixing.page import Page
from rangebook.lint.fixing.typed import free_keys
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, rule
from rangebook.reading.entry import Entry

_CUT = re.compile(r"""^[ ]*(?:-[ ]+)*(?:[\w.-]+:[ ]+)?([^\s"'\[\]{}|>&*!%@`#,-][^\n#]*?)[ ]+#[^\n]*?(?=[ ]*$)""", re.MULTILINE)


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for each text of several words with a remark behind it on its line, and for one word of a key for free text if it stands
    close to it."""
    front = page.entry.front
    if front is None:
        return
    free = free_keys(page.schemas)
    for match in _CUT.finditer(page.text, page.front_start, page.front_end):
        start, end = match.start(1), match.end()
        path = path_at(front, page.mark(start))
        value = value_at(front, path)
        key = next((step for step in reversed(path) if isinstance(step, str)), "")
        if (
            not isinstance(value, str)
            or value != match.group(1)
            or not (" " in value or (key in free and page.text[start + len(value) + 1] == "#"))
        ):
            continue
        whole = page.text[start:end]
        yield Fix(start, "cut", (Edit(start, end, quoted(whole)),), (Change(path, whole),), {"lost": whole[len(value) :].strip()})


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding at each text that is cut off."""
    if " #" in entry.source and entry.front is not None and _CUT.search(entry.source):
        yield from hints(entry, context, find)


MESSAGES = {
    "cut": Told("the words end before `{lost}`: a hash with a space before it begins a remark", ["put all of it in quotes; ", FIX]),
}

RULE = rule(
    __name__,
    __doc__,
    Severity.WARNING,
    TextCheck(TextContext, check_text),
    messages=MESSAGES,
    fixer=Fixer("cut-text", Safety.VALUE, Turn.VALUES, find),
)
