"""What others copy for their own machines: the hooks of a bare repository are run by a push; of GitLab's and Forgejo's files every line
that calls the program, in a shell as theirs is."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml
from tests.committing import git

from rangebook.lint.examples import base_book

ROOT = Path(__file__).resolve().parents[2]
CI = ROOT / "tools" / "ci"
FAMILY = "entries/switches/tamblin-gate.md"


def program(folder: Path) -> Path:
    """The command as a file of its own."""
    path = folder / "rangebook"
    path.write_text(f'#!/bin/sh\nPYTHONPATH="{ROOT / "tools"}" exec "{sys.executable}" -m rangebook "$@"\n', "utf-8")
    path.chmod(0o755)
    return path


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The linter's example book, committed."""
    for name, text in base_book().items():
        (tmp_path / "book" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "book" / name).write_text(text, "utf-8")
    git(tmp_path / "book", "init", "-q", "-b", "main")
    git(tmp_path / "book", "add", "-A")
    git(tmp_path / "book", "commit", "-qm", "one")
    return tmp_path / "book"


def edit(book: Path, old: str, new: str) -> None:
    text = (book / FAMILY).read_text("utf-8")
    assert old in text
    (book / FAMILY).write_text(text.replace(old, new, 1), "utf-8")
    git(book, "commit", "-qam", f"{old} -> {new}")


def push(book: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    return subprocess.run(
        ("git", "push", "-q", "origin", "main"), cwd=book, env={**kept, **environment}, capture_output=True, text=True, check=False
    )


def test_a_bare_repository_refuses_what_the_linter_refuses_and_tells_of_the_answers(book: Path, tmp_path: Path) -> None:
    bare = tmp_path / "bare.git"
    git(tmp_path, "init", "-q", "--bare", "-b", "main", str(bare))
    for name in ("pre-receive", "post-receive"):
        shutil.copy(CI / name, bare / "hooks" / name)
    git(book, "remote", "add", "origin", str(bare))
    words = {"RANGEBOOK": str(program(tmp_path)), "RANGEBOOK_SITE": str(tmp_path / "site")}
    # Building takes long and is tried elsewhere: only that it is asked to.
    post = bare / "hooks" / "post-receive"
    post.write_text(post.read_text("utf-8").replace('"$rangebook" build', "echo built"), "utf-8")
    first = push(book, **words)
    assert first.returncode == 0 and "built --root" in first.stderr
    edit(book, "torque_nm: ", "torque_nm: 1")
    told = push(book, **words)
    assert told.returncode == 0 and "Look at these first: safety" in told.stderr and "torque_nm" in told.stderr
    (report,) = (tmp_path / "site.reports").glob("*.md")
    assert "torque" in report.read_text("utf-8")
    edit(book, "closed: [P, N]", "closed: [P, N, D]")
    refused = push(book, **words)
    assert refused.returncode != 0 and "start-path" in refused.stderr
    assert "Look at these first: safety" in refused.stderr, "it reports also where it refuses"


def lines(name: str) -> list[str]:
    """Each line of a template that calls the program."""
    text = (CI / name).read_text("utf-8")
    yaml.safe_load(text)
    return [line.strip().removeprefix("- ").removeprefix("run: ") for line in text.splitlines() if ".venv/bin/rangebook" in line]


@pytest.mark.parametrize("name", ["gitlab-ci.yml", "forgejo.yml"])
def test_every_line_of_a_template_runs(book: Path, tmp_path: Path, name: str) -> None:
    base = git(book, "rev-parse", "HEAD")
    edit(book, "closed: [P, N]", "closed: [P, N, D]")
    (book / ".venv/bin").mkdir(parents=True)
    program(book / ".venv/bin")
    found = lines(name)
    assert [re.search(r"rangebook (\w+)", line).group(1) for line in found if "impact" in line] == ["impact", "impact"]
    for line in found:
        if " build " in line:
            continue
        words = {**os.environ, "BASE": base, "CI_MERGE_REQUEST_DIFF_BASE_SHA": base}
        ran = subprocess.run(("sh", "-c", line), cwd=book, env=words, capture_output=True, text=True, check=False)
        assert ran.returncode == (1 if line.endswith("lint") else 0), ran.stderr
    assert "Look at these first: safety" in (book / "report.md").read_text("utf-8")
