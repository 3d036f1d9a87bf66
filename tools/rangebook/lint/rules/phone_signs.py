"""Quotes and spaces of a phone.

Values are quoted with straight quotes, and the spaces between words are those of the space bar. Curly quotes round a whole value, and
no-break and other odd spaces in the front matter, were put there by a phone, a word processor or a page that was copied from.

Why it matters: curly quotes quote nothing, so they become a part of the name; a name with an odd space in it looks like another one and is
never the same.

Fails:

    kind: kit
    title: “Plug renewal, oval-9 to oval-13”

Mended:

    kind: kit
    title: Plug renewal, oval-9 to oval-13
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

from rangebook.book.places import path_at, value_at
from rangebook.lint.context import TextContext
from rangebook.lint.fixing.edits import Change, Edit, Fix
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.hints import FIX, hints
from rangebook.lint.fixing.page import Page
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, rule
from rangebook.reading.entry import Entry
from rangebook.reading.slips import CURLY, ODD_SPACE, unquoted

_OPENS = re.compile(rf"(?:(?<=: )|(?<=- )|(?<=[\[,{{])[ ]?)[{CURLY}]([^{CURLY}\n\"\\]*)[{CURLY}](?=[ ]*(?:$|[,\]}}]))", re.MULTILINE)


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for each value in curly quotes and each odd space, whether the front matter can be read otherwise or not."""
    front = page.text[page.front_start : page.front_end]
    blank = "\n".join(map(unquoted, front.split("\n")))
    for match in _OPENS.finditer(blank):
        start, end = match.start(1) - 1, match.end()
        at = page.front_start + start
        words = front[match.start(1) : match.end(1)]
        changes = _changes(page, at, front[start:end], words)
        if changes is not None:
            edits = Edit(at, at + 1, '"'), Edit(page.front_start + end - 1, page.front_start + end, '"')
            yield Fix(at, "curly", edits, changes, {"sign": front[start]})
    for space in ODD_SPACE.finditer(front):
        at = page.front_start + space.start()
        before = _value_at(page, at)
        changes = () if page.entry.front is None else _spaced(page, at, before)
        if changes is not None:
            name = unicodedata.name(space.group()).lower()
            yield Fix(at, "space", (Edit(at, at + 1, " "),), changes, {"name": name, "code_point": f"{ord(space.group()):04X}"})


def _value_at(page: Page, at: int) -> object:
    if page.entry.front is None:
        return None
    return value_at(page.entry.front, path_at(page.entry.front, page.mark(at)))


def _changes(page: Page, at: int, value: str, words: str) -> tuple[Change, ...] | None:
    """What the reader takes for another value; ``None`` where the value at the place is not that."""
    if page.entry.front is None:
        return ()
    if _value_at(page, at) != value:
        return None
    return (Change(path_at(page.entry.front, page.mark(at)), words),)


def _spaced(page: Page, at: int, value: object) -> tuple[Change, ...] | None:
    if page.entry.front is None or not isinstance(value, str) or not ODD_SPACE.search(value):
        return None
    return (Change(path_at(page.entry.front, page.mark(at)), ODD_SPACE.sub(" ", value)),)


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding at each; where the entry cannot be read because of it, ``yaml-syntax`` says so."""
    if entry.source.isascii():
        return  # none of them is in ASCII, and nearly every entry is
    if entry.front is not None and (ODD_SPACE.search(entry.source) or any(sign in entry.source for sign in CURLY)):
        yield from hints(entry, context, find)


MESSAGES = {
    "curly": Told("the quotes `{sign}` of a phone or a word processor are taken for a part of the value", ["type straight ones; ", FIX]),
    "space": Told("a {name} (U+{code_point}) stands here in the place of a space", ["type a plain space; ", FIX]),
}

RULE = rule(
    __name__,
    __doc__,
    Severity.WARNING,
    TextCheck(TextContext, check_text),
    messages=MESSAGES,
    fixer=Fixer("phone-signs", Safety.READABLE, Turn.READABLE, find),
)
