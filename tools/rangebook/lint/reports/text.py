"""Plain text for people: place, rule, what was found, how to mend it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from rangebook.book.load import Loaded
from rangebook.lint.finding import Finding


def write(findings: Sequence[Finding], loaded: Loaded) -> str:
    """Each finding on two lines, and a line that sums up."""
    lines = []
    for one in findings:
        lines.append(f"{one.file}:{one.line}:{one.column}: {one.severity}: {one.message} [{one.rule}]")
        lines.append(f"    {one.fix}")
    counts = Counter(str(one.severity) for one in findings)
    summed = ", ".join(f"{counts[name]} {name}{'s' if counts[name] != 1 else ''}" for name in ("error", "warning", "hint") if counts[name])
    entries = len(loaded.entries)
    lines.append(f"{entries} entr{'y' if entries == 1 else 'ies'}: {summed or 'nothing found'}")
    return "\n".join(lines) + "\n"
