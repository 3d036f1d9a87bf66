"""allowance."""

import pytest

from rangebook.lint.registry import all_rules

ALLOW = '    kind: kit\n    sources: []\n    allow:\n      - {rule: missing-source, reason: "no slip in the bag"}\n'


def test_one_that_is_needed_takes_the_finding_away(lint_example):
    assert lint_example(ALLOW) == []


@pytest.mark.parametrize(
    ("line", "at", "word"),
    [
        ('{rule: missing-sources, reason: "no slip"}', "missing-sources", "no rule"),
        ('{rule: duplicate-number, reason: "no slip"}', "duplicate-number", "finds nothing"),
        ('{rule: missing-source, reason: "again"}', "missing-source", "second time"),
        ('{rule: schema, reason: "it is only a word"}', "schema", "cannot be allowed"),
        ('{rule: allowance, reason: "let them be"}', "allowance", "cannot be allowed"),
    ],
)
def test_what_cannot_stand_is_found_at_the_rule_it_names(look, line, at, word):
    (found,) = look("allowance", f"{ALLOW}      - {line}\n")
    assert found.at.startswith(at) and word in found.message


def test_the_nearest_rule_is_named(look):
    (found,) = look("allowance", '    kind: kit\n    allow: [{rule: missing-sorce, reason: "no slip"}]\n')
    assert "did you mean missing-source" in found.fix


@pytest.mark.parametrize("reason", ['" "', '"-"', "'...'", '"1"', "x"])
def test_a_reason_that_says_nothing_is_no_reason(look, reason):
    (found,) = look("allowance", f"    kind: kit\n    sources: []\n    allow: [{{rule: missing-source, reason: {reason}}}]\n")
    assert found.at.startswith(reason)


def test_it_holds_for_its_own_entry_only(lint_example):
    found = lint_example(ALLOW + "\nand\n\n    kind: connector\n    sources: []\n")
    assert [(one.rule, one.file) for one in found] == [("missing-source", "entries/connectors/oval-13.md")]


def test_unneeded_is_not_said_while_a_part_of_the_book_is_unread(look):
    allow = '    kind: kit\n    allow: [{rule: missing-source, reason: "no slip"}]\n'
    assert len(look("allowance", allow)) == 1
    assert look("allowance", allow + "\nand\n\n    kind: connector\n    outline: ovall\n") == []


def test_every_rule_of_reading_is_among_those_that_cannot_be_allowed(look):
    names = [name for name, rule in all_rules().items() if rule.scope == "text"]
    assert {"schema", "yaml-syntax", "duplicate-key"} <= set(names)
    lines = "".join(f'      - {{rule: {name}, reason: "let it be"}}\n' for name in names)
    assert [one.at.split(",")[0] for one in look("allowance", f"    kind: kit\n    allow:\n{lines}")] == names


CONTRADICTED = """
    kind: switch
    allow: [{rule: supersession-contradicted, reason: "the maker says so"}]
"""


def test_unneeded_is_not_said_of_a_rule_that_an_error_has_silenced(look):
    """The claim of the example book is in order, so there is nothing to allow; without the connector nothing is known of it."""
    (found,) = look("allowance", CONTRADICTED)
    assert "finds nothing" in found.message
    assert look("allowance", CONTRADICTED + "\nand\n\n    kind: kit\n    to: oval-33\n") == []


def test_a_warning_elsewhere_silences_nothing(look):
    assert len(look("allowance", CONTRADICTED + "\nand\n\n    kind: kit\n    sources: []\n")) == 1
