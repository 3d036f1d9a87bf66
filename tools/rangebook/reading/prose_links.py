"""Links in the Markdown below the front matter, and what of it is code."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

_FENCED = re.compile(r"^(```|~~~)[^\n]*\n.*?^\1[^\n]*$", re.MULTILINE | re.DOTALL)
_SPAN = re.compile(r"`[^`\n]*`")
_INLINE = re.compile(r"\]\(\s*(?:<([^<>\n]*)>|([^\s()<>]+(?:\([^\s()]*\)[^\s()]*)*))")
_DEFINED = re.compile(r"^ {0,3}\[(?!\^)[^\]\n]+\]:[ \t]*<?([^\s<>]+)", re.MULTILINE)


class Link(NamedTuple):
    """Where a link leads, as it is written, and the offset in the prose at which that is written."""

    target: str
    offset: int


def without_code(prose: str) -> str:
    """The prose with fenced blocks and code spans blanked out; every other character stays at its offset."""
    if "`" not in prose and "~~~" not in prose:
        return prose
    return _SPAN.sub(_blank, _FENCED.sub(_blank, prose))


def links(prose: str) -> Iterator[Link]:
    """Links and pictures, ``[words](target)`` and ``[name]: target``, that are not inside code."""
    if "](" not in prose and "]:" not in prose:
        return
    prose = without_code(prose)
    for match in _INLINE.finditer(prose):
        group = 1 if match.group(1) is not None else 2
        yield Link(match.group(group), match.start(group))
    for match in _DEFINED.finditer(prose):
        yield Link(match.group(1), match.start(1))


def _blank(match: re.Match[str]) -> str:
    return re.sub(r"[^\n]", " ", match.group())
