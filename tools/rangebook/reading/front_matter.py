"""Text -> front matter and prose."""

from __future__ import annotations

import re
from typing import NamedTuple

from rangebook.reading.finding import Problem
from rangebook.reading.located import Mark

RULE = "front-matter"

MAX_FRONT = 256 * 1024
"""Characters. A hundred times what a large family takes; it bounds the time that one entry can cost."""

_SECOND = re.compile(r"\s*(?:---[^\n]*\n)?\s*kind:[^\n]*\n(?:[^\n]*\n)*?---[ \t]*(?:\n|\Z)")


class Halves(NamedTuple):
    """An entry cut in two. The front matter begins on line 2; ``prose_line`` is the line on which the prose begins."""

    front: str
    prose: str
    prose_line: int


def split(file: str, text: str) -> Halves | Problem:
    """Cut an entry at its two ``---`` lines."""
    lines = text.split("\n")
    if lines[0].rstrip() != "---":
        return Problem.of(RULE, file, Mark(1, 1), "front.no_begin")
    for number, line in enumerate(lines[1:], 2):
        if line.rstrip() == "---":
            front = "\n".join(lines[1 : number - 1]) + "\n"
            if len(front) > MAX_FRONT:
                return Problem.of(RULE, file, Mark(1, 1), "front.too_long", kib=MAX_FRONT // 1024)
            prose = "\n".join(lines[number:])
            if _SECOND.match(prose + "\n"):
                return Problem.of(RULE, file, Mark(number, 1), "front.second_block")
            return Halves(front, prose, number + 1)
    return Problem.of(RULE, file, Mark(1, 1), "front.no_end")
