"""JSON: a list of findings in the fixed form."""

from __future__ import annotations

import json
from collections.abc import Sequence

from rangebook.lint.finding import Finding
from rangebook.lint.linted import Linted


def write(findings: Sequence[Finding], linted: Linted) -> str:
    """The findings as a JSON list, one line at the end."""
    return json.dumps([finding.as_data() for finding in findings], indent=2, ensure_ascii=False) + "\n"
