"""How much markup an entry's prose may hold. What is within these bounds is turned into a page in well under a second; some of what is
beyond would keep the program that does it busy for minutes, or send it deeper than it can go.

Nothing of Markdown is understood here, it is counted: the time goes by how often a sign that may open something stands in one block, by
how far its end is looked for, and by how many lines the block has.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice
from typing import NamedTuple

IN_ALL = 50_000
"""Characters of the whole prose."""

IN_BLOCK = 10_000
"""Characters of one block of text: of what blank lines part."""

LINES_IN_ALL = 1_500
"""Lines of the whole prose that are not blank."""

LINES = 300
"""Lines of one block."""

SIGNS = 250
"""Of each sign in one block of text ..."""

SIGNS_IN_ALL = 2_500
"""... and in the whole prose."""

BRACKETS = 120
"""Of ``[`` and of ``]`` in one block ..."""

BRACKETS_IN_ALL = 1_000
"""... and in the whole prose."""

LOOKED_THROUGH = 300_000
"""Characters from each ``[`` to its ``]`` and from each ``](`` to its ``)``, or else to the block's end: they are looked through one by
one."""

BARS = 2_500
"""The same of ``|`` in one block: a table of a hundred rows holds many, and none of them opens anything."""

DEEP = 7
"""Marks of lists and quotations that stand one behind the other at the beginning of a line."""

HEADINGS = 200
"""Headings of the whole prose: each is given a name that no other has."""

_MOST = {**dict.fromkeys("()!*_`<>\\&", (SIGNS, SIGNS_IN_ALL)), **dict.fromkeys("[]", (BRACKETS, BRACKETS_IN_ALL)), "|": (BARS, IN_ALL)}
"""Sign -> how often it may stand in one block, and in all."""

_FEW = min(in_block for in_block, _ in _MOST.values())
# What is behind a backslash is no bracket, and none is in code: what may hide one makes it count as left open.
_BRACKETS = re.compile(r"(?<!\\)\](?P<aim>\((?P<closed>[^()<>\"'\\`~\n]*\))?)?|\[|[`~]")
_LINE = re.compile(r"^[ \t]*\S", re.MULTILINE)
_FENCE = re.compile(r"^[ >\t]*(?:```|~~~)", re.MULTILINE)
_BLANK = re.compile(r"\n[ \t]*(?=\n)")
_HEADING = re.compile(r"^[^\n]*?#[^\n]*|^[-=]+[ \t]*$", re.MULTILINE)
_MARKS = re.compile(rf"^[ \t]*(?:(?:>|[-+*][ \t]|\d{{1,9}}[.)][ \t])[ \t]*){{{DEEP + 1}}}", re.MULTILINE)


class Beyond(NamedTuple):
    """The first bound that a prose does not keep.

    ``offset`` is the place in it; ``bound`` is which one: ``characters``, ``lines``, ``headings``, ``deep`` (marks at the beginning of a
    line), ``sign``, ``looked_through``, and of one block ``block_characters``, ``block_lines`` and ``block_sign``. ``most`` is how many may
    stand there, ``sign`` which one is meant.
    """

    offset: int
    bound: str
    most: int
    sign: str = ""


def beyond(prose: str) -> Beyond | None:
    """The first place where the prose goes beyond a bound, ``None`` where it keeps them all. It takes time by the length of the prose."""
    if len(prose) > IN_ALL:
        return Beyond(IN_ALL, "characters", IN_ALL)
    found, left = list(_in_all(prose)), LOOKED_THROUGH
    for start, end in _blocks(prose):
        found += _in_block(prose, start, end)
        for at, length in _looks(prose, start, end) if left >= 0 else ():
            left -= length
            if left < 0:
                found.append(Beyond(at, "looked_through", LOOKED_THROUGH))
                break
    return min(found, default=None)


def _in_all(prose: str) -> Iterator[Beyond]:
    for sign, (_, most) in _MOST.items():
        if prose.count(sign) > most:
            yield Beyond(_nth(prose, sign, most, 0), "sign", most, sign)
    # There is no more than one of either in a line.
    lines = prose.count("\n") + 1
    for pattern, bound, most in ((_LINE, "lines", LINES_IN_ALL), (_HEADING, "headings", HEADINGS)):
        if lines <= most:
            continue
        for match in islice(pattern.finditer(prose), most, most + 1):
            yield Beyond(match.start(), bound, most)
    if deep := _MARKS.search(prose):
        yield Beyond(deep.start(), "deep", DEEP)


def _in_block(prose: str, start: int, end: int) -> Iterator[Beyond]:
    if end - start <= _FEW:
        return
    if end - start > IN_BLOCK:
        yield Beyond(start + IN_BLOCK, "block_characters", IN_BLOCK)
    for sign, (most, _) in _MOST.items():
        if prose.count(sign, start, end) > most:
            yield Beyond(_nth(prose, sign, most, start), "block_sign", most, sign)
    if prose.count("\n", start, end) >= LINES:
        yield Beyond(_nth(prose, "\n", LINES - 1, start) + 1, "block_lines", LINES)


def _looks(prose: str, start: int, end: int) -> list[tuple[int, int]]:
    """Where each look for the end of a link begins, and how far it goes, in one block."""
    if prose.find("[", start, end) < 0 and prose.find("]", start, end) < 0:
        return []
    # The renderer sets words of its own, some ten characters long, for what it has taken out of the text.
    longer = 10 * sum(prose.count(sign, start, end) for sign in "\\`<&")
    looks: list[tuple[int, int]] = []
    opened: list[int] = []
    for match in _BRACKETS.finditer(prose, start, end):
        at = match.start()
        if prose[at] == "[":
            opened.append(at)
        elif prose[at] != "]":
            looks += [(one, end - one + longer) for one in opened]
            opened = []
        else:
            if opened:
                looks.append((opened[-1], match.end() - opened.pop()))
            if match["aim"] and not match["closed"]:
                looks.append((at, end - at + longer))
    return sorted([*looks, *((one, end - one + longer) for one in opened)])


def _nth(prose: str, sign: str, number: int, start: int) -> int:
    """Where a sign stands, after it stood ``number`` times."""
    at = start - 1
    for _ in range(number + 1):
        at = prose.find(sign, at + 1)
    return at


def _blocks(prose: str) -> Iterator[tuple[int, int]]:
    """Where each block begins and ends. A blank line parts two of them, but not inside code between fences: what is before it and
    behind it is one text. All from the first fence to the last is taken as one block, whatever of it is code."""
    fences = [match.start() for match in _FENCE.finditer(prose)]
    first, last = (fences[0], fences[-1]) if fences else (len(prose), -1)
    start, end = len(prose) - len(prose.lstrip("\n")), len(prose.rstrip("\n"))
    for blank in _BLANK.finditer(prose, start, end):
        if first <= blank.start() <= last:
            continue
        yield start, blank.start()
        start = blank.end()
    yield start, end
