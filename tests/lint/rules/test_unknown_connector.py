"""unknown-connector."""


def test_every_place_that_names_a_connector_is_looked_at(look):
    found = look(
        "unknown-connector",
        """
    kind: switch
    parts: [{number: TB-20417, connector: gone-1, sources: [{kind: seen}]}]
    plugs: {six-wire: {connector: gone-2, wires: {1: {}}}}

and

    kind: kit
    from: gone-3
    to: gone-4

and

    kind: connector
    mates: [oval-9, gone-5]
""",
    )
    assert {one.at[:6] for one in found} == {f"gone-{number}" for number in range(1, 6)}


def test_the_nearest_is_named_and_what_to_write_otherwise(look):
    (found,) = look("unknown-connector", "    kind: connector\n    mates: [oval9]\n")
    assert "oval-9" in found.fix and "entries/connectors/oval9.md" in found.fix


def test_one_that_has_another_id_than_its_file_is_not_called_unknown(look):
    assert look("unknown-connector", "    kind: connector\n    id: oval-33\n") == []


def test_one_that_could_not_be_read_is_not_called_unknown(look):
    assert look("unknown-connector", "    # entries/connectors/oval-13.md\n    ---\n    kind: connector\n    id: oval-13\n") == []


def test_a_part_whose_connector_is_not_stated_is_let_be(look):
    parts = "[{number: TB-20417, sources: [{kind: seen}]}]"
    assert look("unknown-connector", f"    kind: switch\n    parts: {parts}\n") == []
