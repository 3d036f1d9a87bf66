"""What is wrong at a place: a problem, which is data, and a finding, which is a problem as the linter tells of it."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from rangebook.reading.located import Mark


class Severity(StrEnum):
    """``error`` stops a build; ``warning`` should be mended; ``hint`` is worth a look."""

    ERROR = "error"
    WARNING = "warning"
    HINT = "hint"


class Line(int):
    """The number of a line elsewhere that a problem names: it is still the same problem when that line has moved."""


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong at a place in a file, without words: ``code`` names what is said of it and how it is mended, ``values`` is what is put
    into that. ``rule`` is the linter's rule that tells of it, empty where it comes from that rule; ``place`` leads to it by the names of
    what it stands in, so that it stays the same when lines move. ``path`` leads to it in the front matter, ``None`` where only the place in
    the text is known."""

    rule: str
    file: str
    mark: Mark
    code: str
    values: Mapping[str, Any]
    place: tuple[str, ...] = ()
    path: tuple[str | int, ...] | None = None

    @classmethod
    def of(cls, rule: str, file: str, mark: Mark, code: str, **values: Any) -> Problem:
        """A problem; what is put into its words is named."""
        return cls(rule, file, mark, code, values)


@dataclass(frozen=True, slots=True, order=True)
class Finding:
    """In the order in which findings are listed. ``line`` and ``column`` count from 1; ``file`` is relative to the root.

    ``same`` says where it is and what of, whatever line that stands on and however it is put into words. ``path`` is the problem's.
    """

    file: str
    line: int
    column: int
    rule: str
    severity: Severity
    message: str
    fix: str
    same: Hashable = field(default=None, compare=False, repr=False)
    path: tuple[str | int, ...] | None = field(default=None, compare=False, repr=False)

    @property
    def mark(self) -> Mark:
        """Its line and column."""
        return Mark(self.line, self.column)

    @property
    def identity(self) -> Hashable:
        """Equal for a finding of one state of a book and the same finding of another one."""
        return self.rule, self.severity, self.file, self.same

    def as_data(self) -> dict[str, Any]:
        """The finding as JSON data, in the fixed form."""
        names = ("rule", "severity", "file", "line", "column", "message", "fix")
        return {name: str(value) if name == "severity" else value for name in names for value in (getattr(self, name),)}
