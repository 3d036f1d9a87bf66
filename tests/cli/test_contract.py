"""The commands as the design fixes them: exit statuses, JSON forms, and what a person reads."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from rangebook.cli import COMMANDS, main

ROOT = Path(__file__).parents[2]


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """A copy of the demo book that may be spoilt."""
    shutil.copytree(ROOT / "entries", tmp_path / "entries")
    return tmp_path


def lint_json(root: Path, capsys: pytest.CaptureFixture) -> tuple[int, list[dict]]:
    status = main(["lint", "--root", str(root), "--format", "json"])
    return status, json.loads(capsys.readouterr().out)


def test_a_clean_book(demo: Path, capsys: pytest.CaptureFixture) -> None:
    assert lint_json(demo, capsys) == (0, [])
    assert main(["lint", "--root", str(demo)]) == 0
    assert "nothing found" in capsys.readouterr().out


PLANTED = [
    ("switches/tamblin-lever.md", "closed: [P, N]", "closed: [P, N, D]", "start-path"),
    ("switches/tamblin-lever.md", "plug: six-wire,", "plug: six-wires,", "unknown-plug"),
    ("switches/tamblin-lever.md", "status: superseded", "status: supreseded", "schema"),
    ("kits/oval-13-renewal.md", "to: wedge-14", "to: oval-21", "unknown-connector"),
    ("connectors/wedge-14.md", "outline: d-shaped", "outline: d-shaped\noutline: d-shaped", "duplicate-key"),
]


@pytest.mark.parametrize(("file", "good", "bad", "rule"), PLANTED, ids=[one[3] for one in PLANTED])
def test_a_planted_defect_is_named_with_file_line_and_rule(
    demo: Path, capsys: pytest.CaptureFixture, file: str, good: str, bad: str, rule: str
) -> None:
    path = demo / "entries" / file
    before = path.read_text("utf-8")
    assert good in before
    path.write_text(before.replace(good, bad, 1), "utf-8")
    line = before[: before.index(good)].count("\n") + 1 + bad.count("\n")
    status, found = lint_json(demo, capsys)
    assert status == 1
    ours = [one for one in found if (one["rule"], one["file"]) == (rule, f"entries/{file}")]
    assert [one["line"] for one in ours] == [line], found
    for one in found:
        assert set(one) == {"rule", "severity", "file", "line", "column", "message", "fix"}
        assert one["severity"] in ("error", "warning", "hint") and one["line"] >= 1 and one["column"] >= 1
    assert main(["lint", "--root", str(demo)]) == 1
    assert f"entries/{file}:{line}:" in capsys.readouterr().out


def test_one_broken_entry_does_not_hide_another(demo: Path, capsys: pytest.CaptureFixture) -> None:
    (demo / "entries/connectors/wedge-14.md").write_bytes(b"---\n\xff\n")
    path = demo / "entries/kits/square-9-to-bayonet-9.md"
    path.write_text(path.read_text("utf-8").replace("kind: kit", "kind: kitt"), "utf-8")
    status, found = lint_json(demo, capsys)
    assert status == 1
    assert {one["file"] for one in found if one["severity"] == "error"} == {
        "entries/connectors/wedge-14.md",
        "entries/kits/square-9-to-bayonet-9.md",
    }


def test_no_book_cannot_run(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    for command in (["lint"], ["fit", "X"], ["look", "X"], ["build"]):
        assert main([*command, "--root", str(tmp_path)]) == 2
    assert "no folder entries/" in capsys.readouterr().err


def test_a_schema_that_is_not_json_cannot_run(demo: Path, capsys: pytest.CaptureFixture) -> None:
    (demo / "schema").mkdir()
    (demo / "schema" / "kit.json").write_text("{")
    assert main(["lint", "--root", str(demo)]) == 2
    assert "kit.json" in capsys.readouterr().err


def test_the_book_of_the_folder_is_found_from_below(demo: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture) -> None:
    monkeypatch.chdir(demo / "entries" / "kits")
    assert main(["lint"]) == 0


def test_fit_as_json_in_any_spelling(capsys: pytest.CaptureFixture) -> None:
    answers = []
    for spelling in ("TB-11527", "tb11527", "tb 11.527", "TB/11527"):
        assert main(["fit", spelling, "--root", str(ROOT), "--json"]) == 0
        answers.append(json.loads(capsys.readouterr().out))
    assert all(one == answers[0] for one in answers) and answers[0]["removed"] == "TB-11527"


def test_fit_with_an_unknown_number(capsys: pytest.CaptureFixture) -> None:
    assert main(["fit", "TB-11528", "--root", str(ROOT)]) == 1
    err = capsys.readouterr().err
    assert "TB-11528 is not in the book" in err and "TB-11527" in err


def test_fit_says_which_entries_are_left_out(demo: Path, capsys: pytest.CaptureFixture) -> None:
    (demo / "entries/kits/oval-13-renewal.md").write_text("---\nkind: kit\n---\n")
    assert main(["fit", "TB-11527", "TB-12415", "--root", str(demo), "--json"]) == 0
    seen = capsys.readouterr()
    assert "oval-13-renewal.md is left out" in seen.err
    verdicts = {one["verdict"] for seat in json.loads(seen.out)["seats"] for one in seat["candidates"]}
    assert verdicts == {"unknown"}, "a kit that cannot be read might lead there"


def test_look(capsys: pytest.CaptureFixture) -> None:
    assert main(["look", "11527", "--root", str(ROOT)]) == 0
    assert "TB-11527" in capsys.readouterr().out
    assert main(["look", "Tamblin", "short", "--root", str(ROOT)]) == 0
    assert capsys.readouterr().out.startswith("gearbox")
    assert main(["look", "TB-99999", "--root", str(ROOT)]) == 1
    assert "nearest numbers" in capsys.readouterr().err


def test_rules_are_listed_and_shown(capsys: pytest.CaptureFixture) -> None:
    assert main(["rules"]) == 0
    assert "start-path" in capsys.readouterr().out
    assert main(["rules", "start-path"]) == 0
    assert "Why it matters" in capsys.readouterr().out
    assert main(["rules", "start-pat"]) == 1
    assert "did you mean start-path" in capsys.readouterr().err


@pytest.mark.parametrize("command", sorted(COMMANDS))
def test_every_command_explains_itself(command: str, capsys: pytest.CaptureFixture) -> None:
    with pytest.raises(SystemExit) as ended:
        main([command, "--help"])
    assert ended.value.code == 0
    out = capsys.readouterr().out
    assert len(out.splitlines()) > 5 and "\x1b[" not in out, "no colour where there is no terminal"
