"""allowance."""

from datetime import date
from pathlib import Path

import pytest

from rangebook.lint.examples import example_book
from rangebook.lint.plan import plan
from rangebook.lint.registry import all_rules
from rangebook.schema.store import load_schemas

TODAY = date(2026, 6, 1)

ALLOW = '    kind: kit\n    sources: []\n    allow:\n      - {rule: missing-source, at: sources, reason: "no slip in the bag"}\n'


def test_one_that_is_needed_takes_the_finding_away(lint_example):
    assert lint_example(ALLOW) == []


@pytest.mark.parametrize(
    ("line", "at", "word"),
    [
        ('{rule: missing-sources, reason: "no slip in it"}', "missing-sources", "no rule"),
        ('{rule: duplicate-number, reason: "no slip in it"}', "duplicate-number", "finds nothing in this entry"),
        ('{rule: kit-moves, at: moves.1, reason: "no slip in it"}', "kit-moves", "finds nothing at moves.1"),
        ('{rule: missing-source, at: sources, reason: "once more said"}', "missing-source", "second time"),
        ('{rule: missing-source, at: source, reason: "once more said"}', "source,", "no place source"),
        ('{rule: schema, reason: "it is only a word"}', "schema", "cannot be allowed"),
        ('{rule: allowance, reason: "let them be"}', "allowance", "cannot be allowed"),
    ],
)
def test_what_cannot_stand_is_found_at_the_rule_it_names(look, line, at, word):
    (found,) = look("allowance", f"{ALLOW}      - {line}\n")
    assert found.at.startswith(at) and word in found.message


def test_the_nearest_rule_is_named(look):
    (found,) = look("allowance", '    kind: kit\n    allow: [{rule: missing-sorce, reason: "no slip in it"}]\n')
    assert "did you mean missing-source" in found.fix


@pytest.mark.parametrize(
    "reason",
    [
        '" "',
        '"-"',
        "'...'",
        '"1"',
        "x",
        "ok",
        "it is allowed",
        "todo",
        "this is fine",
        "missing source missing source",
        "no no no no",
        "1 2 3 4",
    ],
)
def test_a_reason_that_says_nothing_is_no_reason(look, reason):
    (found,) = look("allowance", f"    kind: kit\n    sources: []\n    allow: [{{rule: missing-source, at: sources, reason: {reason}}}]\n")
    assert found.at.startswith(reason)


def test_it_holds_for_its_own_entry_only(lint_example):
    found = lint_example(ALLOW + "\nand\n\n    kind: connector\n    sources: []\n")
    assert [(one.rule, one.file) for one in found] == [("missing-source", "entries/connectors/oval-13.md")]


def test_unneeded_is_not_said_while_a_part_of_the_book_is_unread(look):
    allow = '    kind: kit\n    allow: [{rule: missing-source, reason: "no slip in it"}]\n'
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


def two_contacts(*allowed: str) -> str:
    """A part with two contacts that end on no pin of it, and another part with one."""
    contacts = "[{pins: [4, case], closed: [P]}, {pins: [6, case], closed: [R]}, {pins: [3, case], closed: [N]}]"
    return (
        "    kind: switch\n    applications: []\n    parts:\n"
        f"      - {{number: TB.1.A, connector: oval-13, pins: {{6: ground}}, contacts: {contacts}, sources: [{{kind: seen}}]}}\n"
        "      - number: TB.1\n        connector: oval-13\n        pins: {6: ground}\n"
        "        contacts: [{pins: [5, case], closed: [P]}]\n        sources: [{kind: seen}]\n"
        "    allow:\n" + "".join(f"      - {{rule: contact-without-pin{one}, reason: the meter shows it so}}\n" for one in allowed)
    )


def left(lint_example, *allowed):
    found = [(one.rule, one.message) for one in lint_example(two_contacts(*allowed))]
    pins = [message.split("ends on pin ")[1][0] for rule, message in found if rule == "contact-without-pin"]
    return sorted(pins), [message for rule, message in found if rule == "allowance"]


@pytest.mark.parametrize(
    ("at", "pins"),
    [
        ("parts.TB.1.A.contacts.1", ["3", "5"]),
        ("parts.TB.1.A.contacts.3", ["4", "5"]),
        ("parts.TB.1.A.contacts.1.pins.1", ["3", "5"]),
        ("parts.TB.1.A", ["5"]),
        ("parts.TB.1", ["3", "4"]),
        ("parts.2", ["3", "4"]),
        ("parts.TB.1.contacts", ["3", "4"]),
    ],
)
def test_it_takes_away_what_is_at_its_place_or_below_and_nothing_else(lint_example, at, pins):
    assert left(lint_example, f", at: {at}") == (pins, [])


@pytest.mark.parametrize(
    ("at", "word"),
    [
        ("", "finds 3 things"),
        (", at: parts", "all of its kind"),
        (", at: parts.TB.1.A.contacts.2", "finds nothing at"),
        (", at: parts.TB.1.A.contacts.4", "no place"),
        (", at: parts.TB-1", "no place"),
        (", at: parts.TB.1.A.contacts.0", "no place"),
    ],
)
def test_what_names_no_one_place_allows_nothing(lint_example, at, word):
    pins, (said,) = left(lint_example, at)
    assert pins == ["3", "4", "5"] and word in said


def test_a_line_for_each(lint_example):
    lines = [f", at: parts.{at}" for at in ("TB.1.A.contacts.1", "TB.1.A.contacts.3", "TB.1.contacts.1")]
    assert left(lint_example, *lines) == ([], [])
    assert left(lint_example, *lines[:2]) == (["5"], [])


def test_the_places_are_told(look):
    (found,) = look("allowance", two_contacts(""))
    assert "parts.TB.1.A.contacts.1.pins.1" in found.fix and "parts.TB.1.contacts.1.pins.1" in found.fix


BLOCK = "\n      - rule: contact-to-itself\n        reason: the meter shows it so"


@pytest.mark.parametrize("style", ["[{rule: contact-to-itself, reason: the meter shows it so}]", BLOCK])
def test_the_fix_names_the_place_of_what_stands_alone(style):
    contacts = "[{pins: [6, 6], closed: [P]}]"
    example = (
        "    kind: switch\n    applications: []\n    parts:\n"
        f"      - {{number: TB 1, connector: oval-13, pins: {{6: ground}}, contacts: {contacts}, sources: [{{kind: seen}}]}}\n"
        f"    allow: {style}\n"
    )
    files = example_book(example)
    made = plan(Path(), files, load_schemas(None), TODAY)
    (changed,) = made.changed
    for _, findings in (made.before, made.after):
        assert {one.rule for one in findings} <= {"key-order", "trailing-space"}
    assert "allowed-place" in {note.fixer for note in changed.notes}
    assert "at: parts.TB 1.contacts.1.pins.2" in changed.after.decode()
    assert plan(Path(), {**files, changed.file: changed.after}, load_schemas(None), TODAY).changed == []
