"""Findings written out, one module a format. Each is a function of the findings and what was linted that gives text."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from rangebook.book.load import Loaded
from rangebook.lint.finding import Finding
from rangebook.lint.reports import github, junit, plain_json, sarif, text

FORMATS: Mapping[str, Callable[[Sequence[Finding], Loaded], str]] = {
    "text": text.write,
    "json": plain_json.write,
    "sarif": sarif.write,
    "github": github.write,
    "junit": junit.write,
}
"""Name of a format -> its writer."""
