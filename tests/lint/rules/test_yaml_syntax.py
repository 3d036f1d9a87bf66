"""yaml-syntax."""

from pathlib import Path

import pytest

from rangebook.lint.examples import example_book
from rangebook.lint.plan import plan
from rangebook.schema.store import load_schemas


@pytest.mark.parametrize(
    ("line", "at"),
    [
        ("title: a: b", ": b"),
        ("seals: [4, 6]]", "]"),
    ],
)
def test_the_slip_is_found_where_it_was_made(look, line, at):
    (found,) = look("yaml-syntax", f"    kind: kit\n    {line}\n")
    assert found.at == at


@pytest.mark.parametrize(("line", "at"), [("seals: [4, 9", "[4, 9"), ('title: "nine-way', '"nine-way')])
def test_what_is_left_open_to_the_end_is_found_where_it_was_opened(look, line, at):
    (found,) = look("yaml-syntax", {"entries/kits/a.md": f"---\nkind: kit\n{line}\n---\n"})
    assert found.at == at


def test_brackets_without_end_do_not_exhaust_anything(look):
    (found,) = look("yaml-syntax", f"    kind: kit\n    note: {'[' * 5000}\n")
    assert "deep" in found.message


def test_a_colon_without_its_space_and_a_decimal_comma_are_mended(tmp_path: Path) -> None:
    """Both in braces and on a line of their own; it is said that they are, and what is read afterwards is what was meant."""
    lines = "mounts:\n  short:\n    bolts:\n      - {at_mm: 38,5, at_deg: 10, bolt_mm: 6}\n      - {at_mm:40, at_deg:200, bolt_mm: 6,5}\n"
    files = example_book(f"kind: switch\n{lines}")
    made = plan(tmp_path, files, load_schemas())
    told = [one for one in made.before[1] if one.rule == "yaml-syntax"]
    assert len(told) == 4 and all("`rangebook lint --fix` does it" in one.fix for one in told)
    (changed,) = made.changed
    text = changed.after.decode()
    assert "{at_mm: 38.5, at_deg: 10, bolt_mm: 6}" in text and "{at_mm: 40, at_deg: 200, bolt_mm: 6.5}" in text
    assert not [one for one in made.after[1] if one.rule == "yaml-syntax"]
