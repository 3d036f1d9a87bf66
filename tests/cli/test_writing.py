"""A file is there whole, old or new, and what it is besides its bytes stays."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from rangebook.cli import writing
from rangebook.cli.writing import NotWrittenError, create, write


@pytest.fixture
def entry(tmp_path: Path) -> Path:
    path = tmp_path / "a.md"
    path.write_bytes(b"old")
    return path


@pytest.mark.parametrize("mode", [0o644, 0o640, 0o755])
def test_the_mode_stays(entry: Path, mode: int) -> None:
    entry.chmod(mode)
    write(entry.parent, entry.name, b"old", b"new")
    assert entry.read_bytes() == b"new" and entry.stat().st_mode & 0o7777 == mode
    assert list(entry.parent.iterdir()) == [entry]


def test_nothing_is_written_through_a_link(entry: Path) -> None:
    link = entry.with_name("link.md")
    link.symlink_to(entry.name)
    with pytest.raises(NotWrittenError, match="link"):
        write(entry.parent, link.name, b"old", b"new")
    assert link.is_symlink() and entry.read_bytes() == b"old"


@pytest.mark.parametrize("leads", ["elsewhere", "nowhere"])
def test_nor_is_a_file_made_through_a_linked_folder(tmp_path: Path, leads: str) -> None:
    root, other = tmp_path / "book", tmp_path / "other"
    root.mkdir()
    if leads == "elsewhere":
        other.mkdir()
    (root / "entries").symlink_to(other)
    with pytest.raises(NotWrittenError, match="link"):
        create(root, "entries/kits/a.md", b"new")
    assert not list(other.rglob("*"))


def test_what_a_killed_process_left_is_cleared_away_and_another_at_work_is_not(entry: Path) -> None:
    dead = subprocess.Popen([sys.executable, "-c", ""])
    dead.wait()
    left, live = entry.with_name(f".a.md.{dead.pid}-x.part"), entry.with_name(f".a.md.{os.getppid()}-y.part")
    left.touch()
    live.touch()
    write(entry.parent, entry.name, b"old", b"new")
    assert sorted(entry.parent.iterdir()) == [live, entry]


def test_a_file_that_someone_else_has_changed_is_left_alone(entry: Path) -> None:
    with pytest.raises(NotWrittenError, match="changed while"):
        write(entry.parent, entry.name, b"older", b"new")
    assert entry.read_bytes() == b"old"


def test_a_file_that_is_gone(entry: Path) -> None:
    entry.unlink()
    with pytest.raises(NotWrittenError):
        write(entry.parent, entry.name, b"old", b"new")


def test_a_protected_file(entry: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "access", lambda path, mode: False)  # root, who may run this, may write everything
    with pytest.raises(NotWrittenError, match="write-protected"):
        write(entry.parent, entry.name, b"old", b"new")
    assert entry.read_bytes() == b"old"


@pytest.mark.parametrize("step", ["fsync", "chmod", "replace"])
def test_an_interruption_leaves_the_old_file_and_nothing_else(entry: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    def fails(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(writing.os, step, fails)
    with pytest.raises(NotWrittenError, match="No space left"):
        write(entry.parent, entry.name, b"old", b"new")
    assert entry.read_bytes() == b"old" and list(entry.parent.iterdir()) == [entry]
