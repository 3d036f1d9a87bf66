"""yaml-feature."""

import pytest


@pytest.mark.parametrize(
    ("line", "at"),
    [
        ("note: &n text", "&n text"),
        ("note: *n", "*n"),
        ("note: !!str text", "!!str text"),
        ("note: a\tb", "\tb"),
        ("? [a, b]\n    : c", "[a, b]"),
    ],
)
def test_each_feature_is_found_where_it_stands(look, line, at):
    (found,) = look("yaml-feature", f"    kind: kit\n    {line}\n")
    assert found.at == at


def test_the_same_signs_in_quotes_are_text(look):
    assert look("yaml-feature", '    kind: kit\n    note: "& * ! are text here"\n') == []
