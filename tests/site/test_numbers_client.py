"""The find box takes two numbers for one as Python does, and for look-alikes."""

from __future__ import annotations

import random
import sys
import unicodedata
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

import rangebook.site
from rangebook.book.numbers import look, normalise

CLIENT = Path(rangebook.site.__file__).parent / "client"

LATER = {"Cn", "Cs", "Co"}
"""What a browser's Unicode may know more of than Python's, and what is no character."""


@pytest.fixture(scope="module")
def blank(browser: Browser) -> Page:
    page = browser.new_page()
    search = (CLIENT / "shared/search.js").read_text("utf-8").replace("export ", "")
    page.add_script_tag(type="module", content=f"{search}\nwindow.numbers = {{ normalise, look, numberList, lookAlikes }};")
    page.wait_for_function("() => window.numbers")
    return page


def _is_later(sign: str) -> bool:
    return unicodedata.category(sign) == "Cn"


def test_every_character_of_unicode(blank: Page) -> None:
    signs = [sign for sign in map(chr, range(sys.maxunicode + 1)) if unicodedata.category(sign) not in LATER]
    there = blank.evaluate("(signs) => signs.map((sign) => numbers.normalise(`a${sign}1`))", signs)
    # A capital that a later Unicode gave to a letter is not known here.
    there = [normalise(f"a{sign}1") if any(map(_is_later, got)) else got for sign, got in zip(signs, there, strict=True)]
    apart = {
        f"U+{ord(sign):04X}": (normalise(f"a{sign}1"), got) for sign, got in zip(signs, there, strict=True) if normalise(f"a{sign}1") != got
    }
    assert apart == {}


def test_numbers_as_people_paste_them(blank: Page) -> None:
    rng = random.Random(5)
    odd = "‐‑‒–—−﹣－\u00ad\u200b\u200d\ufeff\u202e\u00a0АВЕКМНОРСТХаеорсхіΑΒΕΟοТВ０１２ＴＢｔｂ⁄∕/. -"
    typed = ["".join(rng.choices("TB-10263OILSZ" + odd, k=rng.randint(1, 12))) for _ in range(2000)]
    assert blank.evaluate("(typed) => typed.map((one) => numbers.normalise(one))", typed) == list(map(normalise, typed))
    assert blank.evaluate("(typed) => typed.map((one) => numbers.look(numbers.normalise(one)))", typed) == [
        look(normalise(one)) for one in typed
    ]


def test_what_looks_like_a_number_is_found(blank: Page) -> None:
    book = {"families": [["f", "Family", ["TB-10263", "TB-10264"], "cc"]], "others": [], "kits": [["TW-8871", "Kit", "kits/k/"]]}
    for typed, number in (
        ("TB-1O263", "TB-10263"),
        ("tb l0z6A", None),
        ("T8-IO2G4", None),
        ("TB-lO264", "TB-10264"),
        ("TW-BB7I", "TW-8871"),
    ):
        found = blank.evaluate(
            "([book, typed]) => numbers.lookAlikes(numbers.numberList(book), typed).map((one) => one.number)", [book, typed]
        )
        assert found == ([number] if number else []), typed
