"""schema."""


def test_an_unknown_key_is_found_at_the_key_and_the_nearest_is_named(look):
    (found,) = look("schema", "    kind: kit\n    blancs: 1\n")
    assert found.at == "blancs: 1" and "blanks" in found.fix


def test_several_problems_of_one_entry_are_all_told(look):
    found = look("schema", "    kind: kit\n    blanks: many\n    seals: [6, x]\n    moves: {1: '!'}\n")
    assert [one.at[:5] for one in found] == ["many", "x]", "'!'}"]


def test_another_entry_is_still_checked(lint_example):
    found = lint_example("    kind: kit\n    blanks: many\n\nand\n\n    kind: connector\n    sources: []\n")
    assert [one.rule for one in found] == ["missing-source", "schema"]


def test_what_names_the_lost_entry_is_not_called_unknown(lint_example):
    found = lint_example("    kind: connector\n    outline: ovall\n")
    assert [one.rule for one in found] == ["schema"]
