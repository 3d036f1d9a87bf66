"""What others copy: the hooks for pre-commit and the workflow. Both were run as a whole by hand; here, that they stay in step."""

from __future__ import annotations

import os
import re
import shlex
from pathlib import Path

import pytest
import yaml

from rangebook.cli import parser
from rangebook.desk.beginning.begin import FORGES, first_files

ROOT = Path(__file__).resolve().parents[2]
WORKFLOW = ROOT / ".github" / "workflows" / "rangebook.yml"


def test_the_hooks_run_commands_that_there_are_for_files_that_matter() -> None:
    hooks = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"))
    assert {hook["id"] for hook in hooks} == {"rangebook-lint", "rangebook-fix"}
    for hook in hooks:
        program, *words = shlex.split(hook["entry"])
        assert program == "tools/hook.py" and os.access(ROOT / program, os.X_OK) and parser().parse_args(words).command == "lint"
        assert hook["language"] == "script" and not hook["pass_filenames"], "pre-commit itself would install what is newest, without hashes"
        assert re.search(hook["files"], "entries/switches/tamblin-lever.md") and re.search(hook["files"], "shop/entries/kits/a.md")
        assert not re.search(hook["files"], "README.md")
    assert re.search(hooks[0]["files"], "schema/circuits.json")


@pytest.fixture(scope="module")
def jobs() -> dict[str, dict]:
    return yaml.safe_load(WORKFLOW.read_text("utf-8"))["jobs"]


@pytest.fixture(scope="module")
def steps(jobs: dict[str, dict]) -> list[dict]:
    return jobs["book"]["steps"]


def test_the_workflow_runs_commands_that_there_are(steps: list[dict]) -> None:
    shown = re.findall(r"\.venv/bin/rangebook ([^\n>]+)", "\n".join(step.get("run", "") for step in steps))
    commands = [parser().parse_args(shlex.split(words)).command for words in shown]
    assert commands == ["lint", "impact", "build"]


def test_it_reports_also_where_the_check_fails(steps: list[dict]) -> None:
    names = [step.get("name", "") for step in steps]
    report = next(step for step in steps if "impact" in step.get("run", ""))
    assert "!cancelled()" in report["if"] and steps.index(report) == names.index("Check the book") + 1
    assert "::notice" in report["run"] and "GITHUB_STEP_SUMMARY" in report["run"]


def test_pre_commit_looks_at_a_commit_that_only_deletes() -> None:
    """What pre-commit hands on are files that are there after the commit; without one it runs a hook only if it is told to always (its
    documentation, https://pre-commit.com/#hooks-always_run, from memory)."""
    hooks = {hook["id"]: hook for hook in yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"))}
    assert hooks["rangebook-lint"]["always_run"] is True


def test_it_installs_from_the_lock_with_the_python_that_the_project_asks_for(steps: list[dict]) -> None:
    install = next(step["run"] for step in steps if "--require-hashes" in step.get("run", ""))
    files = re.findall(r"--requirement (\S+)", install)
    assert files == ["tools/lock/build.txt", "tools/lock/pylock.run.toml"] and all((ROOT / file).is_file() for file in files)
    version = next(step["with"]["python-version"] for step in steps if "setup-python" in step.get("uses", ""))
    assert f'requires-python = ">={version}"' in (ROOT / "pyproject.toml").read_text("utf-8")


def test_the_program_passes_what_ci_asks_elsewhere(jobs: dict[str, dict]) -> None:
    program = jobs["program"]
    assert program["container"].startswith("debian:"), "as bare as .ci/run expects"
    assert program["steps"][-1]["run"] == "bash .ci/run"


def test_nothing_from_a_pull_request_is_put_into_a_shell_line(jobs: dict[str, dict]) -> None:
    assert not [step for job in jobs.values() for step in job["steps"] if "${{" in step.get("run", "")]


def test_what_others_wrote_is_taken_by_hash() -> None:
    """A tag can be moved by whoever holds the repository, a commit's hash cannot. That these hashes are those versions was read in other
    projects' workflows, several for each, which write both."""
    ours = [text for forge in FORGES for text in first_files("x", forge=forge).values()]
    uses = [one for text in (WORKFLOW.read_text("utf-8"), *ours) for one in re.findall(r"uses: (.*)", text)]
    assert len(uses) == 7 and [one for one in uses if not re.fullmatch(r"actions/[a-z-]+@[0-9a-f]{40} # v\d+\.\d+\.\d+", one)] == []
