"""What a new book gets for its forge: the hooks of a bare repository are run by a push; of a workflow every line that calls the program,
in a shell as theirs is."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
import yaml
from tests.committing import git

from rangebook.desk.beginning.begin import FORGES, first_files
from rangebook.lint.examples import base_book

ROOT = Path(__file__).resolve().parents[2]
WORKFLOWS = sorted({*FORGES} - {"bare"})
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
        hook = bare / "hooks" / name
        hook.write_text(first_files("x", forge="bare")[f"hooks/{name}"], "utf-8")
        hook.chmod(0o755)
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


def workflow(forge: str) -> str:
    """What a book gets for a forge beside what it gets without."""
    with_it = first_files("x", forge=forge)
    (name,) = with_it.keys() - first_files("x").keys()
    return with_it[name]


@pytest.mark.parametrize("forge", WORKFLOWS)
def test_every_line_of_a_workflow_runs(book: Path, tmp_path: Path, forge: str) -> None:
    base = git(book, "rev-parse", "HEAD")
    edit(book, "closed: [P, N]", "closed: [P, N, D]")
    text = workflow(forge)
    yaml.safe_load(text)
    found = [
        line.strip().removeprefix("- ").removeprefix("run: ") for line in text.splitlines() if re.search(r"rangebook [a-z]+ ?[-\"]?", line)
    ]
    found = [line for line in found if line.startswith("rangebook ")]
    assert {line.split()[1] for line in found} == {"lint", "impact", "build"}
    program(tmp_path)
    said = ""
    for line in found:
        if " build " in line:
            continue
        words = {**os.environ, "BASE": base, "CI_MERGE_REQUEST_DIFF_BASE_SHA": base, "PATH": f"{tmp_path}:{os.environ['PATH']}"}
        ran = subprocess.run(("sh", "-c", line), cwd=book, env=words, capture_output=True, text=True, check=False)
        assert ran.returncode == (1 if line.startswith("rangebook lint") and "||" not in line else 0), ran.stderr
        said += ran.stdout
    report = book / "report.md"
    assert "Look at these first: safety" in said + (report.read_text("utf-8") if report.exists() else "")


@pytest.mark.parametrize("forge", ["forgejo", "github"])
def test_the_answers_are_told_also_where_the_check_fails(forge: str) -> None:
    (steps,) = [job["steps"] for job in yaml.safe_load(workflow(forge))["jobs"].values()]
    (told,) = [step for step in steps if "rangebook impact" in step.get("run", "")]
    assert "!cancelled()" in told["if"] and steps.index(told) > next(
        at for at, step in enumerate(steps) if "rangebook lint" in step.get("run", "")
    )
