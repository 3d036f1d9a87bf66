"""Changes to a text, by character offsets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True, order=True)
class Edit:
    """Put ``text`` in the place of the characters from ``start`` up to, not including, ``end``."""

    start: int
    end: int
    text: str


@dataclass(frozen=True, slots=True)
class Change:
    """A value, or with ``is_key`` the last key, at ``path`` in the front matter that is said anew as ``new``."""

    path: tuple[str | int, ...]
    new: str
    is_key: bool = False


@dataclass(frozen=True, slots=True)
class Fix:
    """One thing to fix: the offset at which it stands, the edits, and the values that they change, if any. ``code`` names the message of
    its rule that says what was found, ``values`` what is put into it."""

    offset: int
    code: str
    edits: tuple[Edit, ...]
    changes: tuple[Change, ...] = ()
    values: Mapping[str, Any] = field(default_factory=dict)


def apply(text: str, edits: Iterable[Edit]) -> str:
    """The text with all edits made. Raises ``ValueError`` where two of them touch the same characters."""
    pieces, at = [], 0
    for edit in sorted(edits):
        if edit.start < at:
            raise ValueError(f"two edits at {edit.start}")
        pieces += [text[at : edit.start], edit.text]
        at = edit.end
    return "".join([*pieces, text[at:]])


def quoted(words: str) -> str:
    """Words as a value in double quotes, on one line."""
    return '"' + words.replace("\\", "\\\\").replace('"', '\\"') + '"'
