"""Examples that show with ``»`` where a finding has to stand."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date

from rangebook.book.load import load_texts
from rangebook.lint.context import Scope
from rangebook.lint.engine import lint, revision_findings
from rangebook.lint.examples import example_book
from rangebook.lint.finding import Finding
from rangebook.lint.registry import all_rules

MARK = "»"
TODAY = date(2026, 6, 1)

CONTACTS = """        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
"""
"""The contacts of the example book's six-pin part, as the lines of an example."""

PINS = "        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}\n"


def part(number: str = "TB-20417", connector: str = "oval-9", pins: str = PINS, contacts: str = CONTACTS, more: str = "") -> str:
    """One part of an example, under ``parts:``, its ``status`` (from ``more``) in its place."""
    head = f"      - number: {number}\n        connector: {connector}\n        mount: short-boss\n"
    lines = [f"        {line}\n" for line in more.splitlines()]
    status = "".join(line for line in lines if line.lstrip().startswith("status:"))
    rest = "".join(line for line in lines if not line.lstrip().startswith("status:"))
    return head + status + pins + contacts + rest + "        sources: [{kind: seen}]\n"


def parts(*texts: str) -> str:
    """An example that is the example book's family with these parts."""
    return "    kind: switch\n    parts:\n" + "".join(texts)


def found_in(texts: Mapping[str, bytes], rule: str) -> list[Finding]:
    """What is found in a book; for a rule that compares revisions also what it finds since the example book."""
    loaded = load_texts(dict(texts))
    found = lint(loaded, TODAY)
    if all_rules()[rule].scope is Scope.REVISIONS:
        found += revision_findings(load_texts(example_book("")), loaded, TODAY)
    return found


def found_at_marks(rule: str, example: str, alone: bool = True, others: Collection[str] = ()) -> list[Finding]:
    """Lint the example book with an example laid over it; the rule's findings are exactly at the marks.

    With ``alone`` no other rule finds anything but the ``others``, and each of those does.
    """
    places, clean = [], {}
    for file, data in example_book(example).items():
        lines = data.decode("utf-8").split("\n")
        for number, line in enumerate(lines, start=1):
            while MARK in line:
                places.append((file, number, line.index(MARK) + 1))
                line = line.replace(MARK, "", 1)
            lines[number - 1] = line
        clean[file] = "\n".join(lines).encode("utf-8")
    found = found_in(clean, rule)
    own = [one for one in found if one.rule == rule]
    assert sorted({(one.file, one.line, one.column) for one in own}) == sorted(places), own
    if alone:
        assert {one.rule for one in found} - {rule} == set(others), found
    return own
