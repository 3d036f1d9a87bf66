"""The catalogue: what a message can hold, and that plural forms are those of the Unicode CLDR."""

from __future__ import annotations

from typing import Any, NamedTuple

import pytest

from rangebook.words.catalogue import Catalogue, CatalogueError, catalogue
from rangebook.words.lists import enumerated, listed, sentence
from rangebook.words.plurals import category_of


class Bolt(NamedTuple):
    size_mm: float | None
    at: str


def made(message: Any, **more: Any) -> Catalogue:
    shared = {"bolt": ["{size_mm|g} at {at}", {"select": "at", "P": " (parked)", "other": ""}], "who": "{WHO} {value}"}
    data = {"plurals": {"one": "i = 1 and v = 0"}, "decimal": ".", "lists": {"and": [", ", " and "]}, "names": {"WHO": "it"}}
    return Catalogue({**data, "shared": shared, "all": {"one": message}, **more})


@pytest.mark.parametrize(
    ("message", "values", "text"),
    [
        ("a {b} c", {"b": 1}, "a 1 c"),
        ("{b|.1f} and {b|.4g}", {"b": 1.25678}, "1.3 and 1.257"),
        ("{b|and}", {"b": ("P", "R", "N")}, "P, R and N"),
        ("{b|and}", {"b": ()}, ""),
        ("{b|bolt}", {"b": Bolt(6.0, "P")}, "6 at P (parked)"),
        ("{b|bolt|and}", {"b": (Bolt(6.0, "P"), Bolt(8.5, "R"))}, "6 at P (parked) and 8.5 at R"),
        ("{b.size_mm|g}", {"b": Bolt(6.0, "P")}, "6"),
        ("{b|count}", {"b": ("x", "y")}, "2"),
        ("{b|who}", {"b": "goes"}, "it goes"),
        ({"plural": "b", "one": "1 wire", "other": "{b} wires"}, {"b": 2}, "2 wires"),
        ({"plural": "b", "one": "wire {b|and}", "other": "wires {b|and}"}, {"b": ("4",)}, "wire 4"),
        ({"select": "b", "true": "yes", "other": "no"}, {"b": True}, "yes"),
        ({"select": "b", "none": "not stated", "0": "no", "other": "{b}"}, {"b": None}, "not stated"),
        ({"given": "b", "yes": "so"}, {"b": ()}, ""),
        ({"given": "b.size_mm", "yes": "so", "no": "not"}, {"b": Bolt(None, "P")}, "not"),
        ({"given": "b.size_mm", "yes": "so", "no": "not"}, {"b": None}, "not"),
        (["{b}", {"given": "b", "yes": ", yes"}], {"b": "x"}, "x, yes"),
    ],
)
def test_what_a_message_can_hold(message: Any, values: dict[str, Any], text: str) -> None:
    assert made(message).say("all", "one", values) == text


def test_a_name_can_be_given_another_one_also_inside_a_shared_message() -> None:
    assert made("{WHO}, {b|who}").say("all", "one", {"b": "goes"}, {"WHO": "A-1"}) == "A-1, A-1 goes"


@pytest.mark.parametrize(
    ("message", "values"),
    [
        ("{b}", {}),
        ("{b|nothing}", {"b": 1}),
        ("{b}", {"b": None}),
        ("{b}", {"b": ("x",)}),
        ({"select": "b", "x": ""}, {"b": "y"}),
        ({}, {}),
    ],
)
def test_what_cannot_be_said_is_an_error_and_no_odd_text(message: Any, values: dict[str, Any]) -> None:
    with pytest.raises(CatalogueError):
        made(message).say("all", "one", values)


def test_a_message_that_is_not_there_is_an_error() -> None:
    with pytest.raises(CatalogueError, match="all: two"):
        made("").say("all", "two")


def test_another_language_is_another_file() -> None:
    """Forms by its own rules, a decimal comma, its own list words. Rules of Polish: Unicode CLDR, plurals.xml."""
    polish = {"one": "i = 1 and v = 0", "few": "v = 0 and i % 10 = 2..4 and i % 100 != 12..14"}
    message = ["{b|.1f}, ", {"plural": "c", "one": "{c} przewód", "few": "{c} przewody", "other": "{c} przewodów"}, ": {d|and}"]
    of = made(message, plurals=polish, decimal=",", lists={"and": [", ", " i "]})
    said = [of.say("all", "one", {"b": 1.5, "c": count, "d": ("P", "R")}) for count in (1, 3, 12, 22)]
    assert said == ["1,5, 1 przewód: P i R", "1,5, 3 przewody: P i R", "1,5, 12 przewodów: P i R", "1,5, 22 przewody: P i R"]


@pytest.mark.parametrize("language", ["en", "pl", "ru", "ar", "cs", "ja", "fr", "lt", "sl", "cy", "ga", "he", "mt", "br"])
def test_plural_forms_are_those_of_the_unicode_cldr(language: str) -> None:
    """Oracle: Babel, which carries the CLDR's rules."""
    core = pytest.importorskip("babel.core")
    rule = core.Locale.parse(language).plural_form
    # Babel writes them down in the older notation.
    notation = ((" not in ", " != "), (" in ", " = "), (" mod ", " % "))
    rules = dict(rule.rules)
    for old, new in notation:
        rules = {category: text.replace(old, new) for category, text in rules.items()}
    ours = category_of(rules)
    for count in (*range(250), 1_000, 1_000_000, 2_000_001):
        assert ours(count) == rule(count), (language, count)


def test_what_is_no_rule_is_refused() -> None:
    with pytest.raises(ValueError, match="no plural rule"):
        category_of({"one": "n is 1"})


def test_lists_and_counts() -> None:
    assert [listed(()), listed("a"), listed("ab"), listed("abc"), listed("ab", "or")] == ["", "a", "a and b", "a, b and c", "a or b"]
    assert (enumerated([]), enumerated("abc"), enumerated(map(str, range(14)))) == (
        "none",
        "a, b, c",
        "0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11 and 2 more",
    )
    assert (sentence("so it is"), sentence("")) == ("So it is", "")


def test_every_message_of_every_section_can_be_read() -> None:
    """What is misspelt in the file is found here and not on a page."""
    found = catalogue()
    for section in found.data:
        if section not in ("plurals", "decimal", "lists", "names"):
            for key, message in found.data[section].items():
                found._maker(message)
                assert message != "", (section, key)
