"""One finding: which rule, where, what was found and how to mend it."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field, replace
from enum import StrEnum
from typing import Any

from rangebook.reading.located import Mark


class Severity(StrEnum):
    """``error`` stops a build; ``warning`` should be mended; ``hint`` is worth a look."""

    ERROR = "error"
    WARNING = "warning"
    HINT = "hint"


@dataclass(frozen=True, slots=True, order=True)
class Finding:
    """In the order in which findings are listed. ``line`` and ``column`` count from 1; ``file`` is relative to the root.

    What a rule yields has no ``rule`` yet: the linter's engine signs it. ``same`` tells whether it is one that was there before; it is the
    message, but for one that names a line elsewhere, which may have moved. ``path`` leads to its place in the front matter, ``None`` where
    only the place in the text is known.
    """

    file: str
    line: int
    column: int
    rule: str
    severity: Severity
    message: str
    fix: str
    same: str = field(default="", compare=False, repr=False)
    path: tuple[str | int, ...] | None = field(default=None, compare=False, repr=False)

    @property
    def mark(self) -> Mark:
        """Its line and column."""
        return Mark(self.line, self.column)

    @classmethod
    def error(cls, rule: str, file: str, mark: Mark, message: str, fix: str) -> Finding:
        """An error in a file, of the linter's rule of this name: ``message`` says what was found, ``fix`` how to mend it."""
        return cls(file, mark.line, mark.column, rule, Severity.ERROR, message, fix)

    def signed(self, rule: str, severity: Severity) -> Finding:
        """The same as a finding of a rule."""
        return replace(self, rule=rule, severity=severity)

    def as_data(self) -> dict[str, Any]:
        """The finding as JSON data, in the fixed form."""
        data = asdict(self)
        data["severity"] = str(self.severity)
        return {key: data[key] for key in ("rule", "severity", "file", "line", "column", "message", "fix")}
