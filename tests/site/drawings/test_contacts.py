"""What a part does in each position, as a chart."""

from __future__ import annotations

import pytest
from tests.site.drawings.making import alternatives, contact, having, parse, part, rules_of_the_house, texts

from rangebook.book.model import Part, Signal
from rangebook.site.drawings.contacts import WIDTH, contact_chart_svg, ohms_words

LEVER = ("P", "R", "N", "D", "2", "1")
LADDER = {"P": 4700.0, "R": 2200.0, "N": None, "D": 0.0, "2": 360.0}
PART = part(
    "A-1",
    pins={"1": "start_feed", "2": "start_out", "5": "range_signal", "6": "range_return", "7": "ground", "8": "supply"},
    contacts=[contact("1", "2", "P N"), contact("5", "6", ohms=LADDER), contact("7", "case"), contact("3", "4", "")],
    signals=[Signal("5", "8", "7", "duty_percent", {"P": 10.0, "R": 20.5}, 2.0, ())],
)


def states(svg: str) -> dict[str, dict[str, str]]:
    """Row -> position -> state, as drawn."""
    found = {}
    for row in having(parse(svg), "rb-row"):
        cells = {one.get("data-position", ""): one.get("class", "").split("--")[-1] for one in having(row, "rb-state")}
        found.setdefault(row.get("data-pins", ""), {}).update(cells)
    return found


def test_every_contact_has_a_state_in_every_position() -> None:
    found = states(contact_chart_svg(PART, LEVER))
    assert found["1 – 2"] == {"P": "closed", "R": "open", "N": "closed", "D": "open", "2": "open", "1": "open"}
    assert found["3 – 4"] == dict.fromkeys(LEVER, "open")  # never closed is known; that is not "not stated"
    assert found["7 – case"] == dict.fromkeys(LEVER, "unknown")


def test_a_ladder_shows_its_figures_and_what_they_leave_out() -> None:
    svg = contact_chart_svg(PART, LEVER)
    assert states(svg)["5 – 6"] == {"P": "ohms", "R": "ohms", "N": "open", "D": "closed", "2": "ohms", "1": "unknown"}
    row = next(one for one in having(parse(svg), "rb-row") if one.get("data-pins") == "5 – 6")
    figures = [text for text in texts(row) if text in ("4.7k", "2.2k", "360", "?")]
    assert figures == ["4.7k", "2.2k", "360", "?"]
    assert any("±5\u00a0%" in text for text in texts(row))


def test_a_powered_output_has_a_row_with_its_unit() -> None:
    svg = contact_chart_svg(PART, LEVER)
    assert states(svg)["5"] == {"P": "value", "R": "value", "N": "unknown", "D": "unknown", "2": "unknown", "1": "unknown"}
    words = texts(parse(svg))
    assert "20.5" in words and "powered output, duty in percent ±2; supply 8, ground 7" in " ".join(words)


def test_columns_are_in_lever_order_and_in_line_from_row_to_row() -> None:
    root = parse(contact_chart_svg(PART, LEVER))
    heads = [one for one in root.iter() if one.tag.endswith("text")][: len(LEVER)]
    assert [one.text for one in heads] == list(LEVER)
    middles = [float(one.get("x", "nan")) for one in heads]
    assert middles == sorted(middles)
    for row in having(root, "rb-row"):
        for cell, middle in zip(having(row, "rb-state"), middles, strict=True):
            shapes = [*having(cell, "rb-closed"), *having(cell, "rb-value")]
            found = [float(one.get("x", "nan")) + float(one.get("width", "nan")) / 2 for one in shapes]
            ends = [float(one.get("cx", "nan")) for one in having(cell, "rb-open-end")]
            found += [sum(ends) / 2] if ends else []
            assert found == [pytest.approx(middle, abs=0.02)]


def test_closed_is_a_bar_open_is_a_gap_and_not_stated_a_question_mark() -> None:
    root = parse(contact_chart_svg(PART, LEVER))
    for cell in having(root, "rb-state"):
        state = cell.get("class", "").split("--")[-1]
        assert bool(having(cell, "rb-closed")) == (state == "closed")
        assert len(having(cell, "rb-open-end")) == (2 if state == "open" else 0)
        assert ("?" in texts(cell)) == (state == "unknown")


def test_the_key_explains_only_what_is_there() -> None:
    plain = part("B", contacts=[contact("1", "2", "P R N D 2 1")])
    assert "closed" in texts(parse(contact_chart_svg(plain, LEVER)))
    assert not {"open", "not stated: measure it"} & set(texts(parse(contact_chart_svg(plain, LEVER))))


def test_many_or_wide_columns_go_on_in_a_second_band() -> None:
    many = tuple(f"D{number}" for number in range(1, 13))
    wide = part("B", contacts=[contact("1", "2", "D1"), contact("3", "4", ohms=dict.fromkeys(many, 12345.0))])
    svg = contact_chart_svg(wide, many)
    assert states(svg)["3 – 4"] == dict.fromkeys(many, "ohms")
    for cell in (one for one in parse(svg).iter() if one.tag.endswith("rect")):
        assert float(cell.get("x", "nan")) + float(cell.get("width", "nan")) <= WIDTH


@pytest.mark.parametrize("nothing", [part("B", contacts=None), part("B", contacts=[])])
def test_a_part_of_which_nothing_is_known_says_what_to_do(nothing: Part) -> None:
    root = parse(contact_chart_svg(nothing, LEVER))
    assert "measure between each two pins" in " ".join(texts(root)) and not having(root, "rb-state")


@pytest.mark.parametrize(
    ("ohms", "words"), [(4700, "4.7k"), (1000, "1k"), (999, "999"), (12345, "12.345k"), (0.5, "0.5"), (2.2e6, "2.2M"), (150.25, "150.25")]
)
def test_ohms_are_written_short_and_nothing_is_rounded_away(ohms: float, words: str) -> None:
    assert ohms_words(ohms) == words


def test_the_text_alternative_tells_every_state() -> None:
    title, desc = alternatives(parse(contact_chart_svg(PART, LEVER, {"start_feed": "starter, feed"})))
    assert "A-1" in title
    assert "1 – 2 (starter, feed to start out): P closed, R open, N closed" in desc
    assert "P 4700 ohms, R 2200 ohms, N open, D closed, 2 360 ohms, 1 not stated." in desc


def test_a_chart_keeps_the_rules_of_the_house_and_comes_out_the_same() -> None:
    nasty = part('"><b>&', contacts=[contact("<a>", "case", "P")], pins={"<a>": "<script>"})
    for one in (PART, nasty):
        svg = contact_chart_svg(one, LEVER)
        assert rules_of_the_house(svg) == [] and "<script" not in svg
        assert contact_chart_svg(one, LEVER) == svg
