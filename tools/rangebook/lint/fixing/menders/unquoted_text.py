"""Words for people that YAML takes for something else because they are not in quotes: with ``: `` in them, or ``@`` in front.

It is done only on a line of its own that begins with a key for free text, and only where the front matter can be read
afterwards and says these words to the letter.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from rangebook.lint.fixing.edits import Edit, Mend
from rangebook.lint.fixing.page import Page
from rangebook.lint.fixing.typed import is_free
from rangebook.schema.store import KINDS, Schemas

_LINE = re.compile(r"^ *(?:- )?([a-z_]+): +([^\s\"'\[\]{}&*!|>#,?-](?:[^\n#\"]|(?<! )#)*?)[ ]*$", re.MULTILINE)


def find(page: Page) -> Iterator[Mend]:
    """Yield a mend for the line at which the front matter cannot be read further, if it is such a one."""
    slips = {problem.mark.line for problem in page.entry.problems if problem.rule == "yaml-syntax"}
    if not slips:
        return
    front = page.text[page.front_start : page.front_end]
    free = _free_keys(page.schemas)
    for match in _LINE.finditer(front):
        key, words = match.groups()
        if page.mark(match.start(2) + page.front_start).line not in slips:
            continue
        if key not in free or "\\" in words or not (": " in words or words.endswith(":") or words[0] in "@`%"):
            continue
        start, end = match.start(2) + page.front_start, match.end(2) + page.front_start
        yield Mend(start, f"`{key}` holds words that need quotes", (Edit(start, start, '"'), Edit(end, end, '"')))


def _free_keys(schemas: Schemas) -> frozenset[str]:
    """Keys that stand for free text wherever the schema has them."""
    free: set[str] = set()
    bound: set[str] = set()
    for kind in KINDS:
        for key, way in _properties(schemas, schemas.of(kind), kind):
            (free if is_free(way) else bound).add(key)
    return frozenset(free - bound)


def _properties(schemas: Schemas, node: Any, home: str) -> Iterator[tuple[str, Any]]:
    if not isinstance(node, dict):
        return
    node, home = schemas.resolve(node, home)
    for key, value in node.get("properties", {}).items():
        yield key, schemas.resolve(value, home)[0]
        yield from _properties(schemas, value, home)
    for below in (node.get("items"), node.get("additionalProperties"), *node.get("anyOf", ())):
        yield from _properties(schemas, below, home)
