"""Shared by the linter's tests."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from rangebook.book.load import load_texts
from rangebook.lint.engine import lint
from rangebook.lint.examples import example_book
from rangebook.lint.finding import Finding

TODAY = date(2026, 6, 1)
"""The day on which the example book is looked at."""


@pytest.fixture
def lint_example() -> Callable[[str], list[Finding]]:
    """Lint the example book with an example (indented blocks, as in the rules' docstrings) laid over it."""
    return lambda example="": lint(load_texts(example_book(example)), TODAY)
