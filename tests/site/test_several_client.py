"""A pasted list, and the file that comes out: against Python's own reader of CSV."""

from __future__ import annotations

import csv
import io
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

import rangebook.site

CLIENT = Path(rangebook.site.__file__).parent / "client"
BOOK = {
    "families": [["f", "Family", ["BR-20417", "BR-2041", "208E5", "DV/310/06", "H6 1120 03", "4471"], "csccdw"]],
    "kits": [["TW-2977", "Kit", "kits/k/"]],
}


@pytest.fixture(scope="module")
def blank(browser: Browser) -> Page:
    page = browser.new_page()
    search = (CLIENT / "search.js").read_text("utf-8").replace("export ", "")
    several = (CLIENT / "several.js").read_text("utf-8").replace('import { normalise } from "./search.js";', "").replace("export ", "")
    page.add_script_tag(type="module", content=f"{search}\n{several}\nwindow.several = {{ readList, csv, numberList }};")
    page.wait_for_function("() => window.several")
    return page


def read(blank: Page, text: str) -> tuple[list[tuple[str, str]], list[str]]:
    found: dict[str, Any] = blank.evaluate("([text, book]) => several.readList(text, several.numberList(book))", [text, BOOK])
    return [(one["kind"], one.get("number") or one["typed"]) for one in found["wanted"]], found["aside"]


@pytest.mark.parametrize(
    ("text", "wanted", "aside"),
    [
        ("br20417", [("part", "BR-20417")], []),
        ("BR 20417\nbr-2041", [("part", "BR-20417"), ("part", "BR-2041")], []),
        ("2x BR-20417", [("part", "BR-20417")], ["2x"]),
        ("BR-20417\t2\t12.50", [("part", "BR-20417")], ["2", "12.50"]),
        ("BR-20417; qty: 3, each", [("part", "BR-20417")], ["qty:", "3", "each"]),
        ("h6 1120 03 x 4", [("part", "H6 1120 03")], ["x", "4"]),
        ("dv/310/06 | tw2977", [("part", "DV/310/06"), ("kit", "TW-2977")], []),
        ("Range switch 208E5 for the van", [("part", "208E5")], ["Range", "switch", "for", "the", "van"]),
        ("BR-20417 BR-20417 br20417", [("part", "BR-20417")], []),
        ("br-20417 208e5", [("part", "BR-20417"), ("part", "208E5")], []),
        ("ZZ 9999 1", [("missing", "ZZ 9999")], ["1"]),
        ("Switch ZZ-99990, 2", [("missing", "ZZ-99990")], ["Switch", "2"]),
        ("BR-20417 ZZ-99990", [("part", "BR-20417"), ("missing", "ZZ-99990")], []),
        # BR-2041, seven of them, or BR-20417? Neither is taken for granted.
        ("BR-2041 7", [("unclear", "BR-20417")], []),
        ("dv 310 06", [("part", "DV/310/06")], []),
        ("3 DV 310 06", [("part", "DV/310/06")], ["3"]),
        ("H6 1120 03 2", [("part", "H6 1120 03")], ["2"]),
        ("BR- 20417", [("part", "BR-20417")], []),
        ("4471", [("part", "4471")], []),
        ("", [], []),
        (" , ;\n\t", [], []),
    ],
)
def test_a_list_as_people_paste_it(blank: Page, text: str, wanted: list, aside: list) -> None:
    assert read(blank, text) == (wanted, aside)


def test_the_file(blank: Page) -> None:
    """RFC 4180 as Python's csv module reads it; no cell begins as a formula does (OWASP's list of first characters, from memory)."""
    rows = [
        ["Typed", "Note"],
        ['say "two"', "a, b"],
        ["line\nbreak", "cr\r\nlf"],
        ["=1+1", "+cmd"],
        ["-1", "@sum"],
        ["\ttab", "\rreturn"],
        ["", "ü Ω"],
    ]
    text = blank.evaluate("(rows) => several.csv(rows)", rows)
    assert text.startswith("\ufeff") and text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "").replace("line\nbreak", "")
    back = list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True))
    assert [[cell.removeprefix("'") for cell in row] for row in back] == rows
    assert not any(cell.startswith(tuple("=+-@\t\r")) for row in back for cell in row)
