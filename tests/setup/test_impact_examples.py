"""The handbook's examples of impact are what `rangebook impact` says: each change shown is made, and its report held against the page."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tests.committing import git

from rangebook.cli import main
from rangebook.lint.examples import base_book

PAGE = Path("tools") / "rangebook" / "site" / "handbook" / "impact.md"
COMMIT = "0123456789"
"""How the page writes the commit's short id."""


def examples(root: Path) -> list[tuple[str, str]]:
    """Each change as a patch, and the report of it."""
    text = (root / PAGE).read_text("utf-8")
    patches = re.findall(r"^```diff\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)
    reports = re.findall(r"^````markdown\n(.*?)^````$", text, re.MULTILINE | re.DOTALL)
    return list(zip(patches, reports, strict=True))


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The linter's example book, committed."""
    for name, text in base_book().items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    git(tmp_path, "init", "-q", "-b", "main")
    git(tmp_path, "add", "-A")
    git(tmp_path, "commit", "-qm", "one")
    return tmp_path


@pytest.mark.parametrize("at", [0, 1, 2], ids=["harmless", "new part", "unsafe"])
def test_the_report_shown_is_the_one_that_is_made(root: Path, book: Path, capsys: pytest.CaptureFixture, at: int) -> None:
    patch, shown = examples(root)[at]
    git(book, "apply", "--unidiff-zero", "-", given=patch)
    assert main(["impact", "main", "--root", str(book), "--format", "markdown"]) == 0
    said = capsys.readouterr().out.replace(git(book, "rev-parse", "HEAD")[: len(COMMIT)], COMMIT)
    assert shown.strip() == said.strip()


def test_the_three_are_what_the_page_says_they_are(root: Path) -> None:
    harmless, new, unsafe = (report for _, report in examples(root))
    assert "0 verdicts" in harmless and ":warning:" not in harmless
    assert "not in the book → **fits with other parts" in new and "0 findings more" in new
    assert "fits with other parts" in unsafe and "→ **does not fit**" in unsafe and "the starter could turn in gear" in unsafe


def test_the_workflow_makes_the_same_report(root: Path) -> None:
    workflow = (root / ".github" / "workflows" / "rangebook.yml").read_text("utf-8")
    assert re.search(r'rangebook impact "\$BASE" --format markdown', workflow)
