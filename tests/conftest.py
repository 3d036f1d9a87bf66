"""For all tests: those that drive a browser, and those that take long, can be left out by their marks (pyproject.toml)."""

from __future__ import annotations

import pytest

MANY = 50
"""A test that hypothesis gives at least so many examples by hand, since each is a whole book, takes seconds."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark by what a test does, so that no test can be forgotten."""
    for item in items:
        if "driver" in getattr(item, "fixturenames", ()):
            item.add_marker("browser")
        settings = getattr(getattr(item, "obj", None), "_hypothesis_internal_use_settings", None)
        if settings is not None and settings.deadline is None and settings.max_examples >= MANY:
            item.add_marker("slow")
