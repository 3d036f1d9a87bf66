"""id-and-file."""

import pytest

from rangebook.lint.examples import example_book

BOOK = {name: text.decode() for name, text in example_book("").items()}
OVAL = BOOK["entries/connectors/oval-13.md"]


def test_a_file_in_the_wrong_folder_is_found_at_its_kind(look):
    (found,) = look("id-and-file", {**BOOK, "entries/kits/oval-14.md": OVAL.replace("id: oval-13", "id: oval-14")})
    assert (found.file, found.at) == ("kits/oval-14.md", "connector") and "entries/connectors/" in found.fix


def test_a_copy_that_kept_its_id_is_found_and_the_original_is_not(look):
    # `oval-14` is read before `oval-13`; the one whose file is called so is in the right all the same.
    (found,) = look("id-and-file", {**BOOK, "entries/connectors/oval-14.md": OVAL})
    assert (found.file, found.at) == ("connectors/oval-14.md", "oval-13")
    assert "entries/connectors/oval-13.md" in found.message and found.fix == "write `id: oval-14`"


def test_the_same_file_in_two_folders(look):
    found = look("id-and-file", {**BOOK, "entries/kits/oval-13.md": OVAL})
    assert [(one.file, one.at) for one in found] == [("kits/oval-13.md", "connector"), ("kits/oval-13.md", "oval-13")]


def test_entries_of_two_kinds_may_have_one_id(look):
    kit = BOOK["entries/kits/oval-9-renewal.md"]
    assert look("id-and-file", {**BOOK, "entries/kits/oval-13.md": kit.replace("oval-9-renewal", "oval-13").replace("1106", "1108")}) == []


def test_nothing_that_names_the_file_is_called_unknown(lint_example):
    found = lint_example("    kind: kit\n    id: oval-9-kit\n")
    assert [one.rule for one in found] == ["id-and-file"]


def test_an_entry_that_cannot_be_read_is_left_to_the_rules_of_reading(look):
    assert look("id-and-file", "    kind: kit\n    id: other\n    blanks: many\n") == []


@pytest.mark.parametrize("name", ["con", "aux", "nul", "prn", "com1", "lpt9"])
def test_a_name_that_windows_keeps_for_a_device(look, name):
    """Source: Microsoft, Naming Files, Paths, and Namespaces (reserved names), from memory; Python's own list is what is asked."""
    (found,) = look("id-and-file", {**BOOK, f"entries/connectors/{name}.md": OVAL.replace("id: oval-13", f"id: {name}")})
    assert (found.file, found.at) == (f"connectors/{name}.md", name) and "Windows" in found.message
    other = f"{name}-13"
    assert look("id-and-file", {**BOOK, f"entries/connectors/{other}.md": OVAL.replace("id: oval-13", f"id: {other}")}) == []
