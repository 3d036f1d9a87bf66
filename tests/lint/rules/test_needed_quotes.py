"""needed-quotes. Which hyphens are meant is tested in tests/lint/fixing."""

from tests.lint.marking import found_at_marks


def test_each_hyphen_is_found():
    found_at_marks(
        "needed-quotes", '    kind: connector\n    rows:\n      - [1, 2, 3, 4, »-]\n      - [5, 6, 7, 8, "-"]\n      - [»-, 9]\n'
    )


def test_where_it_keeps_the_entry_from_being_read_only_that_is_told():
    found_at_marks("needed-quotes", "    kind: connector\n    rows:\n      - [1, - , 3]\n", others=["yaml-syntax"])


def test_hyphens_elsewhere_are_words():
    found_at_marks("needed-quotes", "    kind: switch\n    also_called: [-, switch]\n")
