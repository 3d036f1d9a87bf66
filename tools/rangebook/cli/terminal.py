"""Colour, only on a terminal, and complaints."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from typing import Any, TextIO

from rangebook.words.shown import shown, shown_json

_CODES = {
    "head": "1",
    "straight": "1;32",
    "with_parts": "1;34",
    "rewire": "1;35",
    "unknown": "1;33",
    "no": "1;31",
    "why": "2",
    "caution": "33",
    "error": "1;31",
    "warning": "1;33",
    "hint": "36",
    "place": "1",
}


def paint(text: str, style: str, stream: TextIO | None = None) -> str:
    """``text``, one line of it and fit to be shown, in a style if the stream is a terminal that wants colour (https://no-color.org)."""
    text = shown(text)
    stream = stream or sys.stdout
    code = _CODES.get(style)
    if not code or not stream.isatty() or os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return text
    return f"\x1b[{code}m{text}\x1b[0m"


def print_json(data: Any) -> None:
    """Data, for other programs."""
    print(shown_json(data))


def write_patch(lines: Iterable[str]) -> None:
    """Lines of a patch, to the letter for a program that applies it; on a terminal as they are to be shown."""
    sys.stdout.writelines((shown(line, lines=True) for line in lines) if sys.stdout.isatty() else lines)


def complain(text: str) -> None:
    """One line on the error stream, or several, each as it is to be shown."""
    print(f"rangebook: {shown(text, lines=True)}", file=sys.stderr)


def progress(text: str) -> None:
    """What a long piece of work is at, on the error stream, only if someone is there to see it."""
    if sys.stderr.isatty():
        print(paint(text, "why", sys.stderr), file=sys.stderr, flush=True)
