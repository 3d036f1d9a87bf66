"""duplicate-key."""


def test_a_key_doubled_deep_inside_is_found_where_it_stands(lint_example) -> None:
    found = lint_example(
        """
    kind: kit
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6, 1: 7}
"""
    )
    assert [(one.rule, one.line, one.column) for one in found] == [("duplicate-key", 8, 45)]


def test_the_first_of_the_two_is_named(lint_example) -> None:
    (found,) = lint_example("    kind: kit\n    blanks: 1\n    seals: [4, 6]\n    blanks: 2\n")
    assert "line 9" in found.message and found.line == 11
