"""Shared by the tests of the set-up."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="session")
def root() -> Path:
    """The top of the checkout."""
    return ROOT


@pytest.fixture
def start() -> ModuleType:
    """``tools/start.py`` as a module, fresh for each test; loading it does nothing."""
    spec = importlib.util.spec_from_file_location("start", ROOT / "tools" / "start.py")
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
