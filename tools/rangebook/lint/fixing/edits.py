"""Changes to a text, by character offsets."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


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
    """One thing to fix: the offset at which it stands, what was found, the edits, and the values that they change, if any."""

    offset: int
    what: str
    edits: tuple[Edit, ...]
    changes: tuple[Change, ...] = ()


def apply(text: str, edits: Iterable[Edit]) -> str:
    """The text with all edits made. Raises ``ValueError`` where two of them touch the same characters."""
    pieces, at = [], 0
    for edit in sorted(edits):
        if edit.start < at:
            raise ValueError(f"two edits at {edit.start}")
        pieces += [text[at : edit.start], edit.text]
        at = edit.end
    return "".join([*pieces, text[at:]])
