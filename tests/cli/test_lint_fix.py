"""``rangebook lint --fix``: what is written, what is said, and when nothing is."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from rangebook.cli import main

ROOT = Path(__file__).parents[2]
KIT = "entries/kits/oval-13-renewal.md"


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """A copy of the demo book that may be spoilt."""
    shutil.copytree(ROOT / "entries", tmp_path / "entries")
    return tmp_path


def spoil(demo: Path, *pairs: tuple[str, str], file: str = KIT) -> bytes:
    path = demo / file
    text = path.read_text("utf-8")
    for good, bad in pairs:
        assert good in text
        text = text.replace(good, bad, 1)
    path.write_text(text, "utf-8")
    return path.read_bytes()


MENDABLE = [("from: oval-13\n", "from: Oval-13 \n"), ("on: 2023-06-27", "on: 2023/6/27"), ("to: wedge-14", 'to: "wedge-14"')]


def test_the_demo_book_needs_nothing(demo: Path, capsys: pytest.CaptureFixture) -> None:
    before = {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in demo.rglob("*.md")}
    assert main(["lint", "--fix", "--root", str(demo)]) == 0
    assert capsys.readouterr() == (f"{len(before)} entries: nothing found\n", "nothing to mend\n")
    assert {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in demo.rglob("*.md")} == before


def test_it_mends_in_place_and_says_what(demo: Path, capsys: pytest.CaptureFixture) -> None:
    good = (demo / KIT).read_bytes()
    spoil(demo, *MENDABLE)
    assert main(["lint", "--fix", "--root", str(demo), "--format", "json"]) == 0
    said = capsys.readouterr()
    assert json.loads(said.out) == [] and (demo / KIT).read_bytes() == good
    assert f"{KIT}:6:7: mended: `Oval-13` is written `oval-13` [normal-form]" in said.err and "1 file mended" in said.err


def test_a_dry_run_writes_nothing_and_shows_a_patch(demo: Path, capsys: pytest.CaptureFixture) -> None:
    bad = spoil(demo, *MENDABLE)
    assert main(["lint", "--fix", "--dry-run", "--root", str(demo)]) == 1
    said = capsys.readouterr()
    assert (demo / KIT).read_bytes() == bad
    assert said.out.startswith(f"--- a/{KIT}\n+++ b/{KIT}\n") and "-from: Oval-13 \n" in said.out and "\n+from: oval-13\n" in said.out
    assert "1 file would be mended" in said.err


def test_what_cannot_be_mended_is_reported_and_the_rest_is_mended(demo: Path, capsys: pytest.CaptureFixture) -> None:
    spoil(demo, ("seals: [4, 6, 9]", "seals: [4, 6, 9, 9] "))
    assert main(["lint", "--fix", "--root", str(demo), "--format", "json"]) == 1
    assert [one["rule"] for one in json.loads(capsys.readouterr().out)] == ["kit-seals"]
    assert "seals: [4, 6, 9, 9]\n" in (demo / KIT).read_text("utf-8")


def test_what_would_bring_up_more_is_said_and_not_written(demo: Path, capsys: pytest.CaptureFixture) -> None:
    bad = spoil(demo, ("from: oval-13\n", "from: Oval-13\n"), ("seals: [4, 6, 9]", "seals: [6, 6, 6]"))
    assert main(["lint", "--fix", "--root", str(demo), "--format", "json"]) == 1
    said = capsys.readouterr()
    assert (demo / KIT).read_bytes() == bad and [one["rule"] for one in json.loads(said.out)] == ["schema"]
    assert f"{KIT}: `Oval-13` is written `oval-13`: not mended, for then the linter would say at {KIT}:9:" in said.err


def test_a_file_that_cannot_be_written_is_an_exit_status_of_its_own(
    demo: Path, capsys: pytest.CaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    bad = spoil(demo, *MENDABLE)
    monkeypatch.setattr("os.access", lambda path, mode: False)
    assert main(["lint", "--fix", "--root", str(demo)]) == 2
    assert "write-protected" in capsys.readouterr().err and (demo / KIT).read_bytes() == bad


def test_a_dry_run_of_nothing(demo: Path, capsys: pytest.CaptureFixture) -> None:
    assert main(["lint", "--dry-run", "--root", str(demo)]) == 2
    assert "--fix" in capsys.readouterr().err
