"""Supersession as a picture."""

from __future__ import annotations

import pytest
from tests.making import book, connector, family, part
from tests.site.drawings.making import alternatives, having, parse, rules_of_the_house, texts

from rangebook.book.model import Need
from rangebook.fitting.supersession import chain_ends
from rangebook.site.drawings.chain import chain_svg, month_words, needs_words


def to(number: str, **more: object) -> dict[str, object]:
    return {"number": number, **more}


KIT = {"kit": "c-renewal", "seal": 4}

BOOK = book(
    connector("c", 4),
    {
        "kind": "kit", "id": "c-renewal", "number": "TW-1", "title": "Renewal", "from": "c", "to": "c", "moves": {"1": "1"}, "seals": [4],
        "blanks": 1,
    },
    family(
        "f",
        [
            part("A-1", status="superseded", superseded_by=[to("A-2", since="1996-02", needs=[KIT], note="two & two")]),
            part("A-2", status="superseded", superseded_by=[to("A-3", since="1999", needs=[]), to("A-4", needs=[{"blanks": 1}])]),
            part("A-3", status="current"),
            part("A-4", status="superseded", superseded_by=[to("A 3"), to("X-9")]),
            part("L-1", status="superseded", superseded_by=[to("L-2")]),
            part("L-2", status="superseded", superseded_by=[to("L-1")]),
            part("W-1", status="superseded", superseded_by=[to("W-2"), to("W-3"), to("W-4")]),
            part("W-2", status="withdrawn"),
            part("W-3", status="discontinued"),
            part("W-4"),
            part("ALONE", status="current"),
        ],
    ),
)  # fmt: skip


def drawn(number: str, **more: object):
    found = BOOK.part(number)
    assert found
    return parse(chain_svg(chain_ends(BOOK, found), found, **more))  # type: ignore[arg-type]


def stops(root) -> list[tuple[str, str]]:
    """Number and kind of mark of each stop, from the top down as they are drawn."""
    found = []
    for one in having(root, "rb-stop"):
        heights = [float(text.get("y", "nan")) for text in one.iter() if text.tag.endswith("text")]
        found.append((min(heights), one.get("data-number", ""), one.get("class", "").split("--")[-1]))
    assert found == sorted(found, key=lambda one: one[0])
    return [(number, mark) for _, number, mark in found]


def test_the_chain_runs_from_the_part_down_to_every_end() -> None:
    assert stops(drawn("A-1")) == [
        ("A-1", "start"), ("A-2", "step"), ("A-3", "current"), ("A-4", "step"), ("A 3", "again"), ("X-9", "missing"),
    ]  # fmt: skip


def test_each_stop_but_the_first_has_a_rail_and_an_arrow_that_come_from_above() -> None:
    root = drawn("A-1")
    assert len(having(root, "rb-arrow")) == len(having(root, "rb-rail")) == 5


def test_a_fork_sets_each_way_in() -> None:
    root = drawn("W-1")
    xs = {}
    for one in having(root, "rb-stop"):
        number = having(one, "rb-strong")[-1]  # before it, in the mark, there may be a question mark
        xs[one.get("data-number")] = float(number.get("x", "nan"))
    assert xs["W-2"] == xs["W-3"] == xs["W-4"] > xs["W-1"]
    assert "3 ways from here:" in texts(root)


def test_dates_needs_and_notes_are_told() -> None:
    words = texts(drawn("A-1", kits={"c-renewal": "TW-1"}))
    assert [one for one in words if one.startswith("since") or one == "date not stated"] == [
        "since February 1996", "since 1999", "date not stated", "date not stated", "date not stated",
    ]  # fmt: skip
    for told in ("+\u00a0kit TW-1, rear seal for 4\u00a0wires", "“two & two”", "nothing else needed"):
        assert told in words
    assert words.count("what else it takes is not stated") == 2  # left out is not the same as none


def test_the_end_adds_up_what_is_needed_on_the_way() -> None:
    words = texts(drawn("A-1", kits={"c-renewal": "TW-1"}))
    at = words.index("In all, from A-1:")
    assert words[at + 1] == "+\u00a0kit TW-1, rear seal for 4\u00a0wires"
    assert not words[at + 2].startswith("and what")  # both steps to A-3 say what they take


def test_the_sum_says_so_where_a_step_on_the_way_leaves_open_what_it_takes() -> None:
    words = texts(drawn("A-4"))
    assert "In all, from A-4:" not in words
    words = texts(drawn("A-2"))
    at = words.index("In all, from A-2:")
    assert words[at + 1] == "+\u00a01\u00a0blanking plug"
    assert " ".join(words[at + 2 : at + 4]).startswith("and what a step on the way takes, which is not stated")


def test_a_chain_does_not_pass_for_a_verdict() -> None:
    assert "Whether it fits a vehicle is in its verdict." in " ".join(texts(drawn("A-1")))


@pytest.mark.parametrize(
    ("number", "mark", "words"),
    [
        ("W-2", "withdrawn", "withdrawn: taken back, do not fit it"),
        ("W-3", "discontinued", "discontinued: no longer made"),
        ("W-4", "unsure", "status not stated"),
    ],
)
def test_an_end_shows_its_status_by_shape_and_words(number: str, mark: str, words: str) -> None:
    root = drawn("W-1")
    assert (number, mark) in stops(root) and words in texts(root)


def test_the_marks_differ_in_shape() -> None:
    def shape(stop) -> tuple[str, ...]:
        """The kinds of element with their sizes, colours left aside."""
        marks = [one for one in stop.iter() if "rb-mark" in one.get("class", "")]
        return tuple(f"{one.tag} {one.get('r')} {one.get('width')} {one.get('d', '').count('M')}" for one in marks)

    marks = {one.get("class", "").split("--")[-1]: shape(one) for number in ("A-1", "W-1") for one in having(drawn(number), "rb-stop")}
    apart = [marks[kind] for kind in ("start", "step", "current", "withdrawn", "discontinued", "unsure")]
    assert all(apart) and len(set(apart)) == len(apart)


def test_a_chain_that_comes_back_has_no_end_and_says_so() -> None:
    root = drawn("L-1")
    assert stops(root) == [("L-1", "start"), ("L-2", "step"), ("L-1", "loop")]
    assert "the chain comes back here: it has no end" in " ".join(texts(root))


def test_a_part_that_nothing_takes_the_place_of() -> None:
    root = drawn("ALONE")
    assert stops(root) == [("ALONE", "start")]
    assert "The book has nothing that takes its place." in " ".join(texts(root))
    assert not having(root, "rb-arrow")


def test_the_text_alternative_tells_the_same() -> None:
    title, desc = alternatives(drawn("A-1"))
    assert title == "What takes the place of A-1"
    assert desc.startswith("A-1: superseded. since February 1996.") and "A-3: current: the maker sells it." in desc


@pytest.mark.parametrize(
    ("since", "words"),
    [("2009-05", "since May 2009"), ("2009", "since 2009"), ("1996-12", "since December 1996"), (None, "date not stated")],
)
def test_dates_in_words(since: str | None, words: str) -> None:
    assert month_words(since) == words


def test_needs_in_words() -> None:
    assert needs_words(None, {}) == ["what else it takes is not stated"]
    assert needs_words((), {}) == ["nothing else needed"]
    assert needs_words([Need("k", 7, 2, "read it")], {}) == ["kit k, rear seal for 7\u00a0wires, 2\u00a0blanking plugs (read it)"]
    assert needs_words([Need(note="a bracket"), Need(blanks=1)], {}) == ["a bracket", "1\u00a0blanking plug"]


@pytest.mark.parametrize("number", ["A-1", "L-1", "W-1", "ALONE"])
def test_a_chain_keeps_the_rules_of_the_house_and_comes_out_the_same(number: str) -> None:
    found = BOOK.part(number)
    assert found
    svg = chain_svg(chain_ends(BOOK, found), found)
    assert rules_of_the_house(svg) == []
    assert chain_svg(chain_ends(BOOK, found), found) == svg


def test_a_number_on_the_way_that_was_withdrawn_is_warned_of() -> None:
    made = book(
        connector("c", 4),
        family(
            "f",
            [
                part("A-1", status="superseded", superseded_by=[to("A-2")]),
                part("A-2", status="withdrawn", superseded_by=[to("A-3")]),
                part("A-3", status="current"),
            ],
        ),
    )
    first = made.part("A-1")
    assert first
    said = chain_svg(chain_ends(made, first), first, parts=made.by_number)
    assert "A-2: withdrawn: taken back, do not fit it." in said
