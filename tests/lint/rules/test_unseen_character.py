"""unseen-character."""

import sys
import unicodedata
from collections.abc import Iterator

import pytest

from rangebook.reading.unseen import UNSEEN, has_unseen
from rangebook.schema.patterns import matches
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
    r"\u034f",
    r"\u3164",
    r"\uffa0",
    r"\ufe0f",
    r"\u2800",
    r"\U000e0100",
]


@pytest.mark.parametrize("escape", ESCAPES)
@pytest.mark.parametrize("line", ['title: "a%sb"', 'number: "TW-%s7706"', '"%stitle": x', 'note: ["%s"]', 'moves: {"%s1": 1}'])
def test_by_an_escape(look, line, escape):
    (found,) = look("unseen-character", f"    kind: kit\n    {line % escape}\n")
    assert found.at.startswith('"') and "U+" in found.message


@pytest.mark.parametrize("sign", "\u00ad\u034f\u115f\u200b\u200d\u202e\u2066\u2800\ufe0e\U000e0041")
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
    """Against Python's own copy of the Unicode Character Database, and for what is drawn as nothing that of Rust's regular expressions."""
    every = [chr(code) for code in range(sys.maxunicode + 1) if not 0xD800 <= code < 0xE000]
    wanted = {sign for sign in every if unicodedata.category(sign) in ("Cc", "Cf", "Zl", "Zp")}
    for begin in range(0, len(every), 256):
        signs = every[begin : begin + 256]
        if matches(r"\p{Default_Ignorable_Code_Point}", "".join(signs)):
            wanted |= {sign for sign in signs if matches(r"\p{Default_Ignorable_Code_Point}", sign)}
    found = {sign for sign in every if UNSEEN.match(sign)}
    assert wanted <= found
    assert {sign for sign in found - wanted if unicodedata.category(sign) != "Cn"} == {"\u2800"}, "a later Unicode may have more"


def test_of_ascii_it_is_told_without_the_pattern() -> None:
    for number in range(0x180):
        sign = chr(number)
        assert has_unseen(f"a{sign}b") == (sign != "\n" and UNSEEN.match(sign) is not None), number
