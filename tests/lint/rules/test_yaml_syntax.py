"""yaml-syntax."""

import pytest


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
