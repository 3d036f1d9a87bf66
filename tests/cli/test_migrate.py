"""``rangebook migrate``: entries of the first version of the format in the second, and every answer as before."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from rangebook.book.load import load, load_texts
from rangebook.cli import main
from rangebook.fitting.fitter import Fitter
from rangebook.lint.engine import lint
from rangebook.lint.migrating import migrate
from rangebook.lint.plan import FixedFile

ROOT = Path(__file__).parents[2]

ENTRY = """---
kind: switch
id: tamblin-lever
title: Tamblin lever switch # as people say
positions: [P, R, N, D]
parts:
  - number: TB-20417
    superseded_by: [{{number: TB-20455, needs: {needs}}}]
  - number: TB-20455
applications:
{vehicles}---

Built from 2009, to: nobody knows.
"""


def brought_over(vehicles: str, needs: str = "[]") -> str:
    file, text = "entries/switches/tamblin-lever.md", ENTRY.format(vehicles=vehicles, needs=needs)
    found = migrate(file, text.encode())
    assert found is None or isinstance(found, FixedFile), found
    after = text if found is None else found.after.decode()
    before, now = (load_texts({file: one.encode()}).book for one in (text, after))
    assert not now.lost and [one.built for family in now.families.values() for one in family.applications] == [
        one.built for family in before.families.values() for one in family.applications
    ]
    assert migrate(file, after.encode()) is None, "once is enough"
    return after


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("  - {vehicle: A, from: 2009-05, gearbox: B}\n", "  - {vehicle: A, when: {built: {from: 2009-05}}, gearbox: B}\n"),
        ("  - {vehicle: A, to: 2009-05}\n", "  - {vehicle: A, when: {built: {to: 2009-05}}}\n"),
        ("  - {vehicle: A, from: 2008, to: 2009-05, note: b}\n", "  - {vehicle: A, when: {built: {from: 2008, to: 2009-05}}, note: b}\n"),
        ("  - {vehicle: A, to: 2009-05, note: b, from: 2008}\n", "  - {vehicle: A, when: {built: {from: 2008, to: 2009-05}}, note: b}\n"),
        ("  - {vehicle: A, from: '2008', when: {steering: left}}\n", "  - {vehicle: A, when: {built: {from: '2008'}, steering: left}}\n"),
        (
            "  - vehicle: A\n    from: 2008 # by the plate\n    to: 2009\n    note: b\n",
            "  - vehicle: A\n    when: {built: {from: 2008, to: 2009}} # by the plate\n    note: b\n",
        ),
        (
            "  - vehicle: A\n    from: 2008\n    when:\n      steering: left\n",
            "  - vehicle: A\n    when:\n      built: {from: 2008}\n      steering: left\n",
        ),
        ("  - {vehicle: A, from: 2008, when: {built: {to: 2009}}}\n", "  - {vehicle: A, from: 2008, when: {built: {to: 2009}}}\n"),
        ("  - {vehicle: A, years: 2008}\n", "  - {vehicle: A, years: 2008}\n"),
    ],
)
def test_months_of_building(before: str, after: str) -> None:
    assert brought_over(before) == ENTRY.format(vehicles=after, needs="[]")


def test_kits_that_are_named_alone() -> None:
    vehicles = "  - {vehicle: A}\n"
    assert brought_over(vehicles, "[oval-9, {kit: oval-13}]") == ENTRY.format(vehicles=vehicles, needs="[{kit: oval-9}, {kit: oval-13}]")


@pytest.mark.slow
def test_the_demo_book_says_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing is written before it is asked for; then every verdict and every finding is as it was."""
    shutil.copytree(ROOT / "entries", tmp_path / "entries")
    texts = {path: path.read_bytes() for path in sorted(tmp_path.rglob("*.md"))}
    root = ["--root", str(tmp_path)]
    assert main(["migrate", *root]) == 0 and "when: {built:" in capsys.readouterr().out
    assert main(["migrate", "--check", *root]) == 1 and "entries/switches/tamblin-lever.md" in capsys.readouterr().out
    assert {path: path.read_bytes() for path in texts} == texts
    before = load(tmp_path)
    assert main(["migrate", "--write", *root]) == 0
    assert main(["migrate", "--check", *root]) == 0
    after = load(tmp_path)
    assert lint(after) == lint(before) == []
    old, new = Fitter(before.book), Fitter(after.book)
    assert [seat.key for seat in old.seats] == [seat.key for seat in new.seats]
    for one, other in zip(old.seats, new.seats, strict=True):
        was, now = (
            [(two.part.number, two.kind, two.checked) for two in fitter.candidates(seat)] for fitter, seat in ((old, one), (new, other))
        )
        assert was == now
