"""photo."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from PIL import Image

from rangebook.book.load import load
from rangebook.cli import main
from rangebook.lint.engine import lint, lint_files
from rangebook.lint.examples import example_book
from rangebook.reading.files import read_all
from rangebook.schema.store import load_schemas

ENTRY = """
    kind: kit
    photos:
      - {{file: {file}, view: bag, shows: "{shows}"}}
"""
PART = """
    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        photos: [{file: a.png, shows: no}]
        sources: [{kind: seen}]
    applications: []
"""
GOOD = "a clear bag with a plug, six wires and two grey seals"


@pytest.mark.parametrize(
    ("shows", "says"),
    [
        ("bag", "too little is said"),
        ("a photo of the", "too little is said"),
        ("picture 1 2 3", "too little is said"),
        ("bag.jpg", "the name of the file"),
    ],
)
def test_words_that_say_nothing(look, shows, says):
    (found,) = look("photo", ENTRY.format(file="bag.jpg", shows=shows))
    assert says in found.message or "the name of the file" in found.message
    assert found.at.startswith(f'"{shows}"')


def test_good_words_are_let_be_and_the_same_words_twice_are_not(look):
    assert look("photo", ENTRY.format(file="bag.jpg", shows=GOOD)) == []
    twice = ENTRY.format(file="bag.jpg", shows=GOOD) + f'      - {{file: back.jpg, shows: "{GOOD.upper()}"}}\n'
    (found,) = look("photo", twice)
    assert found.message == "says the same as bag.jpg"


def test_a_part_and_a_connector_have_pictures_too(look):
    (found,) = look("photo", PART)
    assert found.file.startswith("switches/")
    (found,) = look("photo", "\n    kind: connector\n    photos: [{file: a.png, shows: no}]\n")
    assert found.file.startswith("connectors/")


@pytest.mark.parametrize("file", ["../bag.jpg", "sub/bag.jpg", "/etc/passwd", "bag.svg", "bag", ".jpg", "bag.jpg/../x"])
def test_no_way_out_of_the_folder(look, file):
    assert look("schema", ENTRY.format(file=file, shows=GOOD)), "the schema takes plain names of pictures only"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """The example book on a disk, its kit with a picture that is not there yet."""
    for name, text in example_book(ENTRY.format(file="bag.jpg", shows=GOOD)).items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(text if isinstance(text, bytes) else text.encode())
    return tmp_path


def said(root: Path) -> list[str]:
    """What the rule says, by both ways of linting a book."""
    one = [found.message for found in lint(load(root), date(2026, 6, 1)) if found.rule == "photo"]
    _, found = lint_files(root, read_all(root), load_schemas(root), date(2026, 6, 1))
    assert [each.message for each in found if each.rule == "photo"] == one
    return one


def test_the_file_itself(root, monkeypatch):
    place = root / "entries/kits/photos/oval-9-renewal/bag.jpg"
    assert said(root) == ["there is no entries/kits/photos/oval-9-renewal/bag.jpg"]
    place.parent.mkdir(parents=True)
    place.write_text("not a picture")
    assert said(root) == ["entries/kits/photos/oval-9-renewal/bag.jpg is not a picture"]
    Image.new("RGB", (640, 480), "grey").save(place.with_suffix(".gif"))
    place.with_suffix(".gif").rename(place)
    assert "is not a picture" in said(root)[0], "what it is counts, not what it is called"
    Image.new("RGB", (640, 480), "grey").save(place, "JPEG")
    assert said(root) == []
    with place.open("ab") as file:
        file.write(b"\0" * 8_000_000)
    assert "8.0 MB" in said(root)[0]
    Image.new("1", (10_000, 6_000)).save(place, "PNG")
    assert "10000 x 6000 pixels" in said(root)[0]
    elsewhere = root / "elsewhere.jpg"
    Image.new("RGB", (640, 480), "grey").save(elsewhere, "JPEG")
    place.unlink()
    place.symlink_to(elsewhere)
    assert "is a link to somewhere else" in said(root)[0]


def test_what_was_found_is_not_remembered_past_a_change_of_a_picture(root, capsys):
    place = root / "entries/kits/photos/oval-9-renewal/bag.jpg"
    place.parent.mkdir(parents=True)
    Image.new("RGB", (64, 48), "grey").save(place, "JPEG")
    assert main(["lint", "--root", str(root)]) == 0
    place.unlink()
    assert main(["lint", "--root", str(root)]) == 1
    assert "there is no" in capsys.readouterr().out
