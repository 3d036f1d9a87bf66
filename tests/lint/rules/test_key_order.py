"""key-order. How lines are moved is tested in tests/lint/fixing."""

import pytest

from tests.lint.marking import found_at_marks


def test_the_first_key_that_stands_too_far_down_is_told(look):
    (found,) = look("key-order", "    kind: kit\n    seals: [4, 6]\n    blanks: 1\n    number: TW-7706\n    title: a\n")
    assert found.at == "number: TW-7706"
    assert "`number` stands after `from`" in found.message and "kind, id, number, title, from, to, moves, seals" in found.message


def test_each_part_is_looked_at():
    found_at_marks(
        "key-order",
        """
    kind: switch
    parts:
      - number: TB-20417
        sources: [{kind: seen}]
        »connector: oval-9
      - connector: oval-13
        »number: TB-20455
        sources: [{kind: seen}]
""",
    )


def test_parts_in_one_line_and_all_below_are_free():
    found_at_marks(
        "key-order",
        """
    kind: switch
    parts:
      - {connector: oval-9, number: TB-20417, sources: [{on: 2026-02-11, kind: seen}]}
      - {sources: [{kind: seen}], number: TB-20455, connector: oval-13}
""",
    )


@pytest.mark.parametrize(
    ("piece", "at"),
    [
        ("seals: none\n    number: TW-7706", ["number: TW-7706"]),  # wrong otherwise, but all keys are known
        ("seals: [6]\n    nubmer: TW-7706\n    title: a", []),  # where that one belongs nobody knows
        ("seals: [6\n    number: TW-7706", []),
    ],
)
def test_an_entry_that_is_wrong_otherwise_is_looked_at_as_far_as_its_keys_are_known(look, piece, at):
    assert [one.at for one in look("key-order", f"    kind: kit\n    {piece}\n")] == at
