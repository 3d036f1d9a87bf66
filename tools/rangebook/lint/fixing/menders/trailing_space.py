"""Spaces and tabs at the ends of lines, and blank lines or no line end at the end of the file.

In the prose two spaces before a line that goes on are a line break in Markdown, so they stay; so does what is inside
fenced or indented code.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.lint.fixing.edits import Edit, Mend
from rangebook.lint.fixing.page import Page

_BLANKS = re.compile(r"[ \t]+$", re.MULTILINE)
_FENCE = re.compile(r" {0,3}(```|~~~)")


def may_have_any(text: str) -> bool:
    """A quick look at whether a text may have something to mend here."""
    return " \n" in text or "\t\n" in text or not text.endswith("\n") or text.endswith(("\n\n", " ", "\t"))


def find(page: Page) -> Iterator[Mend]:
    """Yield a mend for each line that ends in blanks, and one for the end of the file."""
    text = page.text
    end = len(text.rstrip(" \t\n"))
    for match in _BLANKS.finditer(text, 0, page.prose_start):
        if match.start() < end:
            yield _mend(match.start(), match.end())
    yield from _in_prose(text, page.prose_start, end)
    if text[end:] != "\n" and end:
        what = "the last line has no line end" if end == len(text) else "blank lines or spaces stand at the end of the file"
        yield Mend(end, what, (Edit(end, len(text), "\n"),))


def _mend(start: int, end: int) -> Mend:
    return Mend(start, "the line ends in spaces" if end - start > 1 else "the line ends in a space", (Edit(start, end, ""),))


def _in_prose(text: str, start: int, end: int) -> Iterator[Mend]:
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
                yield _mend(here + len(words), line_end)
        here = line_end + 1
