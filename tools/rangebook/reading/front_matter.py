"""Text -> front matter and prose."""

from __future__ import annotations

import re
from typing import NamedTuple

from rangebook.reading.finding import Finding
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


def split(file: str, text: str) -> Halves | Finding:
    """Cut an entry at its two ``---`` lines."""
    lines = text.split("\n")
    if lines[0].rstrip() != "---":
        return Finding.error(
            RULE,
            file,
            Mark(1, 1),
            "the file does not begin with a line `---`",
            "put the front matter between two lines `---`, the first of them at the very top",
        )
    for number, line in enumerate(lines[1:], 2):
        if line.rstrip() == "---":
            front = "\n".join(lines[1 : number - 1]) + "\n"
            if len(front) > MAX_FRONT:
                return Finding.error(
                    RULE,
                    file,
                    Mark(1, 1),
                    f"the front matter is longer than {MAX_FRONT // 1024} KiB",
                    "make several entries of it, or take out what is not an entry's",
                )
            prose = "\n".join(lines[number:])
            if _SECOND.match(prose + "\n"):
                return Finding.error(
                    RULE,
                    file,
                    Mark(number, 1),
                    "a second block of front matter follows here",
                    "one file holds one entry: move the second one into a file of its own",
                )
            return Halves(front, prose, number + 1)
    return Finding.error(
        RULE,
        file,
        Mark(1, 1),
        "the front matter has no end",
        "close it with a line `---` before the prose begins",
    )
