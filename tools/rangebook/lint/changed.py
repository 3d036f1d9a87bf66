"""What a change of the book is answerable for: findings in the files that it touched, and new ones elsewhere."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Sequence

from rangebook.lint.finding import Finding


def answerable(findings: Sequence[Finding], before: Sequence[Finding], files: Container[str]) -> list[Finding]:
    """Of the findings of today those in touched ``files``, and those elsewhere that there were not ``before``.

    A finding is the same one if it stands at the same place under the same rule and says the same.
    """
    had = Counter(map(_sameness, before))
    kept = []
    for finding in findings:
        same = _sameness(finding)
        if finding.file in files or not had[same]:
            kept.append(finding)
        else:
            had[same] -= 1
    return kept


def _sameness(finding: Finding) -> tuple[object, ...]:
    return finding.file, finding.line, finding.column, finding.rule, finding.same or finding.message
