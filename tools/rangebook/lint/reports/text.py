"""Plain text for people: place, rule, what was found, the line that it stands on with a caret, how to mend it."""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Sequence

from rangebook.lint.finding import Finding
from rangebook.lint.linted import Linted
from rangebook.lint.reports.layers import named_layer, where_to_mend
from rangebook.reading.shelf import FILE
from rangebook.reading.stack import read_shelf
from rangebook.words.shown import shown

WIDEST = 110
"""Of a longer source line only this many characters are shown, those about the caret."""

_BEFORE = 60
_INDENT = "    "


def write(findings: Sequence[Finding], linted: Linted) -> str:
    """Each finding with its source line and caret, in the order given, and a line that sums up."""
    named = {one.file for one in findings}
    entries = {entry.file: entry for entry in linted.entries if entry.file in named}
    shelf = read_shelf(linted.root) if FILE in named else None
    lines = []
    for one in findings:
        lines.append(shown(f"{named_layer(one, linted)}{one.file}:{one.line}:{one.column}: {one.severity}: {one.message} [{one.rule}]"))
        entry = entries.get(one.file)
        source = (
            entry.text_in(one.layer) if entry else shelf.decode("utf-8", "replace") if one.file == FILE and isinstance(shelf, bytes) else ""
        )
        lines += [_INDENT + line for line in excerpt(source.split("\n") if source else (), one.line, one.column)]
        lines.append(shown(f"{_INDENT}{one.fix}"))
        lines += [shown(f"{_INDENT}{words}") for words in [where_to_mend(one, linted)] if words]
    counts = Counter(str(one.severity) for one in findings)
    summed = ", ".join(f"{counts[name]} {name}{'s' if counts[name] != 1 else ''}" for name in ("error", "warning", "hint") if counts[name])
    count = len(linted.entries)
    lines.append(f"{count} entr{'y' if count == 1 else 'ies'}: {summed or 'nothing found'}")
    return "\n".join(lines) + "\n"


def excerpt(source: Sequence[str], line: int, column: int) -> tuple[str, ...]:
    """The source line and a line with a caret under the column, both counted from 1; nothing where there is no such line.

    What stands at the end of a line (something missing) has the caret behind the last character. Signs that a terminal
    would act on are written out.
    """
    if not 1 <= line <= len(source):
        return ()
    text = source[line - 1]
    at = min(column - 1, len(text))
    if len(text) > WIDEST:
        start = max(0, min(at - _BEFORE, len(text) - WIDEST))
        end = start + WIDEST
        head, tail = "… " if start else "", " …" if end < len(text) else ""
        text, at = head + text[start:end] + tail, at - start + len(head)
    text = text.replace("\t", " ")
    return shown(text), " " * sum(map(_width, shown(text[:at]))) + "^"


def _width(sign: str) -> int:
    """Columns that a terminal gives a character."""
    if unicodedata.combining(sign):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in "WF" else 1
