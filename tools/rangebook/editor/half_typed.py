"""An entry while it is typed: its values as far as they can be told, and what stands, or would stand, at a place in it.

The strict reader takes an entry or refuses it. Here a line that it stumbles over is left out, so that the rest can still be told. What
comes of this is for offers and explanations only; findings come from the entry as it is.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from typing import Any, NamedTuple

import yaml

from rangebook.editor.text import Text
from rangebook.reading import strict_yaml
from rangebook.reading.front_matter import MAX_FRONT
from rangebook.reading.located import Map, Mark, Seq, steps

TRIES = 24
"""So often at the most something is left out."""

HERE = "\ue000"
"""Stands where the cursor is; for private use in Unicode, so nobody types it."""

Path = tuple[str | int, ...]

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class Node(NamedTuple):
    """A key or a value: the path to it, whether it is the last key of that path, the text, and where it begins and ends."""

    path: Path
    is_key: bool
    words: str
    start: int
    end: int


class Begun(NamedTuple):
    """What is being typed: where it would stand, what there is of it before the cursor, and where that begins. A key stands in the mapping
    at ``path``; a value is the one at ``path``."""

    path: Path
    is_key: bool
    typed: str
    start: int


class HalfTyped:
    """One entry's text in an editor."""

    def __init__(self, file: str, text: Text) -> None:
        self.file, self.text = file, text
        self._front_start = len(text.lines[0]) + 1 if text.lines[0].rstrip() == "---" else 0
        last = next((n for n, line in enumerate(text.lines[1:], 1) if line.rstrip() == "---"), len(text.lines))
        self.front_lines = last - 1 if self._front_start else 0
        self._front = "\n".join(text.lines[1:last])[:MAX_FRONT] if self._front_start else ""

    @cached_property
    def tree(self) -> Map | None:
        """The front matter, less what cannot be told."""
        return _read(self.file, self._front)

    def in_front(self, offset: int) -> bool:
        """Whether a character is one of the front matter."""
        return 1 <= self.text.mark(offset).line - 1 <= self.front_lines

    def node_at(self, offset: int) -> Node | None:
        """The key or value that a character is part of."""
        if self.tree is None or not self.in_front(offset):
            return None
        found: Node | None = None
        for path, is_key, words, mark in _nodes(self.tree, ()):
            start = self.text.at(mark)
            if start > offset:
                break
            found = Node(path, is_key, words, start, self.text.word_end(start))
        # Behind the last sign of a word is still at it: that is where the cursor stands when it was typed.
        return found if found is not None and offset <= max(found.end, found.start + len(found.words)) else None

    def begun_at(self, offset: int) -> Iterator[Begun]:
        """What may be begun at a character: a key, a value, or either of the two, where both can stand there."""
        if not self.in_front(offset):
            return
        head = self.text.text[self._front_start : offset]
        for is_key in (True, False):
            found = _with_cursor(self.file, head, ": " if is_key else "")
            begun = None if found is None else next(_cursor_in(found, ()), None)
            if begun is not None and begun[1] == is_key:
                path, _, typed, mark = begun
                start = self.text.at(mark)
                yield Begun(path, is_key, typed, start + (self.text.text[start : start + 1] in ('"', "'")))

    def value(self, path: Path) -> Any:
        """What stands at a path; ``None`` where nothing can be told."""
        here: Any = self.tree
        for step in path:
            known = step in here if isinstance(here, Map) else isinstance(here, Seq) and isinstance(step, int) and 0 <= step < len(here)
            if not known:
                return None
            here = here[step]
        return here


def _read(file: str, front: str) -> Map | None:
    lines = front.replace("\t", " ").split("\n")
    return _tried(file, lines, len(lines), lambda: "\n".join(lines) + "\n")


def _with_cursor(file: str, head: str, colon: str) -> Map | None:
    """What stands before the cursor, with a sign where that is and all brackets closed behind it."""
    lines = head.replace("\t", " ").split("\n")

    def closed() -> str:
        text = "\n".join(lines) + HERE
        closing = _closing(text)
        return f"{text}{'' if closing[:1] in QUOTES else colon}{closing}\n"

    return _tried(file, lines, len(lines) - 1, closed)


def _tried(file: str, lines: list[str], below: int, text: Callable[[], str]) -> Map | None:
    """What is read of the ``text`` that is made of lines, when of those above ``below`` as many are left out as it takes."""
    for _ in range(TRIES):
        whole = text()
        tree, problems = strict_yaml.parse(file, whole)
        if tree is not None:
            return tree
        at = next((at for at, line in enumerate(lines[:below]) if _OPEN_QUOTE.search(_QUOTED.sub("", line))), None)
        if at is None:
            at = _stumbled(whole)
        if at is None and problems:
            at = problems[-1].mark.line - 2
        if not _leave_out(lines, at, below):
            return None
    return None


_QUOTED = re.compile(r"\"(?:[^\"\\]|\\.)*\"")
_OPEN_QUOTE = re.compile(r"[:,\[{-]\s*\"")
"""A quote that begins a value and does not end on its line. One that does end on a later line is left out too where the entry cannot be
read: few have such."""
QUOTES = ('"', "'")


def _closing(text: str) -> str:
    """The quotes and brackets that are open at the end of a text."""
    closing: list[str] = []
    quote = ""
    try:
        for token in yaml.scan(text, Loader=_Loader):
            if isinstance(token, yaml.FlowSequenceStartToken):
                closing.append("]")
            elif isinstance(token, yaml.FlowMappingStartToken):
                closing.append("}")
            elif isinstance(token, yaml.FlowSequenceEndToken | yaml.FlowMappingEndToken) and closing:
                closing.pop()
    except yaml.MarkedYAMLError as error:
        if error.context_mark is not None and "quoted" in (error.context or ""):
            quote = text[error.context_mark.index : error.context_mark.index + 1]
    except yaml.YAMLError:
        pass
    return (quote if quote in QUOTES else "") + "".join(reversed(closing))


def _stumbled(text: str) -> int | None:
    """The line that the parser stumbles over: of a bracket, quote or key that is left open the one on which that begins."""
    try:
        for _ in yaml.parse(text, Loader=_Loader):
            pass
    except yaml.MarkedYAMLError as error:
        begun = any(word in (error.context or "") for word in ("flow", "quoted", "simple key"))
        mark = error.context_mark if begun and error.context_mark is not None else error.problem_mark
        return None if mark is None else int(mark.line)
    except yaml.YAMLError:
        return None
    return None


def _leave_out(lines: list[str], at: int | None, below: int) -> bool:
    """Take away of a line its value, else all but the sign of a list, else all; where it is empty of the next above that is not. Nothing is
    taken from lines from ``below`` on."""
    if at is None or at >= below:
        return False
    for line in range(at, -1, -1):
        words = lines[line]
        if words.strip():
            kept = next((found.group() for one in (_KEY, _ITEM) if (found := one.match(words)) and found.group() != words), "")
            lines[line] = kept
            return True
    return False


_KEY = re.compile(r" *(?:- +)*\w+:(?= )")
_ITEM = re.compile(r" *- ")


def _nodes(node: Map | Seq, path: Path) -> Iterator[tuple[Path, bool, str, Mark]]:
    """Every key and every plain value below a node, in the order of the text."""
    for step, value, marks in steps(node):
        if isinstance(step, str):
            yield (*path, step), True, step, marks[0]
        if isinstance(value, Map | Seq):
            yield from _nodes(value, (*path, step))
        else:
            yield (*path, step), False, str(value), marks[-1]


def _cursor_in(node: Map | Seq, path: Path) -> Iterator[tuple[Path, bool, str, Mark]]:
    for own, is_key, words, mark in _nodes(node, path):
        if HERE in words:
            yield own[:-1] if is_key else own, is_key, words.partition(HERE)[0], mark


def keys_of(value: Any) -> Sequence[str]:
    """The keys of a mapping, none of anything else."""
    return tuple(value) if isinstance(value, Map) else ()
