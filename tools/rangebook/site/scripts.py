"""Our own scripts as the site has them: as they are written, but for the comments that only state types."""

from __future__ import annotations

import re
from pathlib import Path

CLIENT = Path(__file__).parent / "client"

_TYPES = re.compile(r"^[ \t]*/\*\*(?:(?!\*/).)*?\*/[ \t]*(?=\n)", re.MULTILINE | re.DOTALL)
"""A comment that has its lines to itself and is for a reader of the code. One inside a line stays."""


def scripts() -> list[tuple[str, Path]]:
    """Path below ``client`` and place of every script and picture; a room is a folder in the site too, so that what a script imports is
    found there by the same path."""
    return [(path.relative_to(CLIENT).as_posix(), path) for path in sorted(CLIENT.rglob("*")) if path.suffix in (".js", ".svg")]


def sent(path: Path) -> str:
    """The text of a script that a browser is sent: a third less to load, and every line keeps its number. What is not ours stays whole."""
    text = path.read_text("utf-8")
    if path.suffix != ".js" or "vendor" in path.parts:
        return text
    return _TYPES.sub(lambda found: "\n" * found[0].count("\n"), text)
