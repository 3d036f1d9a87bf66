"""What is wrong at a place: a problem, which is data, and a finding, which is a problem as the linter tells of it."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, Self

from rangebook.reading.located import LAYER, Mark


class Severity(StrEnum):
    """``error`` stops a build; ``warning`` should be mended; ``hint`` is worth a look."""

    ERROR = "error"
    WARNING = "warning"
    HINT = "hint"


class Line(int):
    """The number of a line elsewhere that a problem names, as its file has it: it is still the same problem when that line has moved."""

    def __new__(cls, number: int) -> Self:
        """The line of a place in any layer."""
        return super().__new__(cls, number % LAYER)


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
    """In the order in which findings are listed. ``line`` and ``column`` count from 1; ``file`` is relative to the root of its ``layer``,
    which counts from 0, the lowest; a book that is not of several layers has no other.

    ``same`` says where it is and what of, whatever line that stands on and however it is put into words. ``path`` is the problem's.
    """

    file: str
    line: int
    column: int
    rule: str
    severity: Severity
    message: str
    fix: str
    layer: int = 0
    same: Hashable = field(default=None, compare=False, repr=False)
    path: tuple[str | int, ...] | None = field(default=None, compare=False, repr=False)

    @property
    def mark(self) -> Mark:
        """Its line and column, the line with its layer."""
        return Mark(self.line + self.layer * LAYER, self.column)

    @property
    def identity(self) -> Hashable:
        """Equal for a finding of one state of a book and the same finding of another one."""
        return self.rule, self.severity, self.file, self.same

    def as_data(self, layers: Sequence[str] = ()) -> dict[str, Any]:
        """The finding as JSON data, in the fixed form; with the name of its layer in a book that has several."""
        names = ("rule", "severity", "file", "line", "column", "message", "fix")
        told = {name: str(value) if name == "severity" else value for name in names for value in (getattr(self, name),)}
        return {**told, "layer": layers[self.layer]} if len(layers) > 1 else told
