"""Rules of one's own: a package that is installed brings them along, and they are run, shown and allowed as ours are."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from rangebook.lint.examples import base_book

MODULE = '''
"""A part whose maker's name is in its number.

Checks nothing but that a number does not begin with the letters that the shop keeps for its own bins.

Why it matters: two things on one shelf have one label.

Fails:

    kind: switch
    id: tamblin-gate

Mended:

    kind: switch
    id: tamblin-gate
"""

from rangebook.book.model import Family
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Severity, Told, problem, rule


def check(family, context):
    for part in family.parts:
        if part.number.startswith("TB"):
            yield problem(family, (*part.path, "number"), "bin", number=part.number)


MESSAGES = {"bin": Told("{number} begins as the shop's bins do", "write the maker's own form")}
RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Family, Context, check), messages=MESSAGES)
'''


@pytest.fixture
def book(tmp_path: Path) -> Path:
    for name, text in base_book().items():
        (tmp_path / "book" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "book" / name).write_text(text, "utf-8")
    return tmp_path / "book"


def run(site: Path, *words: str) -> subprocess.CompletedProcess[str]:
    path = os.pathsep.join(filter(None, (str(site), os.environ.get("PYTHONPATH", ""))))
    return subprocess.run(
        [sys.executable, "-m", "rangebook", *words], env={**os.environ, "PYTHONPATH": path}, capture_output=True, text=True, timeout=120
    )


def install(site: Path, name: str, source: str) -> None:
    """As an installer leaves a package behind. Source: PyPA, Recording installed projects, from memory."""
    site.mkdir(exist_ok=True)
    (site / f"{name}.py").write_text(source, "utf-8")
    about = site / "hill_road-1.0.dist-info"
    about.mkdir(exist_ok=True)
    (about / "METADATA").write_text("Metadata-Version: 2.1\nName: hill-road\nVersion: 1.0\n", "utf-8")
    (about / "entry_points.txt").write_text(f"[rangebook.rules]\n{name} = {name}\n", "utf-8")


def test_a_rule_of_ones_own_finds_is_shown_and_can_be_allowed(tmp_path: Path, book: Path) -> None:
    site = tmp_path / "site"
    assert "our-bins" not in run(site, "lint", "--root", str(book)).stdout
    install(site, "our_bins", MODULE)
    found = run(site, "lint", "--root", str(book))
    assert found.returncode == 0 and "our-bins" in found.stdout and "begins as the shop's bins do" in found.stdout
    assert "A part whose maker" in run(site, "rules", "our-bins").stdout
    (entry,) = (book / "entries" / "switches").glob("*.md")
    text = entry.read_text("utf-8")
    lines = "".join(
        f"  - {{rule: our-bins, at: parts.{number}.number, reason: it is the maker's own form}}\n" for number in ("TB-20417", "TB-20455")
    )
    entry.write_text(text.replace("\n---\n", f"\nallow:\n{lines}---\n", 1), "utf-8")
    allowed = run(site, "lint", "--root", str(book))
    assert "our-bins" not in allowed.stdout, allowed.stdout + allowed.stderr


@pytest.mark.parametrize(
    ("name", "source", "says"),
    [
        ("our_bins", "raise ValueError('not today')", "hill-road (our_bins) cannot be used as a rule: ValueError: not today"),
        ("our_bins", "", "cannot be used as a rule: AttributeError"),
        ("our_bins", "RULE = 1", "its RULE is none"),
        ("twin_families", MODULE, "brings a rule twin-families along"),
    ],
)
def test_one_that_cannot_be_used_is_told_in_a_sentence(tmp_path: Path, book: Path, name: str, source: str, says: str) -> None:
    install(tmp_path / "site", name, source)
    found = run(tmp_path / "site", "lint", "--root", str(book))
    assert (found.returncode, found.stdout) == (2, "")
    assert says in found.stderr and "Traceback" not in found.stderr
