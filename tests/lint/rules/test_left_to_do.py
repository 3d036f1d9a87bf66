"""left-to-do."""


def test_each_line_is_told_at_its_comment_sign(look):
    found = look("left-to-do", "    kind: kit\n    # TODO seals: the rear seals\n      #TODO\n    blanks: 2\n    sources: [{kind: seen}]\n")
    assert [one.at for one in found] == ["# TODO seals: the rear seals", "#TODO"]
    assert "seals: the rear seals" in found[0].message


def test_it_is_told_in_an_entry_that_cannot_be_taken_in_too(look):
    (found,) = look("left-to-do", "    kind: connector\n    outline: TODO\n    # TODO outline: which one?\n")
    assert found.at == "# TODO outline: which one?"


def test_other_comments_and_other_places_are_left_alone(look):
    example = """
    kind: kit
    # the bag has two seals
    seals: [4, 6]  # TODO is not a line of its own here
    # TODOS of ours
    note: "# TODO in a text"
    sources: [{kind: seen}]
"""
    assert look("left-to-do", example) == []
    whole = "    # entries/kits/oval-9-renewal.md\n    ---\n    {}    ---\n    # TODO in the prose\n"
    front = (
        "kind: kit\n    id: oval-9-renewal\n    number: TW-7706\n    title: x\n    from: oval-9\n    to: oval-13\n"
        "    moves: {1: 1}\n    sources: [{kind: seen}]\n"
    )
    assert look("left-to-do", whole.format(front)) == []
