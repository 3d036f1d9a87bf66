"""Putting items at the end of a list of an entry without touching any other byte of its file."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from rangebook.desk.writing import yaml_text
from rangebook.reading.entry import Entry, read_entry
from rangebook.reading.located import Map, Seq

_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|\Z)")
_DASH = re.compile(r"( *)-( +)")


class NotInsertedError(Exception):
    """The items cannot be put in without touching what is there; the message says why."""


class Place(NamedTuple):
    """Where something can be added to a list or mapping: before which ``line``, from 1, how far its dashes or keys are indented, and with
    ``heading`` its own key before it, which is not there yet."""

    line: int
    indent: int
    heading: bool


def with_items(
    entry: Entry, data: bytes, key: str, items: Sequence[Mapping[str, Any]], order: Sequence[str], written: Sequence[str] | None = None
) -> bytes:
    """The bytes of ``entry``'s file, ``data``, with ``items`` at the end of its top-level list ``key``. ``written`` are the lines of them
    where they are there already, with comments it may be, the dashes after two spaces.

    Where there is no such list it is put where ``order``, the keys of an entry in their order, has it. The file's own line ends
    are used. Raises :class:`NotInsertedError`; never gives bytes that read as anything else than what was there and the items.
    """
    front = entry.front
    if front is None or entry.problems:
        raise NotInsertedError("the entry cannot be read as it is")
    text = data.decode("utf-8")
    lines = _LINE.findall(text)
    end = "\r\n" if "\r\n" in text else "\r" if "\r" in text and "\n" not in text else "\n"
    place = place_of(front, lines, key, order)
    if written is None:
        new = [line for item in items for line in yaml_text.item_lines(item, place.indent, whole=key == "parts")]
    else:
        new = [f"{' ' * place.indent}{line[2:]}" for line in written]
    if place.heading:
        new.insert(0, f"{key}:")
    at = sum(len(line) for line in lines[: place.line - 1])
    made = text[:at] + "".join(line + end for line in new) + text[at:]
    if not _is_added(entry, made, key, items):
        raise NotInsertedError(f"`{key}` is written in a way to which nothing can be added line by line")
    return made.encode("utf-8")


def place_of(front: Map, lines: list[str], key: str, order: Sequence[str]) -> Place:
    """Where something can be added to the top-level list or mapping ``key``. Raises :class:`NotInsertedError` where that is not written
    with lines of its own. ``lines`` are those of the file with their ends, ``order`` the keys of an entry in their order."""
    end = _end_of_front(lines)
    listed = front.get(key)
    if listed is None:
        after = [front.key_mark(one).line for one in front if one in order and order.index(one) > order.index(key)]
        return Place(_above_comments(lines, min(after)) if after else end, 2, True)
    if not isinstance(listed, Seq | Map) or not listed or front.value_mark(key).line == front.key_mark(key).line:
        raise NotInsertedError(f"`{key}` is written on one line")
    following = [front.key_mark(one).line for one in front if front.key_mark(one).line > front.key_mark(key).line]
    before = _above_comments(lines, min(following, default=end))
    if isinstance(listed, Map):
        mark = listed.key_mark(next(iter(listed)))
        if lines[mark.line - 1][: mark.column - 1].strip():
            raise NotInsertedError(f"`{key}` is not written with a line for each key")
        return Place(before, mark.column - 1, False)
    first = lines[listed.item_mark(0).line - 1]
    dash = _DASH.match(first)
    if dash is None or dash.end() + 1 != listed.item_mark(0).column:
        raise NotInsertedError(f"`{key}` is not written with a dash on a line for each item")
    return Place(before, len(dash.group(1)), False)


def _end_of_front(lines: list[str]) -> int:
    return next(number for number, line in enumerate(lines, 1) if number > 1 and line.rstrip() == "---")


def _above_comments(lines: list[str], line: int) -> int:
    """Above the comments that belong to what stands on a line, and the blank lines before them."""
    while line > 2 and (not lines[line - 2].strip() or lines[line - 2].startswith("#")):
        line -= 1
    return line


def _is_added(entry: Entry, made: str, key: str, items: Sequence[Mapping[str, Any]]) -> bool:
    read = read_entry(entry.file, made.encode("utf-8"))
    before = read_entry(entry.file, entry.source.encode("utf-8"))  # as text: the entry's own numbers have been turned
    if read.problems or read.front is None or before.front is None:
        return False
    expected = {**before.front, key: [*before.front.get(key, ()), *map(_as_text, items)]}
    return read.front == expected and read.prose == before.prose


def _as_text(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _as_text(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_as_text(inner) for inner in value]
    return value if isinstance(value, str) else yaml_text.scalar(value)
