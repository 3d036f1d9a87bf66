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
    at = page.front_start + rows.start()
    for line in rows.group().split("\n"):
        for match in BARE.finditer(line.partition("#")[0]):
            start, end = match.start(1) + at, match.end(1) + at
            yield Mend(start, 'a `-` without quotes; where there is no cavity it is written `"-"`', (Edit(start, end, '"-"'),))
        at += len(line) + 1
