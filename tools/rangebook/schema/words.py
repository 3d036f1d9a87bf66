"""Small words for messages about what was typed."""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterable, Sequence
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


def listed(values: Sequence[str], most: int | None = None) -> str:
    """``a``, ``b``, ``c``; with ``most`` so many of them, and how many more there are."""
    shown = ", ".join(f"`{value}`" for value in values[:most])
    return shown if most is None or len(values) <= most else f"{shown} and {len(values) - most} more"


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that looks most like a typo's, or ``None``."""
    return next(iter(nearest_of(word, known, 1)), None)


def nearest_of(word: str, known: Iterable[str], most: int = 3) -> list[str]:
    """The known words that look most like a typo's, the likeliest first; none where nothing looks like it. Case does not count."""
    lowered = {one.lower(): one for one in known}
    return [lowered[one] for one in difflib.get_close_matches(word.lower(), list(lowered), n=most)]
