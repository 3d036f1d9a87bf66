"""The start script: what it makes the first time and again, with uv and without, and on a machine where something is missing."""

from __future__ import annotations

import ast
import os
import re
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
    """A checkout without network and without uv. ``commands`` are those that would have been run, ``status`` what they end with;
    ``programs`` are those on the path."""

    def __init__(self, start: ModuleType, home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.start, self.home = start, home
        self.commands: list[list[str]] = []
        self.environments: list[dict[str, str]] = []
        self.folders: list[object] = []
        self.programs: dict[str, str] = {}
        self.installed = ""
        self.status = 0
        for name, value in {"ROOT": home, "VENV": home / ".venv", "LOCKS": home / "lock"}.items():
            monkeypatch.setattr(start, name, value)
        (home / "lock").mkdir()
        for name in ("build.txt", "pylock.run.toml", "pylock.test.toml"):
            (home / "lock" / name).write_text(f"of {name}\n", "utf-8")
        (home / "pyproject.toml").write_text("[project]\n", "utf-8")
        (home / "tools").mkdir()
        (home / "tools" / "debian.txt").write_text(
            "# what for\nchromium chromium # browser\nnpm npm # scripts\nlibatomic1  # driver\n", "utf-8"
        )
        self.really = subprocess.call
        monkeypatch.setattr(start.subprocess, "call", self.call)
        monkeypatch.setattr(start.subprocess, "run", lambda *words, **how: subprocess.CompletedProcess([], 0, self.installed.encode()))
        monkeypatch.setattr(start.os, "execve", lambda program, words, variables: self.call(words, env=variables))
        monkeypatch.setattr(start.os, "geteuid", lambda: 0)
        monkeypatch.setattr(start.shutil, "which", self.programs.get)

    def call(self, command: list[str], **how: object) -> int:
        if "-c" in command:  # whether the environment that is there can be built upon
            return self.really(command, **how)  # type: ignore[arg-type]
        self.commands.append([str(word) for word in command])
        self.environments.append(dict(how["env"]))  # type: ignore[call-overload]
        self.folders.append(how.get("cwd"))
        if "venv" in command and not self.status:
            self.put_python(f'exec "{sys.executable}" "$@"')
        return self.status

    def put_python(self, script: str) -> None:
        """Something in place of the environment's Python, as a shell script."""
        python = self.start.python()
        python.parent.mkdir(parents=True, exist_ok=True)
        python.write_text(f"#!/bin/sh\n{script}\n", "utf-8")
        python.chmod(0o755)

    def said(self, *words: str) -> list[list[str]]:
        """The commands that hold all of the words."""
        return [command for command in self.commands if set(words) <= set(command)]

    def fetched(self) -> list[str]:
        """The lock files that were installed from, each with its hashes and nothing else."""
        return [Path(command[-1]).name for command in self.said("--require-hashes", "--no-deps", "--no-build-isolation")]


def test_an_old_python_can_read_the_script(root: Path) -> None:
    ast.parse((root / "tools" / "start.py").read_text("utf-8"), feature_version=(3, 6))


@pytest.mark.parametrize(("major", "minor"), [(3, 10), (3, 6)])
def test_an_old_python_gets_one_line_that_says_what_to_do(root: Path, major: int, minor: int) -> None:
    program = OLD_PYTHON.format(major=major, minor=minor, argv=[str(root / "tools" / "start.py"), "test"])
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, timeout=60)
    assert ran.returncode == 2
    assert ran.stdout == ""
    (line,) = ran.stderr.splitlines()
    assert f"Python {major}.{minor}.2" in line and "3.11 or newer" in line and "python3.11" in line


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 14, 1), (4, 0, 0)])
def test_a_python_that_is_new_enough_may_go_on(start: ModuleType, version: tuple[int, int, int]) -> None:
    assert start.check_python(version) is None


def test_the_first_time_everything_comes_from_the_lock_with_its_hash(machine: Machine) -> None:
    machine.start.prepare("run")
    (venv,) = machine.said("venv")
    assert venv[0] == sys.executable and venv[-1] == str(machine.home / ".venv")
    assert machine.fetched() == ["build.txt", "pylock.run.toml"], "what installs and builds comes first"
    (itself,) = machine.said("--editable")
    assert {"--no-index", "--no-deps", "--no-build-isolation"} <= set(itself), "Rangebook itself needs no network"
    assert itself[-1] == str(machine.home)
    assert len(machine.commands) == 4


@pytest.mark.skipif(os.name == "nt", reason="there it waits for what it starts")
def test_the_hook_runs_from_the_lock_and_nothing_of_the_folder_that_is_committed(
    hook: ModuleType, machine: Machine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    committed = tmp_path / "committed"
    (committed / "rangebook").mkdir(parents=True)
    (committed / "pip.py").write_text("raise SystemExit('run')", "utf-8")
    monkeypatch.chdir(committed)
    hook.main(["lint", "--fix"])
    assert machine.fetched() == ["build.txt", "pylock.run.toml"] and len(machine.said("--editable")) == 1
    *made, last = machine.commands
    assert last == [str(machine.start.python().with_name("rangebook")), "lint", "--fix"] and Path.cwd() == committed
    assert set(machine.folders[: len(made)]) == {str(machine.home)}


def test_where_uv_is_it_does_the_same(machine: Machine) -> None:
    machine.programs["uv"] = "/some/uv"
    machine.start.prepare("test")
    (venv,) = machine.said("venv")
    assert venv[0] == "/some/uv" and venv[venv.index("--python") + 1] == sys.executable and venv[-1] == str(machine.home / ".venv")
    assert machine.fetched() == ["build.txt", "pylock.test.toml"]
    for command in machine.commands[1:]:
        assert command[:3] == ["/some/uv", "pip", "install"]
        assert command[command.index("--python") + 1] == str(machine.start.python())
    assert {"--no-index", "--editable"} <= set(machine.commands[-1])


def test_with_uv_no_venv_module_is_needed(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(machine.start.importlib.util, "find_spec", lambda name: None)
    machine.programs["uv"] = "/some/uv"
    machine.start.prepare("run")
    assert machine.said("/some/uv", "venv")


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
    assert machine.fetched() == ["build.txt", "pylock.test.toml"]
    assert not machine.said("venv"), "the environment itself is good"


@pytest.mark.parametrize("file", ["lock/pylock.run.toml", "lock/build.txt", "pyproject.toml"])
def test_a_change_of_what_it_is_made_from_brings_it_up_to_date(machine: Machine, file: str) -> None:
    machine.start.prepare("run")
    machine.commands.clear()
    (machine.home / file).write_text("another\n", "utf-8")
    machine.start.prepare("run")
    assert len(machine.fetched()) == 2 and len(machine.said("--editable")) == 1


def test_a_moved_checkout_gets_a_new_environment(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    machine.start.prepare("run")
    shutil.copytree(machine.home / ".venv", machine.home / "moved", symlinks=True)
    monkeypatch.setattr(machine.start, "VENV", machine.home / "moved")
    machine.commands.clear()
    machine.start.prepare("run")
    assert machine.said("venv", "--clear"), "the programs in .venv/ know the place where they were made"
    assert machine.said("--editable")


OF_ANOTHER_VERSION = f'''exec "{sys.executable}" -c "import sys; sys.version_info = (3, 10, 1); exec(sys.argv[1])" "$2"'''


@pytest.mark.parametrize("script", ["exit 1", OF_ANOTHER_VERSION], ids=["broken", "of another version"])
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
    (machine.home / "lock" / "pylock.run.toml").write_text("another\n", "utf-8")
    machine.status = 1
    with pytest.raises(machine.start.CannotError, match="could not be fetched"):
        machine.start.prepare("run")
    machine.status = 0
    machine.commands.clear()
    machine.start.prepare("run")
    assert machine.said("--require-hashes")


@pytest.mark.parametrize("text", ["", "\n", "3", "a\nb\nc\n"])
def test_a_broken_stamp_does_no_harm(machine: Machine, text: str) -> None:
    machine.start.prepare("run")
    (machine.home / ".venv" / "made-from").write_text(text, "utf-8")
    machine.commands.clear()
    machine.start.prepare("run")
    assert len(machine.fetched()) == 2


@pytest.mark.parametrize(
    ("words", "lock"),
    [([], "run"), (["--port", "9000"], "run"), (["test"], "test"), (["test", "tests/lint", "-k", "years"], "test"), (["check"], "test")],
)
def test_the_words_go_on_to_what_is_run_inside(machine: Machine, words: list[str], lock: str) -> None:
    machine.start.main(words)
    assert machine.fetched() == ["build.txt", f"pylock.{lock}.toml"]
    assert machine.commands[-1] == [str(machine.start.python()), str(machine.home / "tools" / "tasks.py"), *words]


def test_without_the_flag_nothing_is_ever_installed_with_apt(machine: Machine) -> None:
    machine.programs["apt-get"] = "/usr/bin/apt-get"
    for words in ([], ["test"], ["check"]):
        machine.start.main(words)
    assert not [command for command in machine.commands if "apt-get" in command]


@pytest.mark.parametrize("words", [["test", "--apt"], ["--apt", "test"], ["check", "--apt"]])
def test_the_flag_installs_what_is_missing_and_is_not_handed_on(machine: Machine, words: list[str]) -> None:
    machine.programs["apt-get"] = "/usr/bin/apt-get"
    machine.installed = "npm installed\nchromium config-files\nlibatomic1 installed\n"
    machine.start.main(words)
    update, install, *_ = machine.commands
    assert update[2:4] == ["apt-get", "update"] and install[2:4] == ["apt-get", "install"]
    assert all(command[1] == "DEBIAN_FRONTEND=noninteractive" for command in (update, install))
    assert "chromium" in install and not {"npm", "libatomic1"} & set(install)
    assert machine.commands[-1][2:] == [word for word in words if word != "--apt"]


def test_the_flag_does_nothing_where_all_is_there(machine: Machine) -> None:
    machine.programs["apt-get"] = "/usr/bin/apt-get"
    machine.installed = "npm installed\nchromium installed\nlibatomic1 installed\n"
    machine.start.main(["test", "--apt"])
    assert not [command for command in machine.commands if "apt-get" in command]


def test_a_program_that_came_another_way_is_left_alone(machine: Machine) -> None:
    """A Node.js that is not Debian's brings its own npm, and Debian's cannot be installed beside it."""
    machine.programs.update({"apt-get": "/usr/bin/apt-get", "npm": "/usr/bin/npm", "libatomic1": "/usr/bin/no-program"})
    machine.start.main(["test", "--apt"])
    install = machine.commands[1]
    assert install[2:4] == ["apt-get", "install"] and install[-2:] == ["chromium", "libatomic1"]


def test_who_cannot_install_is_told_and_goes_on(
    machine: Machine, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    machine.start.prepare("test")
    capfd.readouterr()
    machine.start.main(["test", "--apt"])  # no apt-get
    machine.programs["apt-get"] = "/usr/bin/apt-get"
    monkeypatch.setattr(machine.start.os, "geteuid", lambda: 1000)
    machine.start.main(["test", "--apt"])
    lines = capfd.readouterr().err.splitlines()
    assert len(lines) == 2 and all("root of a Debian" in line for line in lines)
    assert not [command for command in machine.commands if "apt-get" in command]
    assert machine.commands[-1][-1] == "test"


def test_what_fails_is_one_line_and_nothing_is_run(machine: Machine, capfd: pytest.CaptureFixture[str]) -> None:
    machine.status = 1
    assert machine.start.main(["test"]) == 2
    assert "could not be made" in capfd.readouterr().err.splitlines()[-1]
    assert len(machine.commands) == 1


def test_without_venv_one_line_says_what_to_install(
    machine: Machine, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(machine.start.importlib.util, "find_spec", lambda name: None)
    assert machine.start.main([]) == 2
    (line,) = capfd.readouterr().err.splitlines()
    assert "apt-get install python3-venv" in line
    assert machine.commands == []


def test_every_debian_package_is_a_name_with_its_reason(root: Path) -> None:
    lines = [line for line in (root / "tools" / "debian.txt").read_text("utf-8").splitlines() if not line.startswith("#")]
    listed = [line.partition("#")[0].split() for line in lines]
    assert all(len(words) in (1, 2) for words in listed)
    names = [words[0] for words in listed]
    # Debian Policy 5.6.1: what a package may be called.
    assert all(re.fullmatch(r"[a-z0-9][a-z0-9+.-]+", name) for name in names) and len(set(names)) == len(names)
    assert all(line.partition("#")[2].strip() for line in lines)
    assert {"python3-venv", "chromium-headless-shell", "libatomic1", "nodejs", "npm"} <= set(names)


def test_packages_of_the_caller_do_not_leak_in(root: Path, tmp_path: Path) -> None:
    """Really run: a package in the caller's PYTHONPATH that would take the place of one of ours."""
    (tmp_path / "yaml.py").write_text("raise SystemExit('a stranger')", "utf-8")
    program = (
        "import os, runpy, sys; start = runpy.run_path(sys.argv[1]); "
        "os.execve(sys.executable, [sys.executable, '-c', 'import yaml; print(yaml.__name__)'], start['environment']())"
    )
    variables = {**os.environ, "PYTHONPATH": str(tmp_path), "PYTHONHOME": ""}
    ran = subprocess.run(
        [sys.executable, "-c", program, str(root / "tools" / "start.py")], env=variables, capture_output=True, text=True, timeout=60
    )
    assert (ran.returncode, ran.stdout) == (0, "yaml\n"), ran.stderr


def test_help_tells_every_line(root: Path) -> None:
    ran = subprocess.run([sys.executable, str(root / "tools" / "start.py"), "--help"], capture_output=True, text=True, timeout=60)
    assert ran.returncode == 0
    lines = [line.split("  ")[0] for line in ran.stdout.replace("    ", "\n").splitlines()]
    assert {"python3 tools/start.py", "python3 tools/start.py test", "python3 tools/start.py check", "--apt", "--coverage"} <= set(lines)
