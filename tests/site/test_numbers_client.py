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
    page.add_script_tag(
        type="module",
        content=f"{search}\nwindow.numbers = {{ normalise, look, numberList, lookAlikes, asked, findVehicles, withoutSlips }};",
    )
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


def test_what_a_label_or_a_bar_code_says_is_the_number_on_it(blank: Page) -> None:
    """Data identifiers of ANSI MH10.8.2 and application identifiers of the GS1 General Specifications, from memory."""
    numbers = [["f", "Family", ["TB-10263", "0705 11", "P 7788"], "ccc"]]
    book = {"families": numbers, "others": [["55 1", "a box", 0, 0]], "kits": [["TW-8871", "Kit", "kits/k/"]]}
    for typed, text, seat in (
        ("https://shop.example/book/?q=TB-10263&seat=f%2Fs", "TB-10263", "f/s"),
        ("http://shop.example/label/?part=TB-10263", "TB-10263", None),
        ("https://shop.example/", "https://shop.example/", None),
        ("http://[", "http://[", None),
        ("1PTB-10263", "TB-10263", None),
        ("(240)TB 10263", "TB-10263", None),
        ("PTW-8871", "TW-8871", None),
        ("[)>\x1e06\x1dP TB-10263\x1dQ3\x1e\x04", "TB-10263", None),
        ("240TB10263\x1d10LOT7", "TB-10263", None),
        ("P 7788", "P 7788", None),
        ("P0705", "P0705", None),
        ("1PNOTHING", "1PNOTHING", None),
    ):
        got = blank.evaluate("([typed, book]) => numbers.asked(typed, numbers.numberList(book))", [typed, book])
        assert got == {"text": text, "seat": seat}, typed


def test_another_number_leads_to_the_part(blank: Page) -> None:
    book = {"families": [["f", "Family", ["TB-1", "TB-2"], "cs"]], "others": [["55 1", "a box", 0, 1]], "kits": []}
    (own, _, other) = blank.evaluate("(book) => numbers.numberList(book)", book)
    assert (own["key"], own["by"]) == ("TB1", "TB1")
    assert (other["key"], other["by"], other["number"], other["other"], other["whose"], other["status"]) == (
        "TB2", "551", "TB-2", "55 1", "a box", "s",
    )  # fmt: skip


def _line(name: str, first: int, last: int) -> dict[str, object]:
    lower = f" {name.lower()}"
    return {
        "vehicle": name,
        "rest": "",
        "first": first,
        "last": last,
        "gearbox": "",
        "family": "f",
        "seat": None,
        "name": lower,
        "all": lower,
    }


@pytest.mark.parametrize("typed", ["Corran Delver 2005", "delver 10/2005 corran", "Delver 2005-10", "Corran Delver 10.2005"])
def test_a_vehicle_in_any_order_with_a_year_or_a_month(blank: Page, typed: str) -> None:
    lines = [_line("Corran Delver", 2003, 2006), _line("Corran Delver", 2007, 2009), _line("Corran Pintle", 2003, 2009)]
    found = blank.evaluate("([lines, typed]) => numbers.findVehicles(lines, typed).all", [lines, typed])
    assert [(one["vehicle"], one["first"]) for one in found] == [("Corran Delver", 2003)]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("Coran Delver", "corran delver"),
        ("Corran Dlever 2.0", "corran delver 2.0"),
        ("Corran Delver", None),
        ("Zzzzz Qqqqq", None),
        ("Delber", None),
    ],
)
def test_a_slip_is_put_right_where_only_one_word_can_be_meant(blank: Page, typed: str, meant: str | None) -> None:
    lines = [_line("Corran Delver", 2003, 2006), _line("Corran Delter", 2007, 2009)]
    if meant is None or "Coran" in typed or "Dlever" in typed:
        lines = lines[: 1 if meant else 2]
    assert blank.evaluate("([lines, typed]) => numbers.withoutSlips(lines, typed)", [lines, typed]) == meant


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
