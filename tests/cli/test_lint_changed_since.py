"""``rangebook lint --changed-since REF``: what the branch touched, what that breaks elsewhere, and nothing else."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.committing import git

from rangebook.cli import main

ROOT = Path(__file__).parents[2]
FAMILY, KIT, CONNECTOR = "entries/switches/tamblin-lever.md", "entries/kits/oval-13-renewal.md", "entries/connectors/oval-13.md"


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """A copy of the demo book in a repository: on `main` it has one warning; the branch `work` is checked out."""
    shutil.copytree(ROOT / "entries", tmp_path / "entries")
    spoil(tmp_path, FAMILY, "colour: BUOG", "colour: BUXX")
    git(tmp_path, "init", "-q", "-b", "main")
    git(tmp_path, "add", "entries")
    git(tmp_path, "commit", "-qm", "the book")
    git(tmp_path, "checkout", "-qb", "work")
    return tmp_path


def spoil(folder: Path, file: str, good: str, bad: str) -> None:
    text = (folder / file).read_text("utf-8")
    assert good in text
    (folder / file).write_text(text.replace(good, bad, 1), "utf-8")


@pytest.fixture
def rules(demo: Path, capsys: pytest.CaptureFixture) -> Callable[..., tuple[int, set[tuple[str, str]]]]:
    """Exit status, and rule and file of each finding."""

    def run(ref: str = "main", *words: str) -> tuple[int, set[tuple[str, str]]]:
        status = main(["lint", "--root", str(demo), "--changed-since", ref, "--format", "json", *words])
        return status, {(one["rule"], one["file"]) for one in json.loads(capsys.readouterr().out)}

    return run


def test_what_was_there_before_is_not_told(demo: Path, rules) -> None:
    assert rules() == (0, set())
    assert main(["lint", "--root", str(demo)]) == 0


def test_all_of_a_touched_file_is_told_committed_or_not(demo: Path, rules) -> None:
    spoil(demo, FAMILY, "torque_nm: 11", "torque_nm: 12")
    assert rules() == (0, {("wire-colour", FAMILY)})
    git(demo, "commit", "-qam", "torque")
    assert rules() == (0, {("wire-colour", FAMILY)})


def test_what_breaks_elsewhere_is_told(demo: Path, rules) -> None:
    (demo / CONNECTOR).unlink()
    status, found = rules()
    assert status == 1 and ("unknown-connector", FAMILY) in found and ("unknown-connector", KIT) in found
    assert ("wire-colour", FAMILY) not in found


def test_a_new_file_is_looked_at_and_one_that_only_moved_its_lines_elsewhere_is_not(demo: Path, rules) -> None:
    text = (demo / KIT).read_text("utf-8")
    (demo / "entries/kits/second.md").write_text(text.replace("id: oval-13-renewal", "id: second"), "utf-8")
    assert rules() == (1, {("duplicate-number", "entries/kits/second.md")})
    git(demo, "add", ".")
    git(demo, "commit", "-qm", "twice the same number")
    spoil(demo, KIT, "title:", "# a line more\ntitle:")  # the finding in the other file names a line of this one
    assert rules("work") == (0, set())


def test_what_the_other_branch_did_meanwhile_is_not_this_ones_doing(demo: Path, rules) -> None:
    git(demo, "checkout", "-q", "main")
    spoil(demo, KIT, "blanks: 2", "blanks: 3")
    git(demo, "commit", "-qam", "elsewhere")
    git(demo, "checkout", "-q", "work")
    spoil(demo, KIT, "seals: [4, 6, 9]", "seals: [4, 6, 9, 9]")
    git(demo, "commit", "-qam", "here")
    assert rules() == (1, {("kit-seals", KIT)})


def test_a_circuit_taken_from_the_list_breaks_what_has_it(demo: Path, rules) -> None:
    shutil.copytree(ROOT / "schema", demo / "schema")
    git(demo, "add", ".")
    git(demo, "commit", "-qm", "own schema")
    assert rules("work") == (0, set())
    spoil(demo, "schema/circuits.json", '"park_signal"', '"park_sign"')
    status, found = rules("work")
    assert status == 1 and ("unknown-circuit", FAMILY) in found and ("wire-colour", FAMILY) not in found


def test_only_what_was_touched_is_mended(demo: Path, rules) -> None:
    for file in (FAMILY, KIT):
        spoil(demo, file, "sources:\n", "sources: \n")
    git(demo, "commit", "-qam", "spaces")
    spoil(demo, FAMILY, "torque_nm: 11", "torque_nm: 11 ")
    assert rules("work", "--fix") == (0, {("wire-colour", FAMILY)})
    assert b" \n" not in (demo / FAMILY).read_bytes() and b" \n" in (demo / KIT).read_bytes()


@pytest.mark.parametrize(("ref", "said"), [("nowhere", "no commit `nowhere`"), ("--all", "no commit `--all`")])
def test_a_name_that_is_no_commit(demo: Path, capsys: pytest.CaptureFixture, ref: str, said: str) -> None:
    assert main(["lint", "--root", str(demo), f"--changed-since={ref}"]) == 2
    assert said in capsys.readouterr().err


def test_branches_without_a_common_commit(demo: Path, capsys: pytest.CaptureFixture) -> None:
    git(demo, "checkout", "-q", "--orphan", "alone")
    git(demo, "commit", "-qm", "alone")
    assert main(["lint", "--root", str(demo), "--changed-since", "main"]) == 2
    assert "no commit in common" in capsys.readouterr().err


def test_no_repository(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    shutil.copytree(ROOT / "entries", tmp_path / "entries")
    assert main(["lint", "--root", str(tmp_path), "--changed-since", "main"]) == 2
    assert "not in a git repository" in capsys.readouterr().err


def test_a_published_number_that_is_gone_is_told(demo: Path, rules, capsys: pytest.CaptureFixture) -> None:
    spoil(demo, KIT, "number: TW-9018", "number: TW-9019")
    status, found = rules()
    assert ("number-gone", KIT) in found
    assert main(["lint", "--root", str(demo), "--changed-since", "main"]) == status
    assert "TW-9018 was in the book and is gone" in capsys.readouterr().out
    spoil(demo, KIT, "number: TW-9019", "number: tw 9018")
    assert ("number-gone", KIT) not in rules()[1], "another spelling is the same number"


def test_a_number_in_an_entry_that_cannot_be_read_is_not_called_gone(demo: Path, rules) -> None:
    spoil(demo, KIT, "kind: kit", "kind: [kit")
    assert "number-gone" not in {rule for rule, _ in rules()[1]}


@pytest.mark.parametrize("form", ["text", "json", "sarif", "github", "junit"])
def test_every_report_can_tell_of_it(demo: Path, capsys: pytest.CaptureFixture, form: str) -> None:
    (demo / KIT).unlink()
    main(["lint", "--root", str(demo), "--changed-since", "main", "--format", form])
    assert "number-gone" in capsys.readouterr().out
