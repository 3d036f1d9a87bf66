"""Tabs in the front matter that part two words: a space does that. Tabs before the first word of a line are left alone."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.lint.fixing.edits import Edit, Mend
from rangebook.lint.fixing.page import Page

_TABS = re.compile(r"(?<=\S)[ ]*\t[ \t]*(?=\S)")


def find(page: Page) -> Iterator[Mend]:
    """Yield a mend for each run of tabs between two words; none where a line begins with one, for it may stand for any indent."""
    front = page.text[page.front_start : page.front_end]
    if "\t" not in front or re.search(r"^[ ]*\t", front, re.MULTILINE):
        return
    for match in _TABS.finditer(front):
        start, end = match.start() + page.front_start, match.end() + page.front_start
        yield Mend(start, "a tab stands between two words", (Edit(start, end, " "),))
