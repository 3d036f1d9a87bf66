"""Shared by the tests of the set-up."""

from __future__ import annotations

import importlib.util
import sys
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
    return _loaded("start")


@pytest.fixture
def tasks() -> ModuleType:
    """``tools/tasks.py`` in the same way."""
    return _loaded("tasks")


@pytest.fixture
def hook(start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """``tools/hook.py`` with the ``start`` above."""
    monkeypatch.setitem(sys.modules, "start", start)
    return _loaded("hook")


def _loaded(name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(name, ROOT / "tools" / f"{name}.py")
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
