"""Who is told of what ``rangebook lint --fix`` mends is told that it does: held for the failing example of every rule that has a fixer."""

from __future__ import annotations

from pathlib import Path

import pytest

from rangebook.lint.examples import example_book
from rangebook.lint.plan import plan
from rangebook.lint.registry import all_fixers, all_rules
from rangebook.schema.store import load_schemas

FIXED = "`rangebook lint --fix` does it"


@pytest.mark.parametrize("name", sorted({rule.name for rule, _ in all_fixers()}))
def test_it_is_said_where_a_fix_is_there(name: str, tmp_path: Path) -> None:
    rule = all_rules()[name]
    files = example_book(rule.fails)
    schemas = load_schemas()
    made = plan(tmp_path, files, schemas)
    was, left = ([one for one in found[1] if one.rule == name] for found in (made.before, made.after))
    assert was
    gone = [one for one in was if one.identity not in {each.identity for each in left}]
    assert [one.message for one in gone if FIXED not in one.fix] == []
    assert [one.message for one in left if FIXED in one.fix] == []
