"""What a branch holds is printed, and acts on nothing that prints it: a terminal, a log, a report, a feed, a spreadsheet."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import unicodedata
from pathlib import Path
from xml.etree import ElementTree

import pytest

from rangebook.lint.examples import base_book
from rangebook.words.shown import cell, shown, shown_json
from tests.attack.test_branches import printed, rangebook
from tests.committing import git

ACTS = "\x1b[2J\x9b1A\u202e\u200b\u2028\x07\x7f\u2066\ufeff"
"""Clears a screen, goes up a line, turns words round, is not seen, ends a line, rings."""

FORGED = "a\n::error title=forged::\nentries/kits/b.md:1:1: no error"
KIT = "entries/kits/oval-9-renewal.md"
FAMILY = "entries/switches/tamblin-gate.md"


def acting(text: str) -> set[str]:
    """What of a text does something to who shows it."""
    return {sign for sign in text if sign != "\n" and unicodedata.category(sign) in ("Cc", "Cf", "Cs", "Zl", "Zp")}


def commit_all(root: Path, subject: str) -> None:
    git(root, "add", "-A")
    git(root, "commit", "-q", "-m", subject)


@pytest.fixture(scope="module")
def branch(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small book in a repository, then a commit with such names, values and subject on top of it."""
    root = tmp_path_factory.mktemp("branch")
    files = base_book()
    for name, text in files.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text, "utf-8")
    git(root, "init", "-q", "-b", "main")
    commit_all(root, "The book")
    written = "".join(f"\\U{ord(sign):08X}" for sign in ACTS)
    (root / KIT).write_text(
        files[KIT].replace("title: ", f'note: "{written} =1+1\\nKIT no {written}"\ntitle: ', 1) + "\u202e<b>\n", "utf-8"
    )
    (root / FAMILY).write_text(files[FAMILY].replace("\npositions:", f'\nmarks: "{written}"\npositions:', 1), "utf-8")
    for name in (f"{ACTS.replace(chr(0x9B), '')}.md", f"{FORGED.replace('/', ' ')}.md"):
        (root / "entries" / "kits" / name).write_text(f'---\nkind: kit\nid: "{written}"\ntitle: "{written}\\nno"\n---\nx\u202ey\n', "utf-8")
    commit_all(root, f"Look\x1b[2J\u202e{ACTS}")
    return root


@pytest.mark.parametrize("form", ["text", "json", "github", "junit", "sarif"])
@pytest.mark.slow
def test_lint_in_every_form(branch: Path, form: str) -> None:
    done = rangebook("lint", "--format", form, root=branch)
    assert done.returncode == 1 and not acting(printed(done))
    lines = done.stdout.split("\n")
    if form == "text":
        assert "\\u{202E}" in done.stdout and not [line for line in lines if line.startswith(("::", "entries/kits/b.md"))]
    if form == "github":
        assert all(line.startswith("::") for line in lines if line) and "::error title=forged" not in lines
    if form == "json":
        assert {one["file"] for one in json.loads(done.stdout)} >= {KIT}
    if form == "junit":
        assert "entries/kits/" in {case.get("name", "")[:13] for case in ElementTree.fromstring(done.stdout).iter("testcase")}


@pytest.mark.parametrize(
    "command",
    [
        ("look", "oval"),
        ("look", ACTS.replace("\x00", "")),
        ("fit", ACTS, "--number", ACTS),
        ("impact", "HEAD~1"),
        ("impact", "HEAD~1", "--format", "markdown"),
        ("impact", "HEAD~1", "--format", "json"),
        ("impact", ACTS),
        ("lint", "--changed-since", "HEAD~1"),
        ("lint", "--fix", "--dry-run"),
        ("build", "--site-dir", "no\x1b[2J\u202e"),
    ],
)
@pytest.mark.slow
def test_commands(branch: Path, command: tuple[str, ...]) -> None:
    done = rangebook(*command, root=branch)
    shown_ones = done.stderr if "--dry-run" in command else printed(done)
    if command[0] == "fit":  # its usage is argparse's own, which repeats what was typed: by the user, not by the branch
        shown_ones = done.stdout
    assert printed(done) and not acting(shown_ones)


def test_the_feed_of_a_site() -> None:
    from rangebook.reading.git import Commit
    from rangebook.site.facts.history import feed

    commits = [Commit("0" * 40, "2026-05-01T10:00:00+00:00", f"Look{ACTS}", ((f"entries/kits/{ACTS}.md", "added"),))]
    text = feed(commits, "Book", "https://book.example")
    assert not acting(text) and "\\u{202E}" in text and ElementTree.fromstring(text) is not None


@pytest.mark.parametrize("words", ["=1+1", "+1", "-1", "@SUM(1)", "\t=1", "\r=1", "\n=1"])
def test_no_cell_is_reckoned_out(words: str) -> None:
    """The signs are those of OWASP's page on CSV injection (from memory)."""
    from rangebook.desk.importing.rows import cleaned

    assert cell(words) == f"'{words}" == cell(cell(words))
    assert cleaned(cell(words)) == cleaned(words), "the side file of an import is taken again"


def test_the_side_file_of_an_import(branch: Path, tmp_path: Path) -> None:
    (tmp_path / "map.yml").write_text("columns:\n  number: Number\n  note: Note\nfamily: tamblin-gate\n", "utf-8")
    (tmp_path / "list.csv").write_text('Number,Note\n=1+1,"@SUM(1)"\n', "utf-8")
    done = rangebook("import", tmp_path / "list.csv", "--map", tmp_path / "map.yml", root=branch)
    assert not acting(printed(done))
    side = tmp_path / "list.not-taken.csv"
    if done.returncode == 1:
        rows = list(csv.reader(io.StringIO(side.read_text("utf-8-sig"))))
        assert not [one for row in rows for one in row if one[:1] in tuple("=+-@\t")], rows


def test_what_is_seen_stays_and_what_is_not_is_written_out() -> None:
    for text in ("plain", "Grün, 4 Ω ±5 %", "日本", "é", "a\u00a0b"):
        assert shown(text) == text
    assert shown("a\nb\t\u202e\udcff") == "a\\u{A}b\\u{9}\\u{202E}\\u{DCFF}" and shown("a\nb\t\x1b", lines=True) == "a\nb\t\\u{1B}"
    data = {f"a{ACTS}": ["\U000e0041\udcff", "ü\n"]}
    assert json.loads(shown_json(data)) == data and not acting(shown_json(data)) and "ü" in shown_json(data)


def test_nothing_is_printed_past_it() -> None:
    """Of every command's module: what it prints that is not fixed text goes through one of these."""
    import ast

    from rangebook import cli

    known = {"shown", "paint", "shown_json"}
    bare = []
    for path in sorted(Path(cli.__file__).parent.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "print":
                names = {one.func.id for one in ast.walk(node) if isinstance(one, ast.Call) and isinstance(one.func, ast.Name)}
                fixed = all(isinstance(one, ast.Constant) for one in node.args)
                if not fixed and not names & known:
                    bare.append(f"{path.name}:{node.lineno}")
    assert not [one for one in bare if not one.startswith("rules.py")], "rules print what the program itself holds"


def test_git_itself_takes_such_a_branch(branch: Path) -> None:
    """What is tried above is what a branch can hold, not what only a disk can."""
    done = subprocess.run(["git", "ls-files", "-z"], cwd=branch, capture_output=True, check=True)
    assert "\u202e" in done.stdout.decode("utf-8") and "\n" in done.stdout.decode("utf-8")
