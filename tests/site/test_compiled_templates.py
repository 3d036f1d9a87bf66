"""Templates are compiled once, beside where they lie, as Python does with modules; what they give does not go by it."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from rangebook.site.shared import render


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The templates in a folder of the test's own."""
    monkeypatch.setattr(render, "_TEMPLATES", tmp_path)
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    return tmp_path / "__pycache__"


def made() -> str:
    render.environment.cache_clear()
    try:
        return render.render("_macros.html", ".", "", {}) + render.render("not_kept.html", ".", "", {})
    finally:
        render.environment.cache_clear()


def test_once(place: Path) -> None:
    first = made()
    kept = {path.name: path.stat().st_mtime_ns for path in place.iterdir()}
    assert kept and all(name.startswith("template-") and name.endswith(".pyc") for name in kept)
    assert made() == first
    assert {path.name: path.stat().st_mtime_ns for path in place.iterdir()} == kept
    for path in place.iterdir():
        path.write_bytes(b"not what was compiled")
    assert made() == first


def test_not_where_python_writes_none(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    made()
    assert not list(place.parent.rglob("*.pyc"))


def test_a_disk_that_is_full(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = made()
    for path in place.iterdir():
        path.unlink()

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "replace", full)
    assert made() == first
    assert list(place.iterdir()) == []


def test_a_template_that_was_changed_is_compiled_again(tmp_path: Path) -> None:
    """What was compiled of another text is not taken."""
    code = (
        "import sys; from pathlib import Path; from jinja2 import DictLoader, Environment; from rangebook.site.shared import render\n"
        "sys.dont_write_bytecode = False; render._TEMPLATES = Path(sys.argv[1])\n"
        "for text in ('one', 'two'):\n"
        "    env = Environment(loader=DictLoader({'x': text}), autoescape=True, bytecode_cache=render._compiled())\n"
        "    print(env.get_template('x').render())\n"
    )
    ran = subprocess.run([sys.executable, "-c", code, str(tmp_path)], capture_output=True, text=True, check=True)
    assert ran.stdout.split() == ["one", "two"]
    assert len(list((tmp_path / "__pycache__").iterdir())) == 1
