"""Which lines of an entry say what, so that some of them can be put anew without touching any other. The form in the browser, which reads
no YAML, goes by this."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from rangebook.desk.writing.insertion import NotInsertedError, Place, place_of
from rangebook.reading.entry import Entry, read_front
from rangebook.reading.located import Map, Seq

_DASH = re.compile(r" *- +")
_QUOTED = re.compile(r"\"(?:[^\"\\]|\\.)*\"|'(?:[^']|'')*'")
_COMMENT = re.compile(r"(?<=\s)#.*")


class Stated(NamedTuple):
    """A key of a part with its value as it was typed. Its lines, from 0, are ``first`` up to, not including, ``after``; comments above it
    are among them, and the key itself stands on ``line``. ``items`` are the same of each item of a list that has a line for each."""

    key: str
    first: int
    line: int
    after: int
    value: Any
    items: tuple[tuple[int, int], ...]


class PartLines(NamedTuple):
    """A part: its number, how far its keys are indented, and what it states."""

    number: str
    indent: int
    keys: tuple[Stated, ...]


class Outline(NamedTuple):
    """Of one entry: its parts, but for those that are not written with a line for each key; where something can be added to each of some
    lists and mappings; and the comments that stand behind something on a line, by line."""

    parts: tuple[PartLines, ...]
    places: dict[str, Place]
    comments: dict[int, str]


def outline_of(entry: Entry, order: Sequence[str], adding: Sequence[str]) -> Outline:
    """The outline of a family's entry that can be read, with values as they were typed. ``order`` are the keys of an
    entry in their order, ``adding`` those of them to which something may be added."""
    front = read_front(entry.file, entry.source)
    assert front is not None
    lines = entry.source.split("\n")
    places = {}
    for key in adding:
        try:
            places[key] = place_of(front, [f"{line}\n" for line in lines], key, order)
        except NotInsertedError:
            continue
    parts = front.get("parts")
    found = tuple(_parts(front, parts, lines)) if isinstance(parts, Seq) else ()
    end = entry.prose_line - 1
    comments = {number: comment for number, line in enumerate(lines[:end]) if (comment := _behind(line))}
    return Outline(found, places, comments)


def _parts(front: Map, parts: Seq, lines: list[str]) -> Iterator[PartLines]:
    closing = next(at for at, line in enumerate(lines) if at and line.rstrip() == "---")
    last = min((front.key_mark(key).line - 1 for key in front if front.key_mark(key).line > front.key_mark("parts").line), default=closing)
    starts = [parts.item_mark(at).line - 1 for at in range(len(parts))]
    for at, part in enumerate(parts):
        if not isinstance(part, Map) or not isinstance(part.get("number"), str):
            continue
        after = starts[at + 1] if at + 1 < len(starts) else last
        found = _keys(part, starts[at], _above(lines, after), lines)
        if found is not None:
            yield found


def _keys(part: Map, first: int, after: int, lines: list[str]) -> PartLines | None:
    marks = {key: part.key_mark(key) for key in part}
    indents = {mark.column - 1 for mark in marks.values()}
    at = [mark.line - 1 for mark in marks.values()]
    dash = _DASH.match(lines[first])
    if len(indents) != 1 or len(set(at)) != len(at) or at != sorted(at) or at[0] != first or dash is None or dash.end() not in indents:
        return None
    indent = dash.end()
    begin = [first, *(_above(lines, line) for line in at[1:]), after]
    stated = tuple(
        Stated(key, begin[number], at[number], begin[number + 1], part[key], _items(part[key], lines, begin[number + 1]))
        for number, key in enumerate(part)
    )
    return PartLines(str(part["number"]), indent, stated)


def _items(value: Any, lines: list[str], after: int) -> tuple[tuple[int, int], ...]:
    """The lines of each item of a list, with the comments above it; none where it is not written with a line for each."""
    if not isinstance(value, Seq) or not value:
        return ()
    marks = [value.item_mark(at) for at in range(len(value))]
    starts = [mark.line - 1 for mark in marks]
    for mark in marks:
        dash = _DASH.match(lines[mark.line - 1])
        if dash is None or dash.end() != mark.column - 1:
            return ()
    if len(set(starts)) != len(starts):
        return ()
    begin = [_above(lines, start) for start in starts]
    return tuple(zip(begin, [*begin[1:], after], strict=True))


def _above(lines: list[str], line: int) -> int:
    """The first of the comments right above a line, else the line itself."""
    while line > 1 and lines[line - 1].lstrip().startswith("#"):
        line -= 1
    return line


def _behind(line: str) -> str:
    """The comment behind something on a line, empty where there is none."""
    if line.lstrip().startswith("#"):
        return ""
    found = _COMMENT.search(_QUOTED.sub(lambda quoted: "x" * len(quoted.group()), line))
    return found.group() if found else ""
