"""Slips that a person makes and a reader of YAML does not name: a line that is moved in too far or not far enough, a space that is none,
quotes of a phone, lines of a merge, a hash that cuts a text off, a colon without its space."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from typing import Any, NamedTuple

CURLY = "“”„‟«»‘’‚‛"  # noqa: RUF001 - these are what it is about
"""Quotes that a phone or a word processor puts in the place of straight ones."""

ODD_SPACE = re.compile(r"[\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]")
"""Spaces that are not the one of the space bar (Unicode's category Zs)."""

_MERGE = re.compile(r"(<{7}|\|{7}|>{7}) |={7}$")
_NO_SPACE = re.compile(r"\s*(?:- )?([\w.-]+):([^\s/].*)")
_KEY = re.compile(r"([ ]*)((?:- +)*)([^\s\-#\[{\"'][^:#]*|\"[^\"]*\"|-[^\s:][^:]*):(?:\s|$)")
_ITEM = re.compile(r"([ ]*)-(?:\s|$)")
_HASH = re.compile(r"\s#")


class Slip(NamedTuple):
    """Line and column, both counted from 0, the code of what was found, and what is put into its words."""

    line: int
    column: int
    code: str
    values: Mapping[str, Any]


def slip_near(front: str, halt: int, opened: int | None = None, in_brackets: bool = False) -> Slip | None:
    """What was done to the line at which reading came to a halt, to the one before it, or where the bracket was opened that is not closed;
    ``None`` where none of these is seen."""
    lines = front.split("\n")
    near = [at for at in dict.fromkeys((halt, _before(lines, halt), opened)) if at is not None and at < len(lines)]
    for at in near:
        if _MERGE.match(lines[at]):
            return Slip(at, 0, "yaml.merge", {"sign": lines[at][:7]})
    for at in near:
        if (odd := ODD_SPACE.search(unquoted(lines[at]))) is not None:
            name = unicodedata.name(odd.group()).lower()
            return Slip(at, odd.start(), "yaml.odd_space", {"name": name, "code_point": f"{ord(odd.group()):04X}"})
    for at in near:
        found = next((column for column, sign in enumerate(unquoted(lines[at])) if sign in CURLY), None)
        if found is not None:
            return Slip(at, found, "yaml.curly", {"sign": lines[at][found]})
    if opened is not None and opened < len(lines) and (cut := _HASH.search(unquoted(lines[opened]))) is not None:
        return Slip(opened, cut.start() + 1, "yaml.hash", {})
    if halt < len(lines) and opened is None and not in_brackets:
        found_indent = _indent(lines, halt)
        if found_indent is not None:
            return found_indent
        if (bare := _NO_SPACE.fullmatch(lines[halt])) is not None and not _KEY.match(lines[halt]):
            return Slip(halt, bare.start(2), "yaml.no_space", {"key": bare.group(1), "value": bare.group(2)[:40]})
    return None


def _before(lines: list[str], at: int) -> int | None:
    return next((one for one in range(min(at, len(lines)) - 1, -1, -1) if lines[one].strip()), None)


def unquoted(line: str) -> str:
    """A line with what stands in straight quotes blanked out, as far as these are closed on it."""
    return re.sub(r"\"(?:[^\"\\]|\\.)*\"|(?<![\w])'[^']*'", lambda found: "x" * len(found.group()), line)


def _starts(line: str) -> tuple[int | None, int | None]:
    """The columns in which an item's hyphen and a key begin on a line; ``None`` where there is none."""
    item, key = _ITEM.match(line), _KEY.match(line)
    return (len(item.group(1)) if item else None), (key.start(3) if key else None)


def _indent(lines: list[str], halt: int) -> Slip | None:
    """A key or item that does not begin where those beside it do."""
    item, key = _starts(lines[halt])
    stated = item if item is not None else key
    if stated is None:
        return None
    column: int = stated
    levels: list[tuple[int, bool, int]] = []  # column, whether of an item, the line that is the last of it
    for at in range(halt):
        starts = _starts(lines[at])
        for place, of_item in ((starts[0], True), (starts[1], False)):
            if place is not None:
                levels = [*(level for level in levels if level[0] < place), (place, of_item, at)]
    is_item = item is not None
    beside = [level for level in levels if level[1] is is_item]
    if not beside or any(level[0] == column for level in beside):
        return None
    meant, _, line = min(reversed(beside), key=lambda level: abs(level[0] - column))
    if abs(meant - column) > _FAR:
        return None
    if _alone(lines, line, meant, column) and _starts(lines[line])[0] is None:
        # The one before it is the odd one: all that follow begin as this one does.
        halt, line, column, meant = line, halt, meant, column
    return Slip(halt, column, "yaml.indent", {"column": column + 1, "meant": meant + 1, "beside": _called(lines[line]), "at": line})


def _alone(lines: list[str], at: int, column: int, other: int) -> bool:
    """Whether a line is the only one that begins in its column below the one that it belongs to, and several follow in another column."""
    before = _before(lines, at)
    first = before is not None and len(lines[before]) - len(lines[before].lstrip()) < min(column, other)
    following = 0
    for line in lines[at + 1 :]:
        indent = len(line) - len(line.lstrip())
        if line.strip() and indent < other:
            break
        following += bool(line.strip()) and indent == other
    return first and following > 1


_FAR = 4
"""A line that is further off than this is no slip of the space bar."""


def _called(line: str) -> str:
    found = _KEY.match(line)
    return found.group(3).strip() if found else "-"
