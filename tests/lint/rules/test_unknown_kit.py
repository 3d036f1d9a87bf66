"""unknown-kit."""

import pytest

PARTS = """
    kind: switch
    parts:
      - {number: TB-20417, status: superseded, superseded_by: [{number: TB-20455, needs: %s}], sources: [{kind: seen}]}
      - {number: TB-20455, status: current, sources: [{kind: seen}]}
"""


@pytest.mark.parametrize("needs", ["[oval-9-renewal, no-such]", "[{kit: no-such, seal: 7}]", "[{seal: 7, kit: no-such}]"])
def test_both_ways_of_naming_a_kit_are_looked_at(look, needs):
    (found,) = look("unknown-kit", PARTS % needs)
    assert found.at.startswith("no-such") and "entries/kits/no-such.md" in found.fix


@pytest.mark.parametrize("needs", ["[]", "[oval-9-renewal]", '[{note: "a bracket"}]'])
def test_known_kits_and_none_are_let_be(look, needs):
    assert look("unknown-kit", PARTS % needs) == []


def test_one_that_could_not_be_read_is_not_called_unknown(look):
    assert look("unknown-kit", PARTS % "[oval-9-renewal]" + "\nand\n\n    kind: kit\n    blanks: many\n") == []
