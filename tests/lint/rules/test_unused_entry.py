"""unused-entry."""

NEW_CONNECTOR = "    # entries/connectors/oval-14.md\n    kind: connector\n    id: oval-14\n\nand\n\n"
NEW_KIT = "    # entries/kits/second.md\n    kind: kit\n    id: second\n    number: TW-2\n    from: %s\n    to: oval-13\n\nand\n\n"


def test_a_connector_that_nothing_names_is_found_at_its_id(look):
    (found,) = look("unused-entry", NEW_CONNECTOR)
    assert (found.file, found.at) == ("connectors/oval-14.md", "oval-14")


def test_a_part_a_plug_a_kit_or_a_used_housing_use_it(look):
    for use in (
        "kind: switch\n    parts: [{number: TB-20417, connector: oval-14, sources: [{kind: seen}]}]",
        "kind: switch\n    plugs: {six-wire: {connector: oval-14, wires: {}}}",
        "# entries/kits/second.md\n    kind: kit\n    id: second\n    number: TW-2\n    from: oval-9\n    to: oval-14",
        "kind: connector\n    mates: [oval-14]",
    ):
        assert [one for one in look("unused-entry", NEW_CONNECTOR + f"    {use}\n") if one.file == "connectors/oval-14.md"] == [], use


def test_two_that_only_list_each_other_are_both_unused(look):
    found = look(
        "unused-entry",
        NEW_CONNECTOR.replace("id: oval-14\n", "id: oval-14\n    mates: [oval-16]\n")
        + "    # entries/connectors/oval-16.md\n    kind: connector\n    id: oval-16\n    mates: [oval-14]\n",
    )
    assert [one.at for one in found] == ["oval-14", "oval-16"]


def test_a_kit_for_a_plug_that_no_vehicle_has_is_found_at_the_plug(look):
    (found,) = look("unused-entry", NEW_CONNECTOR + NEW_KIT % "oval-14")
    assert (found.file, found.at) == ("kits/second.md", "oval-14") and "TW-2" in found.message


def test_a_kit_that_a_supersession_needs_is_used(look):
    parts = (
        "[{number: TB-20417, superseded_by: [{number: TB-20455, needs: [second]}], sources: [{kind: seen}]}, "
        "{number: TB-20455, sources: [{kind: seen}]}]"
    )
    assert look("unused-entry", NEW_CONNECTOR + NEW_KIT % "oval-14" + f"    kind: switch\n    parts: {parts}\n") == []


def test_a_kit_after_another_kit_is_used(look):
    # The only plug of the book is an oval-9. One kit makes it an oval-13, which the second renews; another an oval-14.
    assert look("unused-entry", NEW_KIT % "oval-13") == []
    first = "    # entries/kits/first.md\n    kind: kit\n    id: first\n    number: TW-1\n    from: oval-9\n    to: oval-14\n\nand\n\n"
    assert look("unused-entry", NEW_CONNECTOR + first + NEW_KIT % "oval-14") == []


def test_kits_that_only_follow_each_other_in_a_ring_are_unused(look):
    other = NEW_CONNECTOR.replace("oval-14", "oval-16")
    there = (NEW_KIT % "oval-14").replace("to: oval-13", "to: oval-16")
    back = (NEW_KIT % "oval-16").replace("second", "third").replace("to: oval-13", "to: oval-14")
    assert [one.file for one in look("unused-entry", NEW_CONNECTOR + other + there + back)] == ["kits/second.md", "kits/third.md"]


def test_an_entry_that_could_not_be_read_may_use_it(look):
    broken = "    # entries/switches/broken.md\n    ---\n    kind: switch\n    parts: [{connector: oval-14}\n    ---\n"
    assert look("unused-entry", NEW_CONNECTOR + broken) == []
    assert len(look("unused-entry", NEW_CONNECTOR + broken.replace("oval-14", "oval-9"))) == 1


def test_while_a_name_leads_nowhere_nothing_is_said(lint_example):
    misspelled = "    kind: switch\n    plugs: {six-wire: {connector: oval-10x, wires: {}}}\n    applications: []\n"
    assert "unused-entry" not in {one.rule for one in lint_example(NEW_CONNECTOR + misspelled)}
    needs = "[{number: TB-20417, superseded_by: [{number: TB-20455, needs: [secnd]}], sources: [{kind: seen}]}, {number: TB-20455}]"
    kit = NEW_CONNECTOR + NEW_KIT % "oval-14"
    assert "unused-entry" not in {one.rule for one in lint_example(kit + f"    kind: switch\n    parts: {needs}\n")}


def test_an_entry_that_goes_by_another_name_than_its_file_is_let_be(lint_example):
    found = lint_example(NEW_CONNECTOR.replace("id: oval-14", "id: oval-16"))
    assert [one.rule for one in found] == ["id-and-file"]
