"""Which rules are taken to go by an entry alone. That what follows from it is right is held against whole lints in tests/desk/impact."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from rangebook.lint.registry import all_rules
from rangebook.lint.two_states import goes_by_its_entry_alone


def schema_only(family, context) -> Iterator:
    yield from (context.schemas.circuits, context.today)


def housings(family, context) -> Iterator:
    yield context.book.connectors.get(family)


def parts(family, context) -> Iterator:
    yield context.book.by_number.get(family)


def whole_book(family, context) -> Iterator:
    book = context.book
    yield book.connectors


def hands_on(family, context) -> Iterator:
    yield from _helper(family, context)


def _helper(family, context):
    return [context.schemas, family]


def hands_on_to_one_that_looks(family, context) -> Iterator:
    yield from _looks(context, family)


def _looks(context, family):
    return [context.fitter, family]


def hands_on_unseen(family, context) -> Iterator:
    yield from family.check(context)


def keeps_it(family, context) -> Iterator:
    kept = [context]
    yield kept


def by_keyword(family, context) -> Iterator:
    yield _looks(context=context, family=family)


@pytest.mark.parametrize(
    ("check", "alone", "with_housings"),
    [
        (schema_only, True, True),
        (hands_on, True, True),
        (housings, False, True),
        (parts, False, False),
        (whole_book, False, False),
        (hands_on_to_one_that_looks, False, False),
        (hands_on_unseen, False, False),
        (keeps_it, False, False),
        (by_keyword, False, False),
        (print, False, False),
    ],
)
def test_what_a_check_looks_at(check, alone: bool, with_housings: bool) -> None:
    assert goes_by_its_entry_alone(check) is alone
    assert goes_by_its_entry_alone(check, True) is with_housings


def test_most_rules_of_an_entry_go_by_it_alone() -> None:
    """Else impact would take as long as linting both states whole."""
    checks = [check for rule in all_rules().values() if (check := getattr(rule.module, "check_family", None))]
    alone = [check for check in checks if goes_by_its_entry_alone(check, True)]
    assert len(alone) >= 0.9 * len(checks) > 10
