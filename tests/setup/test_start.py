"""The one line of the README: what it does the first time, again, and on a machine where something is missing."""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

OLD_PYTHON = (
    "import runpy, sys; sys.version_info = ({major}, {minor}, 2, 'final', 0); sys.argv = {argv!r}; "
    "runpy.run_path(sys.argv[0], run_name='__main__')"
)


@pytest.fixture
def machine(start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Machine:
    """A checkout of its own in which every command is written down instead of run."""
    return Machine(start, tmp_path, monkeypatch)


class Machine:
    """A checkout without network. ``commands`` are those that would have been run, ``status`` what they end with."""

    def __init__(self, start: ModuleType, home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.start, self.home = start, home
        self.commands: list[list[str]] = []
        self.environments: list[dict[str, str]] = []
        self.status = 0
        for name, value in {"ROOT": home, "VENV": home / ".venv", "LOCKS": home / "lock"}.items():
            monkeypatch.setattr(start, name, value)
        (home / "lock").mkdir()
        for name in ("build", "run", "test"):
            (home / "lock" / f"{name}.txt").write_text(f"{name}==1\n", "utf-8")
        (home / "pyproject.toml").write_text("[project]\n", "utf-8")
        monkeypatch.setattr(start.subprocess, "call", self.call)
        monkeypatch.setattr(start, "become", lambda command, variables: self.call(command, env=variables))

    def call(self, command: list[str], **how: object) -> int:
        self.commands.append([str(word) for word in command])
        self.environments.append(dict(how["env"]))  # type: ignore[call-overload]
        if "venv" in command and not self.status:
            self.put_python(f'exec "{sys.executable}" "$@"')
        return self.status

    def put_python(self, script: str) -> None:
        """Something in place of the environment's Python, as a shell script."""
        python = self.start.tool("python")
        python.parent.mkdir(parents=True, exist_ok=True)
        python.write_text(f"#!/bin/sh\n{script}\n", "utf-8")
        python.chmod(0o755)

    def put_driver(self, status: int) -> None:
        """Something in place of the program that playwright drives browsers with."""
        driver = self.home / ".venv" / "lib" / "python3.11" / "site-packages" / "playwright" / "driver" / "node"
        driver.parent.mkdir(parents=True, exist_ok=True)
        driver.write_text(f"#!/bin/sh\nexit {status}\n", "utf-8")
        driver.chmod(0o755)

    def said(self, *words: str) -> list[list[str]]:
        """The commands that hold all of the words."""
        return [command for command in self.commands if set(words) <= set(command)]


def test_an_old_python_can_read_the_script(root: Path) -> None:
    ast.parse((root / "tools" / "start.py").read_text("utf-8"), feature_version=(3, 6))


@pytest.mark.parametrize(("major", "minor"), [(3, 10), (3, 6)])
def test_an_old_python_gets_one_line_that_says_what_to_do(root: Path, major: int, minor: int) -> None:
    program = OLD_PYTHON.format(major=major, minor=minor, argv=[str(root / "tools" / "start.py"), "test"])
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, timeout=60)
    assert ran.returncode == 2
    assert ran.stdout == ""
    (line,) = ran.stderr.splitlines()
    assert f"Python {major}.{minor}.2" in line and "3.11 or newer" in line and "python3-venv" in line


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 14, 1), (4, 0, 0)])
def test_a_python_that_is_new_enough_may_go_on(start: ModuleType, version: tuple[int, int, int]) -> None:
    assert start.check_python(version) is None


def test_the_first_time_everything_comes_from_the_lock_with_its_hash(machine: Machine) -> None:
    machine.start.prepare("run")
    (venv,) = machine.said("venv")
    assert venv[-1] == str(machine.home / ".venv")
    fetched = machine.said("--require-hashes", "--no-deps", "--no-build-isolation")
    assert [Path(command[-1]).name for command in fetched] == ["build.txt", "run.txt"], "what builds comes first"
    (itself,) = machine.said("--editable")
    assert {"--no-index", "--no-deps", "--no-build-isolation"} <= set(itself), "Rangebook itself needs no network"
    assert itself[-1] == str(machine.home)
    assert len(machine.commands) == 4


def test_again_it_does_nothing(machine: Machine) -> None:
    machine.start.prepare("run")
    machine.commands.clear()
    machine.start.prepare("run")
    assert machine.commands == []


def test_the_environment_for_tests_serves_for_the_book_too(machine: Machine) -> None:
    machine.start.prepare("test")
    machine.commands.clear()
    machine.start.prepare("run")
    assert machine.commands == []


def test_the_environment_for_the_book_does_not_serve_for_tests(machine: Machine) -> None:
    machine.start.prepare("run")
    machine.commands.clear()
    machine.start.prepare("test")
    assert [Path(command[-1]).name for command in machine.said("--require-hashes")] == ["build.txt", "test.txt"]
    assert not machine.said("venv"), "the environment itself is good"


@pytest.mark.parametrize("file", ["lock/run.txt", "lock/build.txt", "pyproject.toml"])
def test_a_change_of_what_it_is_made_from_brings_it_up_to_date(machine: Machine, file: str) -> None:
    machine.start.prepare("run")
    machine.commands.clear()
    (machine.home / file).write_text("another==2\n", "utf-8")
    machine.start.prepare("run")
    assert len(machine.said("--require-hashes")) == 2 and len(machine.said("--editable")) == 1


def test_a_moved_checkout_gets_a_new_environment(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    machine.start.prepare("run")
    shutil.copytree(machine.home / ".venv", machine.home / "moved", symlinks=True)
    monkeypatch.setattr(machine.start, "VENV", machine.home / "moved")
    machine.commands.clear()
    machine.start.prepare("run")
    assert machine.said("venv", "--clear"), "the programs in .venv/ know the place where they were made"
    assert machine.said("--editable")


@pytest.mark.parametrize("script", ["exit 1", "echo 3 10 1"], ids=["broken", "of another version"])
def test_an_environment_that_is_no_good_is_made_anew(machine: Machine, script: str) -> None:
    machine.put_python(script)
    machine.start.prepare("run")
    assert machine.said("venv", "--clear")


def test_an_environment_made_by_hand_is_built_upon(machine: Machine) -> None:
    machine.put_python(f'exec "{sys.executable}" "$@"')
    machine.start.prepare("run")
    assert not machine.said("venv") and machine.said("--editable")


def test_a_failed_fetch_is_said_and_tried_again(machine: Machine) -> None:
    machine.start.prepare("run")
    (machine.home / "lock" / "run.txt").write_text("another==2\n", "utf-8")
    machine.status = 1
    with pytest.raises(machine.start.CannotError, match="could not be fetched"):
        machine.start.prepare("run")
    machine.status = 0
    machine.commands.clear()
    machine.start.prepare("run")
    assert machine.said("--require-hashes")


def test_broken_stamps_do_no_harm(machine: Machine) -> None:
    machine.start.prepare("run")
    for text in ("", "{", "3", '["run"]'):
        machine.start.stamps_file().write_text(text, "utf-8")
        assert machine.start.read_stamps() == {}


def test_the_book_is_checked_and_then_served(machine: Machine) -> None:
    assert machine.start.main(["--port", "9000"]) == 0
    lint, serve = machine.commands[-2:]
    assert lint[1:] == ["lint", "--root", str(machine.home)]
    assert serve[1:] == ["serve", "--root", str(machine.home), "--port", "9000"]


def test_a_book_with_errors_is_not_served(machine: Machine, capfd: pytest.CaptureFixture[str]) -> None:
    machine.start.prepare("run")
    machine.commands.clear()
    machine.status = 1
    assert machine.start.main([]) == 1
    assert [command[1] for command in machine.commands] == ["lint"]
    assert "mend" in capfd.readouterr().err


def test_all_tests_run_without_words_and_chosen_ones_with(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(machine.start.BROWSER_VARIABLE, sys.executable)
    assert machine.start.main(["test"]) == 0
    assert machine.commands[-1][1:3] == ["-m", "pytest"]
    assert machine.start.main(["test", "tests/lint", "-k", "years"]) == 0
    assert machine.commands[-1][1:] == ["-m", "pytest", "tests/lint", "-k", "years"]
    assert machine.environments[-1][machine.start.BROWSER_VARIABLE] == sys.executable


def test_the_exit_status_is_that_of_the_tests(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(machine.start.BROWSER_VARIABLE, sys.executable)
    machine.start.prepare("test")
    machine.status = 5
    assert machine.start.main(["test"]) == 5


def test_without_a_browser_one_line_says_what_to_install(
    machine: Machine, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(machine.start, "find_browser", lambda: "")
    monkeypatch.setattr(machine.start, "is_root_of_debian", lambda: False)
    machine.start.prepare("test")
    capfd.readouterr()
    machine.commands.clear()
    assert machine.start.main(["test"]) == 2
    assert machine.commands == [], "all tests without the browser would not be all"
    (line,) = capfd.readouterr().err.splitlines()
    assert "apt-get install chromium" in line
    assert machine.start.main(["test", "tests/lint"]) == 0, "chosen ones may need none"


def test_debians_browser_is_installed_where_that_may_be_done(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(machine.start, "is_root_of_debian", lambda: True)
    monkeypatch.setattr(machine.start, "find_browser", lambda: "/usr/bin/chromium" if machine.said("apt-get", "chromium") else "")
    monkeypatch.setattr(machine.start.shutil, "which", lambda name: None)
    monkeypatch.setattr(machine.start, "FONT", machine.home / "no-such-font")
    assert machine.start.browser() == "/usr/bin/chromium"
    assert [command[:2] for command in machine.commands] == [["apt-get", "update"], ["apt-get", "install"]]
    assert {"chromium", "ngspice", "fonts-dejavu-core"} <= set(machine.commands[1])
    assert all(variables["DEBIAN_FRONTEND"] == "noninteractive" for variables in machine.environments)


def test_what_the_browsers_driver_lacks_is_told_too(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    """Seen on a bare Debian 12: the driver that playwright brings does not start without libatomic1."""
    monkeypatch.setattr(machine.start, "find_browser", lambda: "/usr/bin/chromium")
    monkeypatch.setattr(machine.start, "is_root_of_debian", lambda: False)
    machine.put_driver(127)
    with pytest.raises(machine.start.CannotError, match="apt-get install libatomic1"):
        machine.start.browser()
    machine.put_driver(0)
    assert machine.start.browser() == "/usr/bin/chromium"


def test_without_venv_one_line_says_what_to_install(
    machine: Machine, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(machine.start, "can_make_venv", lambda: False)
    monkeypatch.setattr(machine.start, "is_root_of_debian", lambda: False)
    assert machine.start.main([]) == 2
    (line,) = capfd.readouterr().err.splitlines()
    assert "apt-get install python3-venv" in line
    assert machine.commands == []


def test_packages_of_the_caller_do_not_leak_in(root: Path, tmp_path: Path, start: ModuleType) -> None:
    """Really run: a package in the caller's PYTHONPATH that would take the place of one of ours."""
    (tmp_path / "yaml.py").write_text("raise SystemExit('a stranger')", "utf-8")
    program = (
        "import runpy, sys; start = runpy.run_path(sys.argv[1]); "
        "start['become']([sys.executable, '-c', 'import yaml; print(yaml.__name__)'], start['environment']())"
    )
    variables = {**os.environ, "PYTHONPATH": str(tmp_path), "PYTHONHOME": ""}
    ran = subprocess.run(
        [sys.executable, "-c", program, str(root / "tools" / "start.py")], env=variables, capture_output=True, text=True, timeout=60
    )
    assert (ran.returncode, ran.stdout) == (0, "yaml\n"), ran.stderr


def test_help_tells_both_lines(root: Path) -> None:
    ran = subprocess.run([sys.executable, str(root / "tools" / "start.py"), "--help"], capture_output=True, text=True, timeout=60)
    assert ran.returncode == 0
    lines = [line.split("  ")[0] for line in ran.stdout.replace("    ", "\n").splitlines()]
    assert {"python3 tools/start.py", "python3 tools/start.py test"} <= set(lines)
