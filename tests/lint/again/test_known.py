"""An unchanged book is not checked again; of a changed one only what hangs together with the change."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

import generate
from rangebook.book import index
from rangebook.cli import main
from rangebook.lint import engine
from rangebook.lint.examples import base_book
from rangebook.reading import listing
from tests.committing import git


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    # Files of just now are read again; here they count as old.
    monkeypatch.setattr(listing, "_LATELY", 0)
    for file, text in base_book().items():
        (tmp_path / "book" / file).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "book" / file).write_text(text, "utf-8")
    return tmp_path / "book"


@pytest.fixture
def checked(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many entries were looked at, each time that any were."""
    times: list[int] = []
    whole, part = engine.lint_files, engine.Run.all

    def all_of(run: engine.Run) -> list:
        times.append(len(run.loaded.entries))
        return part(run)

    def files(root: Path, sources: object, *more: object, **named: object) -> tuple:
        found = whole(root, sources, *more, **named)  # type: ignore[arg-type]
        times.append(len(found[0].entries))
        return found

    monkeypatch.setattr(engine, "lint_files", files)
    monkeypatch.setattr(engine.Run, "all", all_of)
    return times


def lint(root: Path, capsys: pytest.CaptureFixture, *more: str) -> tuple[int, list]:
    status = main(["lint", "--root", str(root), "--format", "json", *more])
    return status, json.loads(capsys.readouterr().out)


def spoil(root: Path) -> Path:
    path = root / "entries/switches/tamblin-gate.md"
    path.write_text(path.read_text("utf-8").replace("closed: [P, N]", "closed: [P, N, D]", 1), "utf-8")
    time.sleep(0.006)
    return path


def test_the_second_run_says_the_same_without_checking(root: Path, checked: list, capsys: pytest.CaptureFixture) -> None:
    spoil(root)
    first, second = lint(root, capsys), lint(root, capsys)
    assert first == second and first[0] == 1 and len(checked) == 1
    assert main(["lint", "--root", str(root)]) == 1
    told = capsys.readouterr().out
    assert "^" in told and f"{len(base_book())} entries" in told, "the line is shown as ever"
    lint(root, capsys, "--afresh")
    assert len(checked) == 2


def test_any_change_is_checked(root: Path, checked: list, capsys: pytest.CaptureFixture) -> None:
    assert lint(root, capsys)[0] == 0
    spoil(root)
    assert lint(root, capsys)[0] == 1
    (root / "entries/connectors/more.md").write_text("x", "utf-8")
    assert {one["rule"] for one in lint(root, capsys)[1]} >= {"front-matter"}
    (root / "entries/connectors/more.md").unlink()
    lint(root, capsys)
    (root / "schema").mkdir()
    (root / "schema/circuits.json").write_text('{"circuits": {}}', "utf-8")
    assert {one["rule"] for one in lint(root, capsys)[1]} >= {"unknown-circuit"}
    (root / "shelf.csv").write_text("number,count,place\nNO-1,1,bin\n", "utf-8")
    assert {one["rule"] for one in lint(root, capsys)[1]} >= {"shelf-number"}


def test_of_a_large_book_only_what_hangs_together_with_the_change(
    tmp_path: Path, root: Path, checked: list, capsys: pytest.CaptureFixture
) -> None:
    book = tmp_path / "large"
    generate.write(generate.generate(12), book)
    assert lint(book, capsys) == (0, [])
    file = sorted((book / "entries/switches").iterdir())[3]
    file.write_text(file.read_text("utf-8") + "\nIt squeaks.\n", "utf-8")
    assert lint(book, capsys) == (0, [])
    assert checked == [30, 5], "two families with two connectors and the kit between them"


def test_nor_of_a_copy_made_just_now(root: Path, checked: list, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture) -> None:
    """Every file of it is written so lately that its times tell nothing; their bytes do."""
    monkeypatch.setattr(listing, "_LATELY", 10**18)
    monkeypatch.setattr(listing, "_LATELY_FINE", 10**18)
    book = root.parent / "large"
    generate.write(generate.generate(30), book)
    assert lint(book, capsys) == (0, [])
    file = sorted((book / "entries/switches").iterdir())[3]
    file.write_text(file.read_text("utf-8") + "\nIt squeaks.\n", "utf-8")
    assert lint(book, capsys) == (0, []) and checked == [75, 5]


@pytest.mark.parametrize("slip", [("connector: ", "connector: x"), ("kind: switch", "kind: switch:\t"), ("came_with: ", "came_with: X")])
def test_nor_after_a_slip_in_a_family(
    slip: tuple[str, str], tmp_path: Path, root: Path, checked: list, capsys: pytest.CaptureFixture
) -> None:
    book = tmp_path / "large"
    generate.write(generate.generate(12), book)
    assert lint(book, capsys) == (0, [])
    file = sorted((book / "entries/switches").iterdir())[3]
    clean = file.read_text("utf-8")
    file.write_text(clean.replace(*slip, 1), "utf-8")
    found = lint(book, capsys)
    assert found[0] == 1 and max(checked[1:]) <= 5
    file.write_text(clean, "utf-8")
    assert lint(book, capsys) == (0, []) and max(checked[1:]) <= 5
    file.write_text(clean.replace(*slip, 1), "utf-8")
    assert lint(book, capsys, "--afresh") == found


def test_what_a_change_does_is_told_by_what_hangs_together_with_it(
    tmp_path: Path, root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture
) -> None:
    book = tmp_path / "large"
    generate.write(generate.generate(12), book)
    for command in (("init", "-q", "-b", "main"), ("add", "-A"), ("commit", "-q", "-m", "as it was")):
        git(book, *command)
    file = sorted((book / "entries/switches").iterdir())[3]
    file.write_text(file.read_text("utf-8").replace("closed: [P, N]", "closed: [P, N, D]", 1), "utf-8")
    read: list[str] = []
    real = index.read_entry
    monkeypatch.setattr(index, "read_entry", lambda file, data: read.append(file) or real(file, data))

    def told() -> str:
        assert main(["impact", "--root", str(book), "--format", "json"]) == 0
        return capsys.readouterr().out

    whole = told()
    assert json.loads(whole)["verdicts"] and not read
    assert told() == whole and len(read) == 6, "as it was and as it is, with its twin, two connectors and the kit between them"


def test_a_folder_that_cannot_be_written_is_no_error(root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture) -> None:
    (root.parent / "store").write_text("a file, where a folder should be", "utf-8")
    assert lint(root, capsys) == (0, [])


def test_what_was_kept_by_other_code_is_let_go_of(
    root: Path, checked: list, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture
) -> None:
    lint(root, capsys)
    monkeypatch.setattr(index, "_program", lambda: ["changed"])
    lint(root, capsys)
    assert len(checked) == 2


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="there is no such signal here")
def test_a_run_that_is_killed_leaves_a_store_that_is_right(root: Path, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    book = tmp_path / "large"
    generate.write(generate.generate(12), book)
    for wait in (0.0, 0.15, 0.3, 0.45, 0.6):
        file = sorted((book / "entries/switches").iterdir())[5]
        file.write_text(file.read_text("utf-8").replace("closed: [R]", "closed: [R, N]", 1) + "\nOnce more.\n", "utf-8")
        ran = subprocess.Popen([sys.executable, "-m", "rangebook", "lint", "--root", str(book)], env=os.environ, stdout=subprocess.DEVNULL)
        time.sleep(wait)
        ran.kill()
        ran.wait()
        again, fresh = lint(book, capsys), lint(book, capsys, "--afresh")
        assert again == fresh
