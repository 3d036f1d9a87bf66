"""What an editor is told of a place: what can stand there, what it means, where it leads. The text is half typed most of the time."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from rangebook.book.load import Loaded, load
from rangebook.editor.at import At
from rangebook.editor.open_book import OpenBook
from rangebook.editor.text import Spot, Text

ROOT = Path(__file__).resolve().parents[2]
FILE = "entries/switches/harnby-pair.md"
SOURCE = (ROOT / FILE).read_text("utf-8")
APPLICATION = next(line for line in SOURCE.split("\n") if "Brackley 2.3 Tow" in line)


@pytest.fixture(scope="module")
def demo() -> Loaded:
    return load(ROOT)


def typed(demo: Loaded, was: str, now: str, source: str = SOURCE, file: str = FILE) -> tuple[At, Spot]:
    """The entry with ``now`` in the place of ``was``, the cursor at the bar in it."""
    assert was in source
    at = source.index(was) + now.index("|")
    place = At(demo, file, Text(source.replace(was, now.replace("|", ""), 1)))
    return place, place.text.spot(at)


def offered(demo: Loaded, was: str, now: str, source: str = SOURCE, file: str = FILE) -> list[str]:
    place, spot = typed(demo, was, now, source, file)
    return [one.label for one in place.offers(spot)]


def test_keys_that_are_not_there_yet(demo: Loaded) -> None:
    assert {"closed", "overlaps", "ohms"} <= set(offered(demo, "{pins: [B, C], closed: [P, N]}", "{pins: [B, C], cl|}"))
    keys = offered(demo, "    status: superseded\n", "    status: superseded\n    |\n")
    assert {"note", "photos", "torque_nm"} <= set(keys) and not {"number", "status", "mount", "fitting"} & set(keys)
    assert "trouble_codes" in offered(demo, "fitting: {set_in", "|\nfitting: {set_in")
    needed = next(one for one in _offers(demo, APPLICATION, "  - {|}") if one.label == "vehicle")
    assert "needed" in needed.brief and needed.text == "vehicle: "


def _offers(demo: Loaded, was: str, now: str) -> list:
    place, spot = typed(demo, was, now)
    return place.offers(spot)


def test_words_of_a_list_and_yes_or_no(demo: Loaded) -> None:
    assert offered(demo, "status: superseded", "status: |") == ["current", "superseded", "discontinued", "withdrawn"]
    assert offered(demo, "once: yes", "once: |") == ["yes", "no"]
    assert offered(demo, "kind: seen", "kind: s|")[:2] == ["seen", "wiring-diagram"]


def test_names_that_are_known(demo: Loaded) -> None:
    assert {"square-9", "round-5"} <= set(offered(demo, "connector: square-9\n", "connector: squ|\n"))
    assert {"start_feed", "backup_out"} <= set(offered(demo, "{circuit: start_feed,", "{circuit: st|,"))
    assert offered(demo, "plug: both,", "plug: |,") == ["both", "one"]
    assert offered(demo, "mount: saddle", "mount: |") == ["saddle", "clip"]
    assert offered(demo, "closed: [P, N]", "closed: [P, |]") == ["P", "R", "N", "D", "2", "1"]
    assert offered(demo, "pins: [B, C]", "pins: [B, |]")[:5] == ["B", "C", "G", "H", "case"]
    assert offered(demo, "      B: {circuit", "      |\n      B: {circuit") == ["A", "D", "E", "F", "J"], (
        "cavities of square-9 without a wire"
    )
    assert "round-5-lamp-lead" in offered(demo, "needs: []", "needs: [|]")
    # A number may have blanks in it: all that is typed of it is replaced.
    place, spot = typed(demo, "came_with: PW 671.008}", "came_with: PW 67|}")
    first = place.offers(spot)[0]
    assert first.text == "PW 671.008" and spot.column - first.span.start.column == len("PW 67")


def test_other_kinds_of_entry(demo: Loaded) -> None:
    kit = "entries/kits/round-9-to-rect-14.md"
    source = (ROOT / kit).read_text("utf-8")
    was = next(line for line in source.splitlines() if line.startswith("from:"))
    assert "round-9" in offered(demo, was, "from: |", source, kit)
    assert offered(demo, "kind: kit", "kind: |", source, kit) == ["kit"]
    oval = "entries/connectors/oval-9.md"
    keys = offered(demo, "outline:", "|\noutline:", (ROOT / oval).read_text("utf-8"), oval)
    assert {"mates", "photos"} <= set(keys) and not {"note", "positions"} & set(keys)


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ("gearboxes: [Harnby Fell]", "gearboxes: [Harnby Fell"),
        ("also_called: [", "also_called ["),
        ("title: Harnby", 'title: "Harnby'),
        ("positions: [", "positions:\t["),
        ("number: PW 671.008", "number: *PW"),
    ],
)
def test_a_line_that_cannot_be_read_does_not_take_the_rest_along(demo: Loaded, was: str, now: str) -> None:
    broken = SOURCE.replace(was, now, 1)
    assert "current" in offered(demo, "status: superseded", "status: |", broken)
    assert led(demo, "plug: both,", "plug: bo|th,", broken) == (FILE, "both:")
    assert "No verdict" in hinted(demo, "status: superseded", "sta|tus: superseded", broken)


def hinted(demo: Loaded, was: str, now: str, source: str = SOURCE) -> str:
    place, spot = typed(demo, was, now, source)
    hint = place.hint(spot)
    return hint.words if hint else ""


def test_what_a_key_means_and_what_goes_by_it(demo: Loaded) -> None:
    contacts = hinted(demo, "    contacts:\n", "    con|tacts:\n")
    assert "A verdict goes by it: behaviour and safety." in contacts and "How to find out" in contacts
    assert "A verdict goes by it: mount." in hinted(demo, "bolts:", "bo|lts:")
    assert "A verdict goes by it: mating." in hinted(demo, "connectors: {main", "conn|ectors: {main")
    for was, now in [("status: superseded", "sta|tus: superseded"), ('note: "For', 'no|te: "For'), ("torque_nm: 6", "tor|que_nm: 6")]:
        assert "No verdict goes by it." in hinted(demo, was, now)
    assert "verdict" not in hinted(demo, "colour: GY,", "col|our: GY,")


def test_what_a_name_stands_for(demo: Loaded) -> None:
    assert "9 cavities" in hinted(demo, "connector: square-9\n", "connector: squ|are-9\n")
    start = hinted(demo, "{circuit: start_out,", "{circuit: start_|out,")
    assert "safety" in start and "P and N only" in start
    assert "superseded" in hinted(demo, "came_with: PW 671.008}", "came_with: PW 6|71.008}")


def led(demo: Loaded, was: str, now: str, source: str = SOURCE) -> tuple[str, str] | None:
    """The file and the line that a place leads to."""
    place, spot = typed(demo, was, now, source)
    target = place.target(spot)
    if target is None:
        return None
    text = place.text.text if target.file == FILE else (ROOT / target.file).read_text("utf-8")
    return target.file, text.split("\n")[target.span.start.line].strip()


def test_where_it_leads(demo: Loaded) -> None:
    assert led(demo, "number: PW 671.052\n        since", "number: PW 671|.052\n        since") == (FILE, "- number: PW 671.052")
    assert led(demo, "main: square-9", "main: squa|re-9") == ("entries/connectors/square-9.md", "id: square-9")
    assert led(demo, "came_with: PW 671.060", "came_with: P|W 671.060") == (FILE, "- number: PW 671.060")
    assert led(demo, "plug: both", "plug: b|oth") == (FILE, "both:")
    assert led(demo, "mount: saddle", "mount: sad|dle") == (FILE, "saddle:")
    assert led(demo, "goes_with: [PW 671.071]", "goes_with: [PW 671.0|71]") == (FILE, "- number: PW 671.071")
    assert led(demo, "{circuit: start_out,", "{circuit: start|_out,") == ("schema/circuits.json", '"start_out": {')
    assert led(demo, "PW 671.065 on the saddle", "PW 671|.065 on the saddle") == (FILE, "- number: PW 671.065"), "a number in the prose"
    assert led(demo, "title: Harnby", "title: Har|nby") is None
    # The text that is not saved counts: the part has moved down by a line.
    moved = SOURCE.replace("parts:\n", "parts:\n\n", 1)
    place, spot = typed(demo, "came_with: PW 671.008}", "came_with: PW 671|.008}", moved)
    own = OpenBook(ROOT)
    own.put(FILE, place.text.text)
    own.settle()
    at = own.at(FILE)
    assert at is not None
    target = at.target(spot)
    assert target is not None and place.text.lines[target.span.start.line].strip() == "- number: PW 671.008"


def test_nothing_that_is_half_typed_does_any_harm(demo: Loaded) -> None:
    """Cut off anywhere, a sign put in or taken out anywhere: there is an answer, and quickly."""
    draw = random.Random(18)
    for _ in range(25):
        at = draw.randrange(len(SOURCE))
        text = draw.choice(
            [SOURCE[:at], SOURCE[:at] + draw.choice("{}[]:'\"#&*!\t,-\n\ue000") + SOURCE[at:], SOURCE[:at] + SOURCE[at + 1 :]]
        )
        place = At(demo, FILE, Text(text))
        for offset in (at, draw.randrange(len(text) + 1)):
            spot = place.text.spot(offset)
            assert isinstance(place.offers(spot), list)
            place.hint(spot)
            place.target(spot)
    for nothing in ("", "---", "---\n", "no front matter\n", "---\n---\n", "\ufeff---\r\nkind: switch\r\n"):
        place = At(demo, FILE, Text(nothing))
        for line in range(3):
            place.offers(Spot(line, 0))
            place.hint(Spot(line, 0))
            place.target(Spot(line, 0))


@pytest.mark.parametrize(("encoding", "column"), [("utf-8", 6), ("utf-16", 4), ("utf-32", 3)])
def test_columns_are_counted_as_was_agreed(encoding: str, column: int) -> None:
    """One astral sign is four bytes of UTF-8, two units of UTF-16 and one of UTF-32 (RFC 3629, section 3; RFC 2781, section 2.1)."""
    text = Text("a\r\nx😀yz\rb", encoding)
    assert text.lines == ["a", "x😀yz", "b"]
    assert text.spot(text.text.index("z")) == Spot(1, column)
    assert text.text[text.offset(Spot(1, column))] == "z"
    assert text.offset(Spot(1, 99)) == text.text.index("\nb") and text.offset(Spot(9, 0)) == len(text.text)
