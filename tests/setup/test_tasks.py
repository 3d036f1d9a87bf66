"""What the start script runs inside the environment: the book, the tests, the checks; and what it says where something is missing."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest


class Runs:
    """Every program that would have been run, in order; ``failing`` are the words that make one end with 1."""

    def __init__(self, tasks: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
        self.commands: list[list[str]] = []
        self.failing: set[str] = set()
        self.programs = {"chromium": "/usr/bin/chromium", "npm": "/usr/bin/npm"}
        monkeypatch.setattr(tasks.subprocess, "run", self.run)
        monkeypatch.setattr(tasks.os, "execv", self.execv)
        monkeypatch.setattr(tasks.os, "chdir", lambda folder: None)
        monkeypatch.setattr(tasks.shutil, "which", self.programs.get)
        monkeypatch.setattr(tasks, "driver_starts", lambda: True)
        # What the script sets it sets for the programs that it becomes: the tests that follow in this process must not see it.
        kept = {name: value for name, value in tasks.os.environ.items() if name not in (tasks.BROWSER, "CI")}
        monkeypatch.setattr(tasks.os, "environ", kept)

    def run(self, command: list[object], **how: object) -> subprocess.CompletedProcess[bytes]:
        program, *words = map(str, command)
        self.commands.append([Path(program).name, *words])
        return subprocess.CompletedProcess([], 1 if self.failing & set(self.commands[-1]) else 0)

    def execv(self, program: str, words: list[str]) -> None:
        # A Python that is started by its bare name looks on the path for where it is at home, and may find another one there.
        assert program == words[0] and Path(program).parent == Path(sys.executable).parent
        raise SystemExit(self.run(list(words)).returncode)


@pytest.fixture
def runs(tasks: ModuleType, monkeypatch: pytest.MonkeyPatch) -> Runs:
    """Nothing is really run."""
    return Runs(tasks, monkeypatch)


def status(tasks: ModuleType, *words: str) -> object:
    """What the program ends with, also where another one takes its place."""
    try:
        return tasks.main(list(words))
    except SystemExit as end:
        return end.code


def test_the_book_is_checked_and_then_served(tasks: ModuleType, runs: Runs, root: Path) -> None:
    assert status(tasks, "--port", "9000") == 0
    assert runs.commands == [["rangebook", "lint", "--root", str(root)], ["rangebook", "serve", "--root", str(root), "--port", "9000"]]


def test_a_book_with_errors_is_not_served(tasks: ModuleType, runs: Runs, capfd: pytest.CaptureFixture[str]) -> None:
    runs.failing = {"lint"}
    assert status(tasks) == 1
    assert [command[1] for command in runs.commands] == ["lint"]
    assert "mend" in capfd.readouterr().err


def test_all_tests_run_without_words_and_chosen_ones_with(tasks: ModuleType, runs: Runs) -> None:
    assert status(tasks, "test") == 0
    assert runs.commands.pop() == ["python", "-m", "pytest", "-n", "auto", "--dist", "worksteal"]
    assert status(tasks, "test", "tests/lint", "-k", "years") == 0
    assert runs.commands.pop() == ["python", "-m", "pytest", "tests/lint", "-k", "years"]
    assert tasks.os.environ[tasks.BROWSER] == "/usr/bin/chromium"


def test_the_commands_that_tests_start_keep_what_was_compiled(tasks: ModuleType, runs: Runs, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    assert status(tasks, "test") == 0
    assert "PYTHONDONTWRITEBYTECODE" not in tasks.os.environ


def test_the_exit_status_is_that_of_the_tests(tasks: ModuleType, runs: Runs) -> None:
    runs.failing = {"pytest"}
    assert status(tasks, "test") == 1


@pytest.mark.parametrize(("failing", "ends"), [(set(), 0), ({"pytest"}, 1), ({"report"}, 1), ({"combine"}, 1)])
def test_with_coverage_both_the_tests_and_the_floor_decide(tasks: ModuleType, runs: Runs, failing: set[str], ends: int) -> None:
    runs.failing = failing
    assert status(tasks, "test", "--coverage", "tests/book") == ends
    assert runs.commands[0] == ["python", "-m", "coverage", "run", "-m", "pytest", "tests/book"]
    if "combine" not in failing:
        assert [command[3] for command in runs.commands] == ["run", "combine", "report"], "the report is shown where tests fail, too"


@pytest.mark.parametrize("failing", [None, "unmeasured", "not unmeasured", "report"])
def test_with_coverage_all_tests_run_and_what_needs_none_by_itself(tasks: ModuleType, runs: Runs, failing: str | None) -> None:
    runs.failing = {failing} if failing else set()
    assert status(tasks, "test", "--coverage") == (1 if failing else 0)
    (core, site) = [command for command in runs.commands if "pytest" in command]
    assert core[1:4] == ["-m", "coverage", "run"] and core[-2:] == ["-m", "not unmeasured"]
    assert "coverage" not in site and site[-2:] == ["-m", "unmeasured"], "what one leaves out the other runs"


def test_without_a_browser_one_line_says_what_to_install(tasks: ModuleType, runs: Runs, capfd: pytest.CaptureFixture[str]) -> None:
    del runs.programs["chromium"]
    assert status(tasks, "test") == 2
    assert runs.commands == [], "all tests without the browser would not be all"
    (line,) = capfd.readouterr().err.splitlines()
    assert "apt-get install chromium-headless-shell" in line and "--apt" in line
    assert status(tasks, "test", "tests/lint") == 0, "chosen ones may need none"


def test_the_browser_without_windows_is_taken_where_there_are_two(tasks: ModuleType, runs: Runs) -> None:
    runs.programs["chromium-headless-shell"] = "/usr/bin/chromium-headless-shell"
    assert status(tasks, "test") == 0
    assert tasks.os.environ[tasks.BROWSER] == "/usr/bin/chromium-headless-shell"


def test_a_browser_that_is_named_is_taken(tasks: ModuleType, runs: Runs, monkeypatch: pytest.MonkeyPatch) -> None:
    del runs.programs["chromium"]
    monkeypatch.setenv(tasks.BROWSER, "/opt/another")
    assert status(tasks, "test") == 0
    assert tasks.os.environ[tasks.BROWSER] == "/opt/another"


@pytest.mark.parametrize(("ends", "starts"), [(0, True), (127, False)])
def test_what_the_browsers_driver_lacks_is_found(
    tasks: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ends: int, starts: bool
) -> None:
    """Seen on a bare Debian 12: the driver that playwright brings does not start without libatomic1."""
    driver = tmp_path / "lib" / "python3.11" / "site-packages" / "playwright" / "driver" / "node"
    driver.parent.mkdir(parents=True)
    driver.write_text(f"#!/bin/sh\nexit {ends}\n", "utf-8")
    driver.chmod(0o755)
    monkeypatch.setattr(tasks.sys, "prefix", str(tmp_path))
    assert tasks.driver_starts() is starts


def test_a_driver_that_does_not_start_is_told_too(
    tasks: ModuleType, runs: Runs, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(tasks, "driver_starts", lambda: False)
    assert status(tasks, "test") == 2
    assert "apt-get install libatomic1" in capfd.readouterr().err


def test_every_check_is_run_also_where_one_fails(tasks: ModuleType, runs: Runs, capfd: pytest.CaptureFixture[str]) -> None:
    runs.failing = {"mypy"}
    assert status(tasks, "check") == 1
    assert [command[0] for command in runs.commands] == ["ruff", "ruff", "mypy", "lint-imports", "npm", "npm"]
    assert runs.commands[-2][1:3] == ["ci", "--ignore-scripts"] and runs.commands[-1][-1] == "check"
    assert capfd.readouterr().err.splitlines() == ["start: did not pass: mypy"]


def test_checks_that_pass_are_a_success(tasks: ModuleType, runs: Runs, capfd: pytest.CaptureFixture[str]) -> None:
    assert status(tasks, "check") == 0
    assert capfd.readouterr().err == ""


@pytest.mark.parametrize("failing", ["ci", "run"])
def test_the_browsers_scripts_have_to_pass(tasks: ModuleType, runs: Runs, failing: str) -> None:
    runs.failing = {failing}
    assert status(tasks, "check") == 1


def test_without_npm_it_is_said_and_in_ci_it_is_an_error(
    tasks: ModuleType, runs: Runs, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    del runs.programs["npm"]
    assert status(tasks, "check") == 0
    assert "not checked" in capfd.readouterr().err
    monkeypatch.setenv("CI", "true")
    assert status(tasks, "check") == 1
    assert "--apt" in capfd.readouterr().err


def test_a_further_word_of_check_is_not_swallowed(tasks: ModuleType, runs: Runs) -> None:
    assert status(tasks, "check", "tests") == 2
    assert runs.commands == []
