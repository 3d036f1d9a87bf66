"""Our own scripts as the site has them: as they are written, but for the comments that only state types."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterable
from functools import cache
from pathlib import Path

CLIENT = Path(__file__).parents[1] / "client"

_TYPES = re.compile(r"^[ \t]*/\*\*(?:(?!\*/).)*?\*/[ \t]*(?=\n)", re.MULTILINE | re.DOTALL)
"""A comment that has its lines to itself and is for a reader of the code. One inside a line stays."""


_IMPORT = re.compile(r"""^(?:import|export)\s(?:[\w*{},\s]*?\sfrom\s+)?["'](\.[^"']+)["']""", re.MULTILINE)
"""What is there before a script runs; what is imported later, by a call, is none."""


def needed(names: Iterable[str]) -> tuple[str, ...]:
    """All scripts that some import, and what those import, by their paths below ``client``: a page that names them has them asked for at
    once, not one row of imports after the other."""
    found: dict[str, None] = {}
    todo = list(names)
    while todo:
        for one in _imports(todo.pop(0)):
            if one not in found:
                found[one] = None
                todo.append(one)
    return tuple(one for one in found if one not in names)


@cache
def _imports(name: str) -> tuple[str, ...]:
    text = sent(CLIENT / name)
    return tuple(posixpath.normpath(posixpath.join(posixpath.dirname(name), one)) for one in _IMPORT.findall(text))


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
