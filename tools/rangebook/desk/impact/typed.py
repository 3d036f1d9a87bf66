"""Values of an entry as they are typed, short enough for one line."""

from __future__ import annotations

from typing import Any

MOST = 200
"""Characters of one value."""

BEFORE = 40
"""So many characters that both have alike stay before the first that differs, where a value has to be cut."""


def typed(value: Any) -> str:
    """A value as an entry has it on one line; nothing for ``None``."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, dict):
        return f"{{{', '.join(f'{key}: {typed(one)}' for key, one in value.items())}}}"
    if isinstance(value, list):
        return f"[{', '.join(map(typed, value))}]"
    return " ".join(str(value).split())


def both_typed(old: Any, new: Any) -> tuple[str, str]:
    """Two values, cut to where they differ if they are long."""
    one, other = typed(old), typed(new)
    if max(len(one), len(other)) <= MOST:
        return one, other
    alike = next((at for at, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other)))
    start = max(0, alike - BEFORE) if one and other else 0
    return _cut(one, start), _cut(other, start)


def _cut(text: str, start: int) -> str:
    kept = text[start : start + MOST]
    return f"{'... ' if start and kept else ''}{kept}{' ...' if start + MOST < len(text) else ''}"
