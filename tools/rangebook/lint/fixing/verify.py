"""Whether an entry says the same after a fix as before, but for what the fix says that it changes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from rangebook.lint.fixing.edits import Change, Fix, apply
from rangebook.lint.fixing.page import Page
from rangebook.reading.entry import Entry
from rangebook.reading.finding import Problem
from rangebook.reading.located import plain
from rangebook.reading.strict_yaml import TAB

MOST = 50
"""Where not all can be made together only so many are tried one by one, fewer in a long entry: each trial reads it."""


def verified(page: Page, fixes: Sequence[Fix]) -> list[Fix]:
    """Those of the fixes of one fixer that can be made together. Each is tried by reading the text with it made."""
    if not fixes or _holds(page, fixes):
        return list(fixes)
    tries = min(len(fixes), max(2, MOST // (1 + len(page.text) // 10_000)))
    alone = [fix for fix in fixes[:tries] if _holds(page, [fix])]
    while len(alone) > 1 and not _holds(page, alone):
        alone = alone[: len(alone) // 2]
    return alone


def fixed(page: Page, fixes: Sequence[Fix]) -> Page:
    """The page with fixes made."""
    return page.with_text(apply(page.text, [edit for fix in fixes for edit in fix.edits]))


def _holds(page: Page, fixes: Sequence[Fix]) -> bool:
    try:
        after = fixed(page, fixes).entry
    except ValueError:
        return False
    before = _as_meant(page)
    if _prose(before) != _prose(after):
        return False
    if before.front is None:
        # Nothing can be compared; it must at least be no worse, and what is put into quotes must be words in the end.
        return after.front is not None or [_said(one) for one in before.problems] == [_said(one) for one in after.problems]
    if [one for one in after.problems if one not in before.problems and one.code != TAB]:
        return False
    if after.front is None:  # there are tabs left
        return any(one.code == TAB for one in after.problems)
    return bool(_changed(before.front, [change for fix in fixes for change in fix.changes]) == after.front)


def _as_meant(page: Page) -> Entry:
    """The entry as it stands; with spaces for tabs where it is only these that keep it from being read."""
    front = page.text[page.front_start : page.front_end]
    if "\t" not in front:
        return page.entry
    return page.with_text(page.text[: page.front_start] + front.replace("\t", " ") + page.text[page.front_end :]).entry


def _said(problem: Problem) -> tuple[str, Any]:
    return problem.code, problem.values


def _prose(entry: Entry) -> list[str]:
    return "\n".join(line.rstrip(" \t") for line in entry.prose.split("\n")).rstrip("\n").split("\n")


def _changed(front: Any, changes: Sequence[Change]) -> Any:
    """Plain data with the changes made in it."""
    data = plain(front)
    for change in sorted(changes, key=lambda one: (-len(one.path), one.is_key)):
        owner = data
        for step in change.path[:-1]:
            owner = owner[step]
        last = change.path[-1]
        if change.is_key:
            owner[change.new] = owner.pop(last)
        else:
            owner[last] = change.new
    return data
