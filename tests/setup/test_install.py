"""``pip install .`` gives a ``rangebook`` command that works where there is no checkout."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]

PIP = [sys.executable, "-m", "pip", "--disable-pip-version-check", "--no-input", "--quiet"]


@pytest.fixture(scope="module")
def wheel(root: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The project as a wheel, built without network."""
    folder = tmp_path_factory.mktemp("wheel")
    built = subprocess.run(
        [*PIP, "wheel", "--no-deps", "--no-index", "--no-build-isolation", "--wheel-dir", str(folder), str(root)],
        capture_output=True,
        text=True,
        timeout=300,
    )
    assert built.returncode == 0, built.stderr
    (file,) = folder.glob("rangebook-*.whl")
    return file


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel installed into a folder of its own."""
    folder = tmp_path_factory.mktemp("installed")
    done = subprocess.run(
        [*PIP, "install", "--no-deps", "--no-index", "--target", str(folder), str(wheel)], capture_output=True, text=True, timeout=300
    )
    assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture
def book(root: Path, tmp_path: Path) -> Path:
    """A book of a shop's own: entries, and nothing else of this checkout."""
    shutil.copytree(root / "entries", tmp_path / "shop" / "entries")
    return tmp_path / "shop"


@pytest.fixture
def run(installed: Path, tmp_path: Path) -> Run:
    """Run the installed command, standing in a folder that has nothing to do with the checkout."""
    variables = {**os.environ, "PYTHONPATH": str(installed)}

    def command(*words: object, program: list[str] | None = None) -> subprocess.CompletedProcess[str]:
        line = [*(program or [sys.executable, str(installed / "bin" / "rangebook")]), *map(str, words)]
        return subprocess.run(line, cwd=tmp_path, env=variables, capture_output=True, text=True, timeout=300)

    return command


def test_what_is_imported_is_what_was_installed(run: Run, installed: Path) -> None:
    """Guards the tests below: they would prove nothing with the checkout's own code."""
    program = "import rangebook; from rangebook.schema.store import shipped; print(rangebook.__file__); print(shipped('schema'))"
    ran = run(program=[sys.executable, "-c", program])
    assert ran.stdout.splitlines() == [
        str(installed / "rangebook" / "__init__.py"),
        str(installed / "rangebook" / "_shipped" / "schema"),
    ], ran.stderr


def test_all_that_the_command_needs_travels_with_it(wheel: Path, root: Path) -> None:
    inside = set(zipfile.ZipFile(wheel).namelist())
    beside = [file for name in ("schema", "site_overrides") for file in (root / name).rglob("*") if file.is_file()]
    for file in [*beside, root / "mkdocs.yml"]:
        assert f"rangebook/_shipped/{file.relative_to(root).as_posix()}" in inside
    package = root / "tools"
    for file in (package / "rangebook").rglob("*"):
        if file.is_file() and file.suffix != ".pyc":
            assert file.relative_to(package).as_posix() in inside


def test_lint_reads_a_book_that_has_no_schema_of_its_own(run: Run, book: Path) -> None:
    ran = run("lint", "--format", "json", "--root", book)
    assert [one for one in json.loads(ran.stdout) if one["severity"] == "error"] == [], ran.stderr
    assert ran.returncode == 0


def test_lint_finds_a_planted_error(run: Run, book: Path) -> None:
    entry = next((book / "entries" / "switches").glob("*.md"))
    entry.write_text(entry.read_text("utf-8").replace("kind: switch", "kind: swich", 1), "utf-8")
    ran = run("lint", "--format", "json", "--root", book)
    assert ran.returncode == 1
    assert [one["rule"] for one in json.loads(ran.stdout) if one["file"].endswith(entry.name)] == ["schema"]


def test_rules_are_listed_and_a_book_is_looked_for(run: Run) -> None:
    assert "duplicate-key" in run("rules").stdout
    ran = run("lint")
    assert ran.returncode == 2 and "entries/" in ran.stderr


def test_the_site_is_built_from_what_was_installed(run: Run, book: Path) -> None:
    ran = run("build", "--root", book, "--site-dir", book / "out")
    assert ran.returncode == 0, ran.stderr
    assert (book / "out" / "index.html").is_file()
