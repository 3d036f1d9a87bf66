"""Colour, only on a terminal, and complaints."""

from __future__ import annotations

import json
import os
import sys
from typing import Any, TextIO

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
    """``text`` in a style, if the stream is a terminal that wants colour (https://no-color.org)."""
    stream = stream or sys.stdout
    code = _CODES.get(style)
    if not code or not stream.isatty() or os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return text
    return f"\x1b[{code}m{text}\x1b[0m"


def print_json(data: Any) -> None:
    """Data, for other programs."""
    print(json.dumps(data, indent=2, ensure_ascii=False))


def complain(text: str) -> None:
    """One line on the error stream."""
    print(f"rangebook: {text}", file=sys.stderr)


def progress(text: str) -> None:
    """What a long piece of work is at, on the error stream, only if someone is there to see it."""
    if sys.stderr.isatty():
        print(paint(text, "why", sys.stderr), file=sys.stderr, flush=True)
