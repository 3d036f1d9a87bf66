"""What README and DEVELOPERS say is so."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from rangebook.book.load import load_texts
from rangebook.book.numbers import normalise
from rangebook.cli import COMMANDS, parser
from rangebook.fitting.fitter import Fitter
from rangebook.lint.engine import lint
from rangebook.lint.finding import Severity

DOCUMENTS = ("README.md", "DEVELOPERS.md", "CONTRIBUTING.md", ".github/PULL_REQUEST_TEMPLATE.md", "benchmarks/README.md")


def blocks(root: Path, document: str, language: str) -> list[str]:
    """The fenced blocks of a language in a document, unindented."""
    text = (root / document).read_text("utf-8")
    return [textwrap.dedent(block) for block in re.findall(rf"^ *```{language}\n(.*?)^ *```$", text, re.MULTILINE | re.DOTALL)]


def test_the_two_commands_stand_first_and_are_one_line_each(root: Path) -> None:
    first, second = blocks(root, "README.md", "sh")[:2]
    assert (first, second) == ("python3 tools/start.py\n", "python3 tools/start.py test --apt\n")


def test_both_shells_are_told_the_same(root: Path) -> None:
    """PowerShell runs no `python3`; what is asked of the script is the same, but for what is Debian's."""
    (block,) = blocks(root, "README.md", "powershell")
    asked = [line.removeprefix("py ") for line in block.splitlines()]
    assert asked == [one.strip().removeprefix("python3 ").removesuffix(" --apt") for one in blocks(root, "README.md", "sh")[:2]]
    for document in ("README.md", "CONTRIBUTING.md"):
        assert r".venv\Scripts\rangebook" in (root / document).read_text("utf-8")


def test_ci_runs_the_checks_and_the_very_command_of_the_readme(root: Path) -> None:
    command = blocks(root, "README.md", "sh")[1].strip()
    runs = [line for line in (root / ".ci" / "run").read_text("utf-8").splitlines() if "start.py" in line]
    assert runs == [
        "python3 tools/start.py check --apt < /dev/null || status=$?",
        f"{command} --coverage < /dev/null || status=$?",
    ]
    assert subprocess.run(["bash", "-n", str(root / ".ci" / "run")], timeout=60).returncode == 0


@pytest.mark.parametrize("failing", ["check", "test"])
def test_ci_fails_where_either_fails(root: Path, tmp_path: Path, failing: str) -> None:
    """Really run, with a start script that only says what it was asked."""
    (tmp_path / ".ci").mkdir()
    (tmp_path / "tools").mkdir()
    (tmp_path / ".ci" / "run").write_bytes((root / ".ci" / "run").read_bytes())
    (tmp_path / "tools" / "start.py").write_text(f"import sys; print(*sys.argv[1:]); sys.exit(3 * (sys.argv[1] == {failing!r}))", "utf-8")
    ran = subprocess.run(["bash", str(tmp_path / ".ci" / "run")], capture_output=True, text=True, timeout=60)
    assert ran.returncode == 3
    assert ran.stdout.splitlines() == ["check --apt", "test --apt --coverage"], "one go shows all that is wrong"


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_command_shown_is_one_that_there_is(root: Path, document: str) -> None:
    commands = "|".join(COMMANDS)
    text = "\n".join(blocks(root, document, "sh") + re.findall(r"`[^`\n]+`", (root / document).read_text("utf-8")))
    for shown in re.findall(rf"\brangebook ((?:{commands})\b[^`\n#]*)", text):
        parser().parse_args(shlex.split(shown))


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_path_named_is_there(root: Path, document: str) -> None:
    text = (root / document).read_text("utf-8")
    for path in [*re.findall(r"\]\((?!https?:)([^)#]+)\)", text), *re.findall(r'src="([^"]+)"', text)]:
        assert ((root / document).parent / path).exists(), path
    top = r"tools|tests|schema|entries|benchmarks|site_overrides|\.ci"
    package = "reading|schema|book|electrics|mounting|fitting|lint|site|desk|cli"
    for path in re.findall(rf"`((?:{top}|{package})/[\w./-]*)`", text):
        assert (root / path).exists() or (root / "tools" / "rangebook" / path).exists(), path


def test_the_contributors_page_shows_each_way(root: Path) -> None:
    """Commands there are checked above; here, that those it needs are shown, each as one can type it."""
    lines = [line for block in blocks(root, "CONTRIBUTING.md", "sh") for line in block.splitlines() if "rangebook " in line]
    shown = [parser().parse_args(shlex.split(line, comments=True)[1:]) for line in lines]
    assert {one.command for one in shown} == {"new", "import", "lint", "fit", "impact", "serve"}
    assert all(shlex.split(line)[0] == ".venv/bin/rangebook" for line in lines)
    known = " ".join(path.read_text("utf-8") for path in (root / "entries").rglob("*.md"))
    begun = [one.from_number for one in shown if getattr(one, "from_number", None)]
    assert begun and all(f"number: {number}\n" in known for number in begun)


def test_a_pull_request_is_asked_how_it_was_measured(root: Path) -> None:
    text = (root / ".github" / "PULL_REQUEST_TEMPLATE.md").read_text("utf-8")
    assert re.search(r"^## How it was measured$", text, re.MULTILINE)
    for asked in ("metered", "positions", "source", "status: withdrawn", "rangebook impact", "rangebook lint"):
        assert asked in text


def test_numbers_in_the_readme_are_in_the_book(root: Path) -> None:
    entries = " ".join(path.read_text("utf-8") for path in (root / "entries").rglob("*.md"))
    known = {normalise(number) for number in re.findall(r"number: *[\"']?([^\"',}\n]+)", entries)}
    shown = set(re.findall(r"TB-\d{5}", (root / "README.md").read_text("utf-8")))
    new = set(re.findall(r"number: (TB-\d{5})", (root / "README.md").read_text("utf-8")))
    assert {number for number in shown if normalise(number) not in known} == new
    assert len(new) == 1, "the part that the README adds"


def test_the_part_that_the_readme_adds_lints_and_gets_its_verdicts(root: Path) -> None:
    (part,) = blocks(root, "README.md", "yaml")
    texts = {path.relative_to(root).as_posix(): path.read_bytes() for path in (root / "entries").rglob("*.md")}
    file = "entries/switches/tamblin-lever.md"
    before = lint(load_texts(texts))
    texts[file] = texts[file].replace(b"\nparts:\n", b"\nparts:\n" + textwrap.indent(part, "  ").encode("utf-8"), 1)
    loaded = load_texts(texts)
    new = {(one.rule, one.message) for one in lint(loaded)} - {(one.rule, one.message) for one in before}
    assert not new, "an entry made as the README says is clean"
    number = re.search(r"number: (\S+)", part)
    assert number
    added = loaded.book.part(number.group(1))
    assert added is not None
    fitter = Fitter(loaded.book)
    words = {str(fitter.verdict(seat, added).kind) for seat in fitter.seats if seat.family.id == added.family}
    assert words - {"no"}, "it gets an answer on the family's plugs"


def test_a_part_with_facts_left_out_is_not_an_error(root: Path) -> None:
    """The README says: leave out what you have not seen."""
    texts = {path.relative_to(root).as_posix(): path.read_bytes() for path in (root / "entries").rglob("*.md")}
    file = "entries/switches/tamblin-lever.md"
    texts[file] = texts[file].replace(b"\nparts:\n", b"\nparts:\n  - number: TB-12447\n", 1)
    loaded = load_texts(texts)
    assert [one for one in lint(loaded) if one.severity is Severity.ERROR and "12447" in one.message] == []
    part = loaded.book.part("tb12447")
    assert part is not None
    fitter = Fitter(loaded.book)
    assert {str(fitter.verdict(seat, part).kind) for seat in fitter.seats if seat.family.id == part.family} == {"unknown"}


def test_the_developers_page_runs_one_test_as_it_says(root: Path) -> None:
    lines = [line for block in blocks(root, "DEVELOPERS.md", "sh") for line in block.splitlines() if "start.py test " in line]
    asked = [shlex.split(line, comments=True)[3:] for line in lines]
    # The script's own word is not pytest's.
    chosen = [words for words in asked if words and words != ["--coverage"]]
    assert len(lines) > len(chosen) > 0, "all of them, and some"
    for words in chosen:
        collect = [sys.executable, "-m", "pytest", "--collect-only", *words]
        ran = subprocess.run(collect, cwd=root, capture_output=True, text=True, timeout=120)
        assert ran.returncode == 0, f"{words}: {ran.stdout[-500:]}"
