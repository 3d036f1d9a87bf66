"""Which findings came and which went goes by where they are and of what, never by how they are put into words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from rangebook.book.load import load_texts
from rangebook.lint.engine import lint
from rangebook.lint.finding import Finding
from rangebook.revisions.report import finding_changes
from tests import making

TODAY = date(2026, 6, 1)


def found(*parts: dict) -> list[Finding]:
    family = making.family("f", parts)
    return lint(load_texts(making.texts(making.connector("c", 4), family)), TODAY)


WRONG = {"pins": {"1": "start_feed", "2": "start_out"}, "contacts": [{"pins": ["1", "9"], "closed": ["P"]}]}


def test_what_only_moved_neither_came_nor_went() -> None:
    one, other = making.part("TB-1", **WRONG), making.part("TB-2")
    old, new = found(one, other), found(other, one)
    assert {finding.rule for finding in old} >= {"contact-without-pin"}
    assert finding_changes(old, new) == ([], [])


def test_other_words_are_no_other_finding() -> None:
    old = found(making.part("TB-1", **WRONG))
    assert finding_changes(old, [replace(one, message="auf Deutsch", fix="") for one in old]) == ([], [])


def test_the_same_slip_in_another_part_is_another_finding() -> None:
    ones = {"TB-1": WRONG, "TB-2": {}}, {"TB-1": {}, "TB-2": WRONG}
    old, new = (found(*(making.part(number, **facts) for number, facts in one.items())) for one in ones)
    came, went = finding_changes(old, new)
    assert {one.rule for one in came} == {one.rule for one in went} >= {"contact-without-pin"}
