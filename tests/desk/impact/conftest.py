"""The demo book and two states of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from rangebook.reading.files import read_all

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="session")
def demo() -> dict[str, bytes]:
    """The demo book's files."""
    return {file: data for file, data in read_all(ROOT) if isinstance(data, bytes)}
