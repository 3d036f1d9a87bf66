"""A slip of the pen in the front matter.

The front matter is YAML: brackets and quotes are closed, keys of one list stand under each other, and text that holds
``: `` or begins with a bracket, ``#``, ``-`` or ``&`` is quoted.

Why it matters: after the slip nothing can be trusted to mean what was meant, so the whole entry is missing from the book
until it is mended.

Fails: the colon after "renewal" makes it look like a key.

    kind: kit
    title: Plug renewal: nine-way oval to thirteen-way oval

Mended: quoted, it is text.

    kind: kit
    title: "Plug renewal: nine-way oval to thirteen-way oval"
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.lint.already_read import already_read
from rangebook.lint.fixing.edits import Edit, Fix
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.page import Page
from rangebook.lint.fixing.typed import free_keys
from rangebook.lint.rule import Severity, Told, rule

_LINE = re.compile(r"^ *(?:- )?([a-z_]+): +([^\s\"'\[\]{}&*!|>#,?-](?:[^\n#\"]|(?<! )#)*?)[ ]*$", re.MULTILINE)


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for the line at which the front matter cannot be read further, if it holds words that YAML takes for something else
    because they are not in quotes: with ``: `` in them, or ``@`` in front.

    It is done only on a line of its own that begins with a key for free text, and only where the front matter can be read
    afterwards and says these words to the letter.
    """
    slips = {problem.mark.line for problem in page.entry.problems if problem.rule == RULE.name}
    if not slips:
        return
    front = page.text[page.front_start : page.front_end]
    free = free_keys(page.schemas)
    for match in _LINE.finditer(front):
        key, words = match.groups()
        if page.mark(match.start(2) + page.front_start).line not in slips:
            continue
        if key not in free or "\\" in words or not (": " in words or words.endswith(":") or words[0] in "@`%"):
            continue
        start, end = match.start(2) + page.front_start, match.end(2) + page.front_start
        yield Fix(start, "quotes", (Edit(start, start, '"'), Edit(end, end, '"')), values={"key": key})


MESSAGES = {"quotes": Told("`{key}` holds words that need quotes")}
"""Of what is mended: what is wrong is said by the code of the problem."""

RULE = rule(
    __name__,
    __doc__,
    Severity.ERROR,
    already_read(__name__),
    messages=MESSAGES,
    fixer=Fixer("unquoted-text", Safety.READABLE, Turn.READABLE, find),
)
