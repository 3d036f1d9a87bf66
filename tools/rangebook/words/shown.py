"""Values as they are put into text that a terminal, a log or a spreadsheet shows: nothing in them moves a cursor, turns the words round,
begins a line of its own or is reckoned out. What is refused in an entry is still in file names, in what git tells and in the very line
that a finding quotes."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Callable
from typing import Any

from rangebook.reading.unseen import UNSEEN

# Scripts of which every character is seen as itself; whatever else there is gets looked at by itself.
_OTHER = re.compile(r"[^\x20-\x7e\xa0-\xac\xae-\u034e\u0350-\u05ff]")
_RECKONED = re.compile(r"[=+\-@\t\r\n]")


def shown(text: str, lines: bool = False) -> str:
    """The text with every character that is not seen as itself written out, as ``\\u{202E}``; with ``lines`` line ends and tabs stay."""
    return _written(text, lambda sign: sign if lines and sign in "\n\t" else f"\\u{{{ord(sign):X}}}")


def seen(text: str) -> bool:
    """Whether every character of the text is seen as itself."""
    return shown(text) == text


def _hidden(sign: str) -> bool:
    """Whether a character is refused in a value, or is none: categories Cs, Cn and Co of Unicode."""
    return bool(UNSEEN.match(sign)) or unicodedata.category(sign) in ("Cs", "Cn", "Co")


def shown_json(data: Any) -> str:
    """Data as JSON with line ends in it, the same characters written as JSON writes them."""
    written = json.dumps(data, indent=2, ensure_ascii=False)
    return _written(written, lambda sign: sign if sign == "\n" else json.dumps(sign)[1:-1])


def _written(text: str, write: Callable[[str], str]) -> str:
    """The text with ``write`` of each character that is not seen as itself in its place."""
    return _OTHER.sub(lambda found: write(found[0]) if _hidden(found[0]) else found[0], text)


def cell(value: object) -> str:
    """What stands in a cell of a CSV: what a spreadsheet would reckon out is kept text by an apostrophe in front."""
    words = "" if value is None else str(value)
    return f"'{words}" if _RECKONED.match(words) else words


def of_cell(words: str) -> str:
    """What :func:`cell` was given, of what it gave; a spreadsheet program does the same."""
    return words[1:] if words[:1] == "'" and _RECKONED.match(words[1:]) else words
