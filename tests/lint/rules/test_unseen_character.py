"""unseen-character."""

import sys
import unicodedata
from collections.abc import Iterator

import pytest

from rangebook.reading.strict_yaml import UNSEEN
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed


@operator("a zero-width space before the title", "unseen-character")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        start = source.at("title").start
        yield source.seed((start, start, "\u200b"))


ESCAPES = [
    r"\0",
    r"\t",
    r"\n",
    r"\x1b",
    r"\e",
    r"\N",
    r"\u00ad",
    r"\u200b",
    r"\u200f",
    r"\u202e",
    r"\u2066",
    r"\ufeff",
    r"\L",
    r"\P",
    r"\U000e0041",
]


@pytest.mark.parametrize("escape", ESCAPES)
@pytest.mark.parametrize("line", ['title: "a%sb"', 'number: "TW-%s7706"', '"%stitle": x', 'note: ["%s"]', 'moves: {"%s1": 1}'])
def test_by_an_escape(look, line, escape):
    (found,) = look("unseen-character", f"    kind: kit\n    {line % escape}\n")
    assert found.at.startswith('"') and "U+" in found.message


@pytest.mark.parametrize("sign", "\u00ad\u200b\u200d\u202e\u2066\U000e0041")
@pytest.mark.parametrize("value", ["a%sb", "'a%sb'", '"a%sb"', "|\n      a%sb", ">\n      a%sb"])
def test_as_it_is(look, value, sign):
    assert len(look("unseen-character", f"    kind: kit\n    note: {value % sign}\n")) == 1


@pytest.mark.parametrize(
    "value",
    [
        '"a \\\\ \\u00fc \\" b"',
        "|\n      a\n      b\n\n      c",
        "a\n      b",
        "'C:\\new'",
        "Ω – ü °",
        r'"a \
      b"',
    ],
)
def test_what_can_be_seen_is_let_be(look, value):
    assert look("unseen-character", f"    kind: kit\n    note: {value}\n") == []


def test_every_such_character_of_unicode():
    """Against Python's own copy of the Unicode Character Database."""
    wanted = {sign for sign in map(chr, range(sys.maxunicode + 1)) if unicodedata.category(sign) in ("Cc", "Cf", "Zl", "Zp")}
    found = {sign for sign in map(chr, range(sys.maxunicode + 1)) if UNSEEN.match(sign)}
    assert wanted <= found
    assert {unicodedata.category(sign) for sign in found - wanted} <= {"Cn"}, "a later Unicode may have more"
