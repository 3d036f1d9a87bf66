"""Findings written out, one module a format. Each is a function of the findings and what was linted that gives text."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType

from rangebook.lint.finding import Finding
from rangebook.lint.linted import Linted

FORMATS: Mapping[str, str] = MappingProxyType(
    {"text": "text", "json": "plain_json", "sarif": "sarif", "github": "github", "junit": "junit"}
)
"""Name of a format -> its module in this package, which is imported only when it is asked for."""


def writer(name: str) -> Callable[[Sequence[Finding], Linted], str]:
    """The writer of a format."""
    found: Callable[[Sequence[Finding], Linted], str] = importlib.import_module(f"{__name__}.{FORMATS[name]}").write
    return found
