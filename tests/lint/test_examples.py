"""The examples on every rule's page do what the page says, and every rule has a test module of its own."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from rangebook.lint.examples import blocks, example_book
from rangebook.lint.finding import Finding
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import Rule
from tests.lint.marking import found_in

RULES = list(all_rules().values())
LintExample = Callable[..., list[Finding]]


def test_the_example_book_is_clean(lint_example: LintExample) -> None:
    assert lint_example() == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_failing_example_fails_for_its_own_rule_alone(rule: Rule) -> None:
    found = found_in(example_book(rule.fails), rule.name)
    assert {finding.rule for finding in found} == {rule.name}, found


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_mended_example_is_clean(rule: Rule) -> None:
    assert blocks(rule.mended), "there is a mended example"
    assert found_in(example_book(rule.mended), rule.name) == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_every_finding_says_what_and_how_to_mend_it(rule: Rule) -> None:
    for finding in found_in(example_book(rule.fails), rule.name):
        assert finding.line >= 1 and finding.column >= 1
        assert len(finding.message) > 15 and len(finding.fix) > 5


def test_each_rule_has_its_test_module() -> None:
    tests = {path.stem.removeprefix("test_") for path in (Path(__file__).parent / "rules").glob("test_*.py")}
    rules = {rule.name.replace("-", "_") for rule in RULES}
    assert tests == rules
