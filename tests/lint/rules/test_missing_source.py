"""missing-source."""


def test_a_part_is_found_where_it_begins(look):
    (found,) = look("missing-source", "    kind: switch\n    parts:\n      - number: TB-20417\n        status: current\n")
    assert found.at == "number: TB-20417" and "TB-20417" in found.message


def test_an_empty_list_is_found_at_the_list(look):
    parts = "    kind: switch\n    parts: [{number: TB-20417, sources: []}]\n"
    found = look("missing-source", f"{parts}\nand\n\n    kind: connector\n    sources: []\n")
    assert [one.at for one in found] == ["[]", "[]}]"]


def test_an_entry_without_the_key_is_found_at_its_top(look):
    (found,) = look(
        "missing-source",
        """
    # entries/connectors/oval-9.md
    ---
    kind: connector
    id: oval-9
    title: Nine-way oval
    outline: oval
    rows: [[1, 2, 3, 4, 5], [6, 7, 8, 9]]
    ---
""",
    )
    assert (found.file, found.at) == ("connectors/oval-9.md", "kind: connector")


def test_hearsay_is_a_source(look):
    assert look("missing-source", "    kind: kit\n    sources: [{kind: hearsay}]\n") == []
