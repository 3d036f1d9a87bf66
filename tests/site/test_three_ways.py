"""A part that is not in the book, from the bench to a change ready to merge, in each of the three ways."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.committing import git
from tests.site import ways
from tests.site.conftest import PHONE, Tab
from tests.site.ways import Hand

from rangebook.book.load import load
from rangebook.book.model import Part
from rangebook.cli import main


@pytest.fixture
def repository(demo_book: Path) -> Path:
    """The demo book, committed on `main`, and a branch to work on."""
    git(demo_book, "init", "-q", "-b", "main")
    git(demo_book, "add", "-A")
    git(demo_book, "commit", "-qm", "the book")
    git(demo_book, "switch", "-qc", "add-a-part")
    return demo_book


def by_form(root: Path, desk: Path, open_tab: Callable[..., Tab], site_url: str) -> None:
    page = open_tab(viewport=PHONE, accept_downloads=True).page
    page.goto(f"{site_url}write/")
    page.locator("[data-write-cols]").wait_for()
    hand = Hand()
    ways.paste(root / "entries/switches" / f"{ways.FAMILY}.md", ways.by_form(page, hand, desk), hand)


def by_new(root: Path, desk: Path, *_: Any) -> None:
    assert main([*ways.by_new(Hand()), "--root", str(root)]) == 0


def by_spreadsheet(root: Path, desk: Path, *_: Any) -> None:
    assert main([*ways.by_spreadsheet(Hand(), desk), "--root", str(root)]) == 0


def said(part: Part) -> tuple:
    return (
        part.connector,
        part.mount,
        part.status,
        dict(part.pins or {}),
        None if part.contacts is None else [((one.a, one.b), one.closed) for one in part.contacts],
        part.sources,
    )


@pytest.mark.parametrize("way", [by_form, by_new, by_spreadsheet])
def test_ready_to_merge(
    repository: Path, tmp_path: Path, open_tab: Callable[..., Tab], site_url: str, capsys: pytest.CaptureFixture, way: Callable[..., None]
) -> None:
    """It lints with nothing that was not there before, the report of the change has the part's answers, and git has one file to commit."""
    main(["lint", "--root", str(repository), "--format", "json"])
    before = [(one["rule"], one["message"]) for one in json.loads(capsys.readouterr().out)]
    way(repository, tmp_path, open_tab, site_url)
    capsys.readouterr()
    assert main(["lint", "--root", str(repository), "--format", "json"]) == 0
    assert [(one["rule"], one["message"]) for one in json.loads(capsys.readouterr().out)] == before

    assert main(["impact", "main", "--root", str(repository), "--format", "json"]) == 0
    report = json.loads(capsys.readouterr().out)
    words = {one["new"]["verdict"] for one in report["verdicts"] if one["number"] == ways.NUMBER and one["new"]["verdict"]}
    part = load(repository).book.part(ways.NUMBER)
    assert part is not None and part.family == ways.FAMILY
    if way is by_spreadsheet:
        assert words == {"unknown"}, "the list does not know what closes inside, and so nobody does"
    else:
        assert words - {"unknown", "no"}, "metered as it is, it gets an answer"
    git(repository, "add", "-A")
    assert git(repository, "diff", "--cached", "--name-only", "main") == f"entries/switches/{ways.FAMILY}.md"


def test_the_ways_say_the_same(
    demo_book: Path, tmp_path: Path, open_tab: Callable[..., Tab], site_url: str, capsys: pytest.CaptureFixture
) -> None:
    entry = demo_book / "entries/switches" / f"{ways.FAMILY}.md"
    untouched, found = entry.read_bytes(), []
    for way in (by_form, by_new, by_spreadsheet):
        way(demo_book, tmp_path, open_tab, site_url)
        part = load(demo_book).book.part(ways.NUMBER)
        assert part is not None
        found.append(said(part))
        entry.write_bytes(untouched)
    form, new, listed = found
    assert form == new
    assert form[4] == [(pins, frozenset(closed)) for pins, closed in ways.CONTACTS]
    assert listed == (*new[:4], None, new[5])
