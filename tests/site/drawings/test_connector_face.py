"""The face of a connector."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from tests.site.drawings.making import alternatives, box_of, connector, having, parse, rules_of_the_house, texts, wires

from rangebook.book.model import Connector, Terminal
from rangebook.site.drawings.connector_face import TOUCH, WIDTH, face_svg, places

FOURTEEN = connector("oval", "1 2 3 4 5 6 7", "8 9 10 11 12 13 14", terminal=Terminal("blade", 2.8, "male"))
SOME_PINS = {"1": "start_feed", "2": "start_out", "4": "x", "5": "x", "7": "x", "8": "x", "9": "ground", "12": "x", "14": "x"}

HOUSINGS = [
    FOURTEEN,
    connector("rectangular", "A1 A2 A3 A4 A5 A6 A7", "B1 B2 B3 B4 B5 B6 B7", terminal=Terminal("pin", 1.6, "male")),
    connector("rectangular", "1 2 3 4 5 6"),
    connector("round", "- 1 2 3 -", "4 - 5 - 6", "- 7 8 9 -", terminal=Terminal("pin", 2.0, "female")),
    connector("round", "1 2 3", "4 5 6", "7 8 9"),
    connector("square", "A B", "C D", "E F"),
    connector("square", "1 2 3 4"),
    connector("d-shaped", "A B C D E", "- F G H -", "- J K - -"),
    connector("d-shaped", "1 2 3", "4 5 6"),
    connector("oval", "1 2 3 4", "- 5 6 7"),
    connector("oval", "A12B B12 C4", "D"),
    connector("oval", "1"),
    connector("rectangular", "1 2 3 4 5 6 7 8 9 10", "11 12 13 14 15 16 17 18 19 20"),
]
"""Every outline, with gaps, uneven rows, long labels, one cavity only, and more columns than a phone has room for."""


def label_rows(svg: str) -> list[list[str]]:
    """The cavities as they are seen: rows from the top, each from left to right, by where they are drawn."""
    rows: dict[float, list[tuple[float, str]]] = {}
    for group in having(parse(svg), "rb-cavity"):
        left, top, *_ = box_of(group)
        rows.setdefault(top, []).append((left, group.get("data-cavity", "")))
    return [[label for _, label in sorted(row)] for _, row in sorted(rows.items())]


@pytest.mark.parametrize("side", ["switch", "wire"])
@pytest.mark.parametrize("housing", HOUSINGS)
def test_every_cavity_is_drawn_once_and_none_overlaps(housing: Connector, side: str) -> None:
    groups = having(parse(face_svg(housing, side, None, None, "t")), "rb-cavity")
    assert sorted(group.get("data-cavity", "") for group in groups) == sorted(housing.cavities)
    for one, other in combinations([box_of(group) for group in groups], 2):
        apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        assert apart, (one, other)


@pytest.mark.parametrize("side", ["switch", "wire"])
@pytest.mark.parametrize("housing", HOUSINGS)
def test_every_cavity_can_be_tapped_and_lies_on_the_drawing(housing: Connector, side: str) -> None:
    """Source: WCAG 2.2, 2.5.5: 44 by 44 CSS pixels; a drawing that is not wider than a phone is shown at its own size."""
    root = parse(face_svg(housing, side, SOME_PINS, wires(c1="RDWH", c2="GNYE"), "t"))
    _, _, width, height = (float(one) for one in root.get("viewBox", "").split())
    assert (width == WIDTH) == ("rb-drawing--wide" not in root.get("class", "").split())
    for group in having(root, "rb-cavity"):
        left, top, right, bottom = box_of(group)
        assert right - left >= TOUCH and bottom - top >= TOUCH
        assert left >= 0 and top >= 0 and right <= width and bottom <= height


def test_the_switch_side_is_as_the_rows_are_given() -> None:
    assert label_rows(face_svg(FOURTEEN, "switch", None, None, "t")) == [list("1234567"), ["8", "9", "10", "11", "12", "13", "14"]]


def test_the_wire_side_is_the_mirror_image() -> None:
    assert label_rows(face_svg(FOURTEEN, "wire", None, None, "t")) == [list("7654321"), ["14", "13", "12", "11", "10", "9", "8"]]


@pytest.mark.parametrize("housing", HOUSINGS)
def test_each_cavity_stands_as_far_from_the_left_as_it_does_from_the_right_on_the_other_side(housing: Connector) -> None:
    """Gaps and uneven rows included: the mirror is the middle of the drawing."""
    switch, wire = (parse(face_svg(housing, side, SOME_PINS, None, "t")) for side in ("switch", "wire"))
    width = float(switch.get("viewBox", "").split()[2])
    mirrored = {group.get("data-cavity"): box_of(group) for group in having(wire, "rb-cavity")}
    shift = {round(mirrored[group.get("data-cavity")][1] - box_of(group)[1], 2) for group in having(switch, "rb-cavity")}
    assert len(shift) == 1  # the words above take more room on the one than on the other, for all cavities alike
    for group in having(switch, "rb-cavity"):
        assert box_of(group)[0] == pytest.approx(width - mirrored[group.get("data-cavity")][2], abs=0.02)


def test_a_gap_in_a_row_is_a_gap_in_the_drawing() -> None:
    root = parse(face_svg(HOUSINGS[3], "switch", None, None, "t"))
    cavities = {group.get("data-cavity"): box_of(group) for group in having(root, "rb-cavity")}
    assert cavities["5"][0] - cavities["4"][2] == pytest.approx(cavities["4"][2] - cavities["4"][0])
    assert cavities["5"][0] == cavities["2"][0]


def test_a_short_row_starts_at_the_left_of_the_switch_and_so_at_the_right_of_the_wires() -> None:
    housing = connector("oval", "1 2 3", "4 5")
    assert [(place.label, place.column) for place in places(housing, "switch") if place.row == 1] == [("4", 0), ("5", 1)]
    assert [(place.label, place.column) for place in places(housing, "wire") if place.row == 1] == [("5", 1), ("4", 2)]


@pytest.mark.parametrize("side", ["switch", "wire"])
def test_the_drawing_says_in_words_which_side_it_is(side: str) -> None:
    root = parse(face_svg(FOURTEEN, side, SOME_PINS, None, "t"))
    words, (_, desc) = " ".join(texts(root)), alternatives(root)
    here, other = ("Switch side", "Wire side") if side == "switch" else ("Wire side", "Switch side")
    assert here in words and other not in words
    assert here.lower() in desc and other.lower() not in desc
    assert ("mirror image" in words) == (side == "wire")
    assert "latch" in words


def test_a_side_that_there_is_not_is_refused() -> None:
    with pytest.raises(ValueError, match="switch side and a wire side"):
        face_svg(FOURTEEN, "back", None, None, "t")  # type: ignore[arg-type]


def test_filled_and_hollow_cavities_are_the_ones_with_and_without_a_pin() -> None:
    root = parse(face_svg(FOURTEEN, "switch", SOME_PINS, None, "t"))
    filled = {one.get("data-cavity") for one in having(root, "rb-cavity--pin")} - {None}
    empty = {one.get("data-cavity") for one in having(root, "rb-cavity--empty")} - {None}
    assert filled == set(SOME_PINS) and empty == {"3", "6", "10", "11", "13"}
    assert "9 with a pin" in texts(root) and "5 without a pin" in texts(root)


def test_a_pin_is_told_by_a_shape_too_not_by_colour_alone() -> None:
    for group in having(parse(face_svg(FOURTEEN, "switch", SOME_PINS, None, "t")), "rb-cavity"):
        assert bool(having(group, "rb-terminal")) == (group.get("data-cavity") in SOME_PINS)


def test_wires_fill_the_cavities_where_nothing_is_said_of_pins() -> None:
    root = parse(face_svg(FOURTEEN, "wire", None, wires(c1="RD", c2="RDBK"), "t"))
    assert {one.get("data-cavity") for one in having(root, "rb-cavity--pin")} - {None} == {"1", "2"}
    assert "2 with a wire" in texts(root)


def test_a_bare_housing_is_neither_filled_nor_empty() -> None:
    root = parse(face_svg(FOURTEEN, "switch", None, None, "t"))
    assert len(having(root, "rb-cavity--bare")) == 14
    assert not having(root, "rb-cavity--pin") and not having(root, "rb-cavity--empty")


def test_no_pin_at_all_is_not_the_same_as_not_known() -> None:
    assert len(having(parse(face_svg(FOURTEEN, "switch", {}, None, "t")), "rb-cavity--empty")) == 14 + 1  # and the key below


def test_a_wire_has_its_colours_and_its_code() -> None:
    root = parse(face_svg(FOURTEEN, "wire", None, wires(c1="RDBK", c2="GNYE", c3=None, c4="RX"), "t"))
    cavities = {one.get("data-cavity"): one for one in having(root, "rb-cavity")}
    assert having(cavities["1"], "rb-wire-rd") and having(cavities["1"], "rb-wire-bk")
    assert "".join(texts(cavities["1"])) == "1RDBK"
    assert "".join(texts(cavities["2"])) == "2GNYE"
    assert texts(cavities["3"]) == ["3", "?"] and not having(cavities["3"], "rb-wire")
    assert texts(cavities["4"]) == ["4", "RX"] and having(cavities["4"], "rb-wire-none")
    assert texts(cavities["5"]) == ["5", "–"]


def test_pins_without_a_wire_and_wires_without_a_pin_are_named() -> None:
    """A nine-pin switch on a five-wire plug leaves four pins idle: common practice, no source."""
    nine = {str(number): "x" for number in range(1, 10)}
    five = wires(**{f"c{number}": "RD" for number in (1, 2, 7, 8, 9)})
    assert "Pins without a wire: 3, 4, 5, 6." in texts(parse(face_svg(FOURTEEN, "switch", nine, five, "t")))
    assert "Wires without a pin: 11." in texts(parse(face_svg(FOURTEEN, "switch", nine, {**five, **wires(c11="BU")}, "t")))


def test_a_pin_that_the_housing_has_no_place_for_is_named() -> None:
    root = parse(face_svg(FOURTEEN, "switch", {"1": "x", "15": "x"}, wires(c16="RD"), "t"))
    assert "no such cavity: 15, 16." in " ".join(texts(root))
    assert "15" not in {one.get("data-cavity") for one in having(root, "rb-cavity")}


@pytest.mark.parametrize(
    ("terminal", "shape", "hollow"),
    [
        (Terminal("blade", 2.8, "male"), "rect", False),
        (Terminal("blade", 2.8, "female"), "rect", True),
        (Terminal("pin", 1.6, "male"), "circle", False),
        (Terminal("socket", 1.6, None), "circle", True),
    ],
)
def test_a_terminal_hints_at_its_shape(terminal: Terminal, shape: str, hollow: bool) -> None:
    root = parse(face_svg(connector("oval", "1 2", terminal=terminal), "switch", {"1": "x"}, None, "t"))
    (mark,) = having(root, "rb-terminal")
    assert mark.tag.endswith(shape) and ("rb-terminal--hollow" in mark.get("class", "").split()) == hollow


def test_a_terminal_that_is_not_known_is_not_guessed() -> None:
    assert not having(parse(face_svg(connector("oval", "1 2"), "switch", {"1": "x"}, None, "t")), "rb-terminal")


def test_the_text_alternative_says_what_the_picture_shows() -> None:
    title, desc = alternatives(parse(face_svg(connector("oval", "1 2", "3 4"), "wire", {"1": "start_feed"}, wires(c1="RDBK"), "Plug of X")))
    assert title == "Plug of X"
    assert "Row 1 from the left: 2: no pin; no wire. 1: pin, start feed; red with a black stripe wire." in desc


@pytest.mark.parametrize("nasty", ["<script>alert(1)</script>", '"><b>', "a & b", "x\x00\x0b", "]]>"])
def test_no_text_breaks_out(nasty: str) -> None:
    housing = Connector("c", nasty, "oval", ((nasty, "2"),), None, None, None, (), None, (), None)  # type: ignore[arg-type]
    svg = face_svg(housing, "wire", {nasty: nasty}, wires(**{f"c{nasty}": nasty, "c2": nasty}), nasty)
    assert rules_of_the_house(svg) == []
    assert "<script" not in svg and "<b>" not in svg
    # read back by another reader, nothing is lost but what XML cannot hold
    assert alternatives(parse(svg))[0] == "".join(letter for letter in nasty if letter >= " ")


@pytest.mark.parametrize("housing", HOUSINGS)
def test_a_face_keeps_the_rules_of_the_house_and_comes_out_the_same(housing: Connector) -> None:
    one = face_svg(housing, "wire", SOME_PINS, wires(c1="RDWH", c2="BU"), "t")
    assert rules_of_the_house(one) == []
    assert face_svg(housing, "wire", dict(SOME_PINS), wires(c1="RDWH", c2="BU"), "t") == one


def test_a_jumper_is_a_bridge_between_its_cavities() -> None:
    svg = face_svg(FOURTEEN, "wire", None, wires(c1="RD"), "t", [("2", "3"), ("4", "99")])
    assert rules_of_the_house(svg) == []
    drawn = parse(svg)
    (bridge,) = having(drawn, "rb-jumper")
    ends = having(drawn, "rb-jumper-end")
    assert len(ends) == 3, "an end in no cavity of the housing is told and not drawn"
    assert all(f"{float(one.attrib['cx']):g}" in bridge.attrib["d"] for one in ends[:2])
    assert "A jumper inside the plug joins 2 and 3." in " ".join(texts(drawn)) and "joins 4 and 99." in alternatives(drawn)[1]


def test_a_housing_that_mixes_terminals_shows_and_says_which_is_where() -> None:
    blade = Terminal("blade", 1.5, "male")
    mixed = replace(connector("oval", "1 2 3", terminal=blade), terminals={"1": Terminal("blade", 2.8, "male", plating="gold")})
    drawn = parse(face_svg(mixed, "switch", None, None, "t"))
    bars = [float(one.attrib["width"]) for one in having(drawn, "rb-terminal")]
    assert bars[0] > bars[1] == bars[2]
    told = " ".join(texts(drawn))
    assert "1: blade 2.8 mm gold." in told and "2, 3: blade 1.5 mm." in told
    plain = parse(face_svg(connector("oval", "1 2", terminal=blade), "switch", None, None, "t"))
    assert "blade" not in " ".join(texts(plain))
