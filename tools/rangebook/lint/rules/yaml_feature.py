"""A feature of YAML that an entry does not need.

Anchors (``&name``), aliases (``*name``), tags (``!name``), keys that are themselves lists, and tabs are not used.

Why it matters: they make an entry mean something else than it seems to say. With an alias, a correction in one place
silently changes another; a tab looks like spaces and is not.

Fails: the rear seals are said once and pointed at from elsewhere.

    kind: kit
    number: &number TW-7706
    note: *number

Mended: written out.

    kind: kit
    number: TW-7706
    note: TW-7706
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.lint.already_read import already_read
from rangebook.lint.fixing.edits import Edit, Fix
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.page import Page
from rangebook.lint.rule import Severity, Told, rule

_TABS = re.compile(r"(?<=\S)[ ]*\t[ \t]*(?=\S)")


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for each run of tabs between two words; none where a line begins with one, for it may stand for any indent."""
    front = page.text[page.front_start : page.front_end]
    if "\t" not in front or re.search(r"^[ ]*\t", front, re.MULTILINE):
        return
    for match in _TABS.finditer(front):
        start, end = match.start() + page.front_start, match.end() + page.front_start
        yield Fix(start, "tab", (Edit(start, end, " "),))


MESSAGES = {"tab": Told("a tab stands between two words")}
"""Of what is mended: what is wrong is said by the code of the problem."""

RULE = rule(
    __name__, __doc__, Severity.ERROR, already_read(__name__), messages=MESSAGES, fixer=Fixer("tabs", Safety.READABLE, Turn.SPACE, find)
)
