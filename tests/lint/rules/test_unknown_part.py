"""unknown-part."""

PARTS = """
    kind: switch
    parts:
      - {number: TB-20417, status: superseded, superseded_by: [{number: %s}], sources: [{kind: seen}]}
      - {number: TB-20455, status: current, sources: [{kind: seen}]}
"""


def test_a_successor_that_is_not_there_is_found_at_its_number(look):
    (found,) = look("unknown-part", PARTS % "TB-20544")
    assert found.at.startswith("TB-20544") and "TB-20417" in found.message and "TB-20455" in found.fix


def test_any_spelling_of_a_known_number_is_known(look):
    assert look("unknown-part", PARTS % "tb 20.455") == []


def test_a_look_alike_is_left_to_the_other_rule(look):
    assert look("unknown-part", PARTS % "TB-Z0455") == []


def test_two_look_alike_characters_are_not_one(look):
    assert [one.at[:8] for one in look("unknown-part", PARTS % "TB-ZO455")] == ["TB-ZO455"]


def test_a_kit_is_no_part(look):
    assert [one.at[:7] for one in look("unknown-part", PARTS % "TW-7706")] == ["TW-7706"]


def test_a_number_that_an_unread_entry_may_have_is_not_called_unknown(look):
    other = "\nand\n\n    # entries/switches/other.md\n    ---\n    kind: switch\n    parts: [{number: XY-7}\n    ---\n"
    assert look("unknown-part", PARTS % "xy7" + other) == []
