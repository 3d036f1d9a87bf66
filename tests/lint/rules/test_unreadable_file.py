"""unreadable-file."""

import pytest

from rangebook.book.load import load_texts
from rangebook.lint.engine import lint
from rangebook.lint.examples import example_book
from rangebook.reading.files import MAX_BYTES

KIT = "entries/kits/oval-9-renewal.md"


def _lint_with(data):
    return list(lint(load_texts({**example_book(""), KIT: data})))


def test_bytes_that_are_not_utf_8_are_found_where_they_stand():
    text = example_book("")[KIT].replace(b"nine-way", b"six\xe9way", 1)
    (found,) = _lint_with(text)
    assert (found.rule, found.file, found.line, found.column) == ("unreadable-file", KIT, 5, 25)
    assert "0xe9" in found.message and "UTF-8" in found.fix


@pytest.mark.parametrize("character", ["\x00", "\x07", "\x85", "\u2028", "\u2029"])
def test_unseen_characters_are_found_and_named(look, character):
    (found,) = look("unreadable-file", f'    kind: kit\n    note: "a{character}b"\n')
    assert found.at.startswith(character) and f"U+{ord(character):04X}" in found.message


def test_a_file_over_one_mebibyte_is_not_read():
    (found,) = _lint_with(example_book("")[KIT] + b"x" * MAX_BYTES)
    assert found.rule == "unreadable-file" and "1 MiB" in found.message


def test_a_file_that_cannot_be_opened_is_told_and_its_kit_not_called_unknown():
    found = _lint_with(PermissionError(13, "Permission denied"))
    assert [(one.rule, one.file) for one in found] == [("unreadable-file", KIT)]
    assert "Permission denied" in found[0].message


def test_letters_beyond_ascii_and_windows_line_ends_are_welcome(look):
    assert look("unreadable-file", {KIT: "\ufeff" + example_book("")[KIT].decode().replace("\n", "\r\n").replace("Crimp", "Ω µ é")}) == []
