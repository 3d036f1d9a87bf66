"""Places in a text as editors count them: lines from 0, columns from 0 in units of the encoding that was agreed on, UTF-16 mostly."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable
from functools import cached_property
from typing import NamedTuple

from rangebook.reading.located import Mark

_LINE_END = re.compile("\r\n|\n|\r")
_WORD = re.compile(r"\"(?:[^\"\\\n]|\\.)*\"|'(?:[^'\n]|'')*'|[^\s,\[\]{}]+(?:[ ](?![#])[^\s,\[\]{}:#]+)*")


UTF_16 = "utf-16"
_UNITS: dict[str, Callable[[str], int]] = {
    "utf-8": lambda character: len(character.encode("utf-8", "surrogatepass")),
    UTF_16: lambda character: 2 if ord(character) > 0xFFFF else 1,
    "utf-32": len,
}


class Spot(NamedTuple):
    """A place: line and column, both from 0."""

    line: int
    column: int


class Span(NamedTuple):
    """From a place up to, not including, another one."""

    start: Spot
    end: Spot


class Text:
    """One entry's text as an editor has it. Inside, line ends are ``\\n``, as for the reader; lines are counted alike in both. Columns are
    counted in units of ``encoding``: ``utf-8``, ``utf-16`` or ``utf-32``."""

    def __init__(self, text: str, encoding: str = UTF_16) -> None:
        self.text = _LINE_END.sub("\n", text.removeprefix("\ufeff"))
        self.encoding = encoding
        self._units = _UNITS[encoding]

    @cached_property
    def lines(self) -> list[str]:
        """The lines without their ends."""
        return self.text.split("\n")

    @cached_property
    def _starts(self) -> list[int]:
        starts = [0]
        for line in self.lines:
            starts.append(starts[-1] + len(line) + 1)
        return starts

    def offset(self, spot: Spot) -> int:
        """The character at a place; at the end of its line, or of the text, where the place is behind that."""
        if spot.line >= len(self.lines):
            return len(self.text)
        line, left, at = self.lines[spot.line], spot.column, 0
        while at < len(line) and left > 0:
            left -= self._units(line[at])
            at += 1
        return self._starts[spot.line] + at

    def spot(self, offset: int) -> Spot:
        """The place of a character."""
        line = min(bisect_right(self._starts, offset) - 1, len(self.lines) - 1)
        return Spot(line, sum(map(self._units, self.text[self._starts[line] : offset])))

    def at(self, mark: Mark) -> int:
        """The character at a mark, which counts lines and characters from 1."""
        line = min(mark.line - 1, len(self.lines) - 1)
        return self._starts[line] + min(mark.column - 1, len(self.lines[line]))

    def mark(self, offset: int) -> Mark:
        """The mark of a character."""
        line = min(bisect_right(self._starts, offset) - 1, len(self.lines) - 1)
        return Mark(line + 1, offset - self._starts[line] + 1)

    def span(self, start: int, end: int) -> Span:
        """From one character up to another."""
        return Span(self.spot(start), self.spot(end))

    def word_end(self, start: int) -> int:
        """Where the key or value that begins at a character ends, on its line: a key before its colon, a list at the line's end."""
        line = min(bisect_right(self._starts, start) - 1, len(self.lines) - 1)
        stop = self._starts[line] + len(self.lines[line])
        if self.text[start : start + 1] in ("[", "{", ""):
            return max(stop, start)
        found = _WORD.match(self.text, start, stop)
        if found is None:
            return min(start + 1, stop)
        end = found.end()
        colon = re.search(r":(?=\s|$)", found.group()) if self.text[start] not in "\"'" else None
        return start + colon.start() if colon and colon.start() else end
