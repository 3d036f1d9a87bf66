"""What is wrong with a file, before anyone has looked at what it says."""

from __future__ import annotations

from dataclasses import dataclass

from rangebook.reading.located import Mark


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in one file.

    ``rule`` is the name of the linter rule that reports it; ``message`` says what was found, ``fix`` how to mend it.
    """

    rule: str
    file: str
    mark: Mark
    message: str
    fix: str
