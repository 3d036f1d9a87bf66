"""An unchanged book is not checked again; a changed one always is."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from rangebook.cli import main
from rangebook.lint import cache
from rangebook.lint.examples import base_book


@pytest.fixture
def root(tmp_path: Path) -> Path:
    for file, text in base_book().items():
        (tmp_path / file).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / file).write_text(text, "utf-8")
    return tmp_path


@pytest.fixture
def checked(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How often a book was really checked."""
    from rangebook.lint import engine

    times: list[int] = []
    real = engine.lint_files
    monkeypatch.setattr(engine, "lint_files", lambda *args, **named: times.append(1) or real(*args, **named))
    return times


def lint(root: Path, capsys: pytest.CaptureFixture, *more: str) -> tuple[int, list]:
    status = main(["lint", "--root", str(root), "--format", "json", *more])
    return status, json.loads(capsys.readouterr().out)


def spoil(root: Path) -> Path:
    path = root / "entries/switches/tamblin-gate.md"
    path.write_text(path.read_text("utf-8").replace("closed: [P, N]", "closed: [P, N, D]", 1), "utf-8")
    return path


def test_the_second_run_says_the_same_without_checking(root: Path, checked: list, capsys: pytest.CaptureFixture) -> None:
    spoil(root)
    first, second = lint(root, capsys), lint(root, capsys)
    assert first == second and first[0] == 1 and len(checked) == 1
    assert main(["lint", "--root", str(root)]) == 1
    assert "^" in capsys.readouterr().out, "the line is shown as ever"
    lint(root, capsys, "--afresh")
    assert len(checked) == 2


def test_any_change_is_checked(root: Path, checked: list, capsys: pytest.CaptureFixture) -> None:
    assert lint(root, capsys)[0] == 0
    spoil(root)
    assert lint(root, capsys)[0] == 1
    (root / "entries/connectors/more.md").write_text("x", "utf-8")
    lint(root, capsys)
    (root / "entries/connectors/more.md").unlink()
    lint(root, capsys)
    (root / "schema").mkdir()
    (root / "schema/circuits.json").write_text('{"circuits": {}}', "utf-8")
    assert {one["rule"] for one in lint(root, capsys)[1]} >= {"unknown-circuit"}
    assert len(checked) == 5


def test_another_day_another_digest(root: Path) -> None:
    days = [cache.digest(root, [], [], date(2026, 6, day)) for day in (1, 2)]
    assert days[0] != days[1]
    names = [cache.digest(root, [(name, b"x")], [], date(2026, 6, 1)) for name in ("a", "b")]
    assert names[0] != names[1]
    assert cache.digest(root, [("a", b"bc")], [], date(2026, 6, 1)) != cache.digest(root, [("ab", b"c")], [], date(2026, 6, 1))


@pytest.mark.parametrize("kept", ["", "{", "[]", '{"digest": 3}', '{"digest": "x", "findings": [{}]}'])
def test_a_spoilt_memory_is_as_good_as_none(root: Path, kept: str, checked: list, capsys: pytest.CaptureFixture) -> None:
    (root / ".rangebook").mkdir()
    (root / cache.PLACE).write_text(kept, "utf-8")
    assert lint(root, capsys) == (0, []) and len(checked) == 1


def test_a_folder_that_cannot_be_written_is_no_error(root: Path, capsys: pytest.CaptureFixture) -> None:
    (root / ".rangebook").write_text("a file, where a folder should be", "utf-8")
    assert lint(root, capsys) == (0, [])
