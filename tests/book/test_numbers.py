"""Numbers as people type, paste and write them."""

from __future__ import annotations

import json
import unicodedata
from pathlib import Path

import pytest
from tests.making import application, book, connector, family, part, plug, texts

from rangebook.book.load import load_texts
from rangebook.book.numbers import LOOKS_LIKE, look, normalise
from rangebook.cli import main
from rangebook.desk.fit import NotInBook, find_part
from rangebook.desk.look import look as look_up
from rangebook.lint.engine import lint

PINS = {"1": "start_feed", "2": "start_out"}
CONTACTS = [{"pins": ["1", "2"], "closed": ["P", "N"]}]

SAME = [
    *("tb10263", "TB 10263", "TB/10.263", "T-B-1-0-2-6-3"),
    *(f"TB{dash}10263" for dash in "‐‑‒–—―−﹘﹣－˗⁃"),
    *(f"TB-10{unseen}263" for unseen in "\u00ad\u200b\u200c\u200d\u200e\u202e\u2060\ufeff"),
    *("ＴＢ－１０２６３", "ТВ-10263", "тв-10263", "ΤΒ-10263", "TB\u00a010263", "TB\u202f10263", "TB⁄10263"),
]
"""Each is TB-10263 to a reader: dashes and spaces of other kinds, signs that cannot be seen, full width, Cyrillic, Greek."""


def entries(*numbers: str) -> list[dict]:
    parts = [part(number, pins=PINS, contacts=CONTACTS, status="current") for number in numbers]
    return [connector("c", 2), family("f", parts, plugs={"p": plug(PINS)}, applications=[application("p", numbers[0])])]


@pytest.mark.parametrize("typed", SAME)
def test_one_number_however_it_is_typed(typed: str) -> None:
    assert normalise(typed) == "TB10263"
    made = book(*entries("TB-10263", "TB-10264"))
    assert find_part(made, typed).number == "TB-10263"
    assert [one.name for one in look_up(made, typed) if one.exact] == ["TB-10263"]


@pytest.mark.parametrize("typed", ["TB-1O263", "TB-IO263", "tb-lo263", "T8-10Z63", "TB-1ο263", "ТВ-1О263"])
def test_what_looks_like_a_number_is_found_and_told(typed: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made = book(*entries("TB-10263", "TB-10264"))
    assert find_part(made, typed).number == "TB-10263"
    (found,) = look_up(made, typed)
    assert (found.name, found.exact) == ("TB-10263", False) and "looks the same" in found.about
    for name, data in texts(*entries("TB-10263", "TB-10264")).items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(data)
    assert main(["fit", typed, "--json", "--root", str(tmp_path)]) == 0
    seen = capsys.readouterr()
    assert json.loads(seen.out)["removed"] == "TB-10263"
    assert f"{typed} is not in the book; TB-10263 looks the same" in seen.err


def test_of_two_that_look_the_same_none_is_taken() -> None:
    made = book(*entries("TB-1S", "TB-IS", "TB-999"))
    with pytest.raises(NotInBook) as caught:
        find_part(made, "TB-l5")
    assert set(caught.value.nearest[:2]) == {"TB-1S", "TB-IS"}
    assert {one.name for one in look_up(made, "TB-l5")} == {"TB-1S", "TB-IS"}


@pytest.mark.parametrize("typed", [one for one in SAME if not one.isascii()])
@pytest.mark.parametrize("where", ["number", "came_with", "superseded_by", "kit"])
@pytest.mark.parametrize("escaped", [True, False])
def test_it_is_refused_when_it_is_written(typed: str, where: str, escaped: bool) -> None:
    """A number is printable ASCII after YAML's escapes are undone: JSON's escapes are YAML's."""
    made = entries("TB-10263", "TB-10264")
    kit = {"kind": "kit", "id": "k", "number": "K-1", "title": "k", "from": "c", "to": "c", "moves": {"1": "1"}}
    if where == "number":
        made[1]["parts"].append(part(typed, status="current"))
    elif where == "came_with":
        made[1]["applications"].append(application("p", typed))
    elif where == "superseded_by":
        made[1]["parts"][0] |= {"status": "superseded", "superseded_by": [{"number": typed}]}
    else:
        kit["number"] = typed
    files = texts(*made, kit)
    if not escaped:
        files = {name: json.dumps(json.loads(data.decode().strip("-\n")), ensure_ascii=False).encode() for name, data in files.items()}
        files = {name: b"---\n" + data + b"\n---\n" for name, data in files.items()}
    wrong = "entries/kits/k.md" if where == "kit" else "entries/switches/f.md"
    found = [one for one in lint(load_texts(files)) if one.severity == "error" and one.file == wrong]
    assert {one.rule for one in found} & {"schema", "unseen-character", "unreadable-file"}, found


def test_letters_are_those_that_unicode_says_are_letters() -> None:
    """The table is from memory of UTS #39; this much of it can be checked: nothing of ASCII is changed but by what figures look like."""
    assert all(normalise(chr(code)) == chr(code).upper() for code in range(0x30, 0x7B) if chr(code).isalnum())
    assert all(unicodedata.category(letter) == "Lu" and figure.isdigit() for letter, figure in LOOKS_LIKE.items())
    assert look("OILBSZ") == "011852"
