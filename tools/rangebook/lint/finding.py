"""One finding: which rule, where, what was found and how to mend it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from enum import StrEnum
from typing import Any, Protocol

from rangebook.reading.entry import Entry
from rangebook.reading.located import Mark, mark_at


class Severity(StrEnum):
    """``error`` stops a build; ``warning`` should be mended; ``hint`` is worth a look."""

    ERROR = "error"
    WARNING = "warning"
    HINT = "hint"


@dataclass(frozen=True, slots=True, order=True)
class Finding:
    """In the order in which findings are listed. ``line`` and ``column`` count from 1; ``file`` is relative to the root."""

    file: str
    line: int
    column: int
    rule: str
    severity: Severity
    message: str
    fix: str

    def as_data(self) -> dict[str, Any]:
        """The finding as JSON data, in the fixed form."""
        data = asdict(self)
        data["severity"] = str(self.severity)
        return {key: data[key] for key in ("rule", "severity", "file", "line", "column", "message", "fix")}


class Owner(Protocol):
    """Anything that came from an entry: a family, a connector, a kit."""

    entry: Entry


@dataclass(frozen=True, slots=True)
class Hit:
    """What a rule yields: a place in an entry and words. The rule's name and severity are added by the run."""

    entry: Entry
    mark: Mark
    message: str
    fix: str


def hit(owner: Owner | Entry, path: Sequence[str | int], message: str, fix: str, *, key: bool = False) -> Hit:
    """A hit at the value that ``path`` leads to in the owner's front matter; with ``key`` at its key instead.

    ``message`` says what was found and what was expected, ``fix`` what to do about it.
    """
    entry = owner if isinstance(owner, Entry) else owner.entry
    mark = mark_at(entry.front, path, key=key) if entry.front is not None else Mark(1, 1)
    return Hit(entry, mark, message, fix)
