"""Small words for messages about what was typed."""

from __future__ import annotations

import difflib
import json
from collections.abc import Sequence
from typing import Any


def shown(value: Any) -> str:
    """A value as it was typed, shortened."""
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, list):
        return "a list"
    if value == "":
        return "nothing"
    if isinstance(value, str):
        return f"`{value if len(value) <= 60 else value[:57] + '...'}`"
    return f"`{json.dumps(value)}`"


def listed(values: Sequence[str]) -> str:
    """``a``, ``b``, ``c``."""
    return ", ".join(f"`{value}`" for value in values)


def nearest(word: str, known: Sequence[str]) -> str | None:
    """The known word that looks most like a typo's, or ``None``."""
    lowered = {one.lower(): one for one in known}
    found = difflib.get_close_matches(word.lower(), list(lowered), n=1, cutoff=0.6)
    return lowered[found[0]] if found else None
