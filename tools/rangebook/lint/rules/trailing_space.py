"""Spaces where nobody sees them.

No line ends in a space or tab, and the file ends with one line end and no blank lines. In the prose two spaces before a line that goes
on are a line break in Markdown and may stay, and what is inside code is left alone.

Why it matters: editors take such spaces out without asking. Then a change of one word shows as a change of thirty lines, and the reviewer
cannot see which of them says something new.

Fails: there is a space behind `[{kind: seen}]`.

    # entries/kits/oval-9-renewal.md
    ---
    kind: kit
    id: oval-9-renewal
    number: TW-7706
    title: Plug renewal, nine-way oval to thirteen-way oval
    from: oval-9
    to: oval-13
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}
    seals: [6]
    sources: [{kind: seen}]\x20
    ---
    Crimp, do not solder.

Mended:

    # entries/kits/oval-9-renewal.md
    ---
    kind: kit
    id: oval-9-renewal
    number: TW-7706
    title: Plug renewal, nine-way oval to thirteen-way oval
    from: oval-9
    to: oval-13
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}
    seals: [6]
    sources: [{kind: seen}]
    ---
    Crimp, do not solder.
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

_BLANKS = re.compile(r"[ \t]+$", re.MULTILINE)
_FENCE = re.compile(r" {0,3}(```|~~~)")


def may_have_any(text: str) -> bool:
    """A quick look at whether a text may have something to fix here."""
    return " \n" in text or "\t\n" in text or not text.endswith("\n") or text.endswith(("\n\n", " ", "\t"))


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for each line that ends in blanks, and one for the end of the file.

    In the prose two spaces before a line that goes on are a line break in Markdown, so they stay; so does what is inside
    fenced or indented code.
    """
    text = page.text
    end = len(text.rstrip(" \t\n"))
    for match in _BLANKS.finditer(text, 0, page.prose_start):
        if match.start() < end:
            yield _fix(match.start(), match.end())
    yield from _in_prose(text, page.prose_start, end)
    if text[end:] != "\n" and end:
        yield Fix(end, "no_end" if end == len(text) else "blank_end", (Edit(end, len(text), "\n"),))


def _fix(start: int, end: int) -> Fix:
    return Fix(start, "spaces" if end - start > 1 else "space", (Edit(start, end, ""),))


def _in_prose(text: str, start: int, end: int) -> Iterator[Fix]:
    fence = ""
    here = start
    while here < end:
        line_end = text.find("\n", here)
        line_end = len(text) if line_end < 0 else line_end
        line = text[here:line_end]
        mark = _FENCE.match(line)
        if mark and fence in ("", mark.group(1)):
            fence = "" if fence else mark.group(1)
        elif not fence and here + len(line.rstrip(" \t")) < min(line_end, end):
            words = line.rstrip(" \t")
            following = text[line_end + 1 : text.find("\n", line_end + 1) if "\n" in text[line_end + 1 :] else len(text)]
            breaks = words and line.endswith("  ") and following.strip()
            is_code = words and line.startswith(("    ", "\t"))
            if not breaks and not is_code:
                yield _fix(here + len(words), line_end)
        here = line_end + 1


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding behind the last sign of each such line."""
    if entry.source and may_have_any(entry.source):
        yield from hints(entry, context, find)


_FIX = ["take them out; ", FIX]

MESSAGES = {
    "space": Told("the line ends in a space", _FIX),
    "spaces": Told("the line ends in spaces", _FIX),
    "no_end": Told("the last line has no line end", _FIX),
    "blank_end": Told("blank lines or spaces stand at the end of the file", _FIX),
}

RULE = rule(
    __name__,
    __doc__,
    Severity.HINT,
    TextCheck(TextContext, check_text),
    messages=MESSAGES,
    fixer=Fixer("trailing-space", Safety.FORM, Turn.SPACE, find),
)
