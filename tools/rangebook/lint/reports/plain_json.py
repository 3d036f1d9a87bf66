"""JSON: a list of findings in the fixed form."""

from __future__ import annotations

from collections.abc import Sequence

from rangebook.lint.finding import Finding
from rangebook.lint.linted import Linted
from rangebook.words.shown import shown_json


def write(findings: Sequence[Finding], linted: Linted) -> str:
    """The findings as a JSON list, one line at the end."""
    return shown_json([finding.as_data(linted.names) for finding in findings]) + "\n"
