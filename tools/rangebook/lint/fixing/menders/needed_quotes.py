"""A bare ``-`` in the rows of a connector, which most readers of YAML refuse, in quotes."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.lint.fixing.edits import Edit, Mend
from rangebook.lint.fixing.page import Page

BARE = re.compile(r"(?<=[\[,])[ ]*(-)[ ]*(?=[,\]])")
"""A hyphen alone between brackets and commas. YAML 1.2.2, rule 126: in brackets a plain text cannot be that."""

_ROWS = re.compile(r"^rows:.*(?:\n(?:[ #-].*)?)*", re.MULTILINE)


def find(page: Page) -> Iterator[Mend]:
    """Yield a mend for each bare hyphen in ``rows``, whether the front matter can be read otherwise or not."""
    front = page.text[page.front_start : page.front_end]
    rows = _ROWS.search(front)
    if page.kind != "connector" or rows is None:
        return
    for match in BARE.finditer(front, rows.start(), rows.end()):
        start, end = match.span(1)
        if "#" in front[front.rfind("\n", 0, start) + 1 : start]:
            continue
        start, end = start + page.front_start, end + page.front_start
        yield Mend(start, 'a `-` without quotes; where there is no cavity it is written `"-"`', (Edit(start, end, '"-"'),))
