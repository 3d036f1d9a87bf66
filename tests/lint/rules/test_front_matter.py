"""front-matter."""

import pytest

KIT = "entries/kits/oval-9-renewal.md"


@pytest.mark.parametrize(
    ("text", "at", "word"),
    [
        ("kind: kit\n", "kind: kit", "does not begin"),
        ("", "", "does not begin"),
        ("---\nkind: kit\n", "---", "no end"),
        ("---\n---\nprose\n", "---", "empty"),
        ("---\n- kit\n---\n", "- kit", "key: value"),
        ("---\nkind: kit\n---\n---\nkind: kit\n---\n", "---", "second block"),
    ],
)
def test_each_way_of_having_no_front_matter(look, text, at, word):
    (found,) = look("front-matter", {KIT: text})
    assert found.at == at and word in found.message


def test_a_rule_in_the_prose_is_not_front_matter(look):
    from rangebook.lint.examples import example_book

    text = example_book("")[KIT].decode() + "\n---\n\nAfter the line.\n\n---\n"
    assert look("front-matter", {KIT: text}) == []
