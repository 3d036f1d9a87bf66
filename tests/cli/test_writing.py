"""A file is there whole, old or new, and what it is besides its bytes stays."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from rangebook.cli import writing
from rangebook.cli.writing import NotWrittenError, write


@pytest.fixture
def entry(tmp_path: Path) -> Path:
    path = tmp_path / "a.md"
    path.write_bytes(b"old")
    return path


@pytest.mark.parametrize("mode", [0o644, 0o640, 0o755])
def test_the_mode_stays(entry: Path, mode: int) -> None:
    entry.chmod(mode)
    write(entry, b"old", b"new")
    assert entry.read_bytes() == b"new" and entry.stat().st_mode & 0o7777 == mode
    assert list(entry.parent.iterdir()) == [entry]


def test_a_link_stays_a_link(entry: Path) -> None:
    link = entry.with_name("link.md")
    link.symlink_to(entry.name)
    write(link, b"old", b"new")
    assert link.is_symlink() and entry.read_bytes() == b"new"


def test_a_file_that_someone_else_has_changed_is_left_alone(entry: Path) -> None:
    with pytest.raises(NotWrittenError, match="changed while"):
        write(entry, b"older", b"new")
    assert entry.read_bytes() == b"old"


def test_a_file_that_is_gone(entry: Path) -> None:
    entry.unlink()
    with pytest.raises(NotWrittenError):
        write(entry, b"old", b"new")


def test_a_protected_file(entry: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "access", lambda path, mode: False)  # root, who may run this, may write everything
    with pytest.raises(NotWrittenError, match="write-protected"):
        write(entry, b"old", b"new")
    assert entry.read_bytes() == b"old"


@pytest.mark.parametrize("step", ["fsync", "chmod", "replace"])
def test_an_interruption_leaves_the_old_file_and_nothing_else(entry: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    def fails(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(writing.os, step, fails)
    with pytest.raises(NotWrittenError, match="No space left"):
        write(entry, b"old", b"new")
    assert entry.read_bytes() == b"old" and list(entry.parent.iterdir()) == [entry]
