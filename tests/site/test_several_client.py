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
    "families": [["f", "Family", ["TB-20417", "TB-2041", "317E4", "LV/640/02", "GH 2315 04", "4471"], "csccdw"]],
    "others": [],
    "kits": [["TW-8871", "Kit", "kits/k/"]],
}


@pytest.fixture(scope="module")
def blank(browser: Browser) -> Page:
    page = browser.new_page()
    search = (CLIENT / "shared/search.js").read_text("utf-8").replace("export ", "")
    several = (CLIENT / "several/list.js").read_text("utf-8")
    several = several.replace('import { normalise } from "../shared/search.js";', "").replace("export ", "")
    page.add_script_tag(type="module", content=f"{search}\n{several}\nwindow.several = {{ readList, csv, numberList }};")
    page.wait_for_function("() => window.several")
    return page


def read(blank: Page, text: str) -> tuple[list[tuple[str, str]], list[str]]:
    found: dict[str, Any] = blank.evaluate("([text, book]) => several.readList(text, several.numberList(book))", [text, BOOK])
    return [(one["kind"], one.get("number") or one["typed"]) for one in found["wanted"]], found["aside"]


@pytest.mark.parametrize(
    ("text", "wanted", "aside"),
    [
        ("tb20417", [("part", "TB-20417")], []),
        ("TB 20417\ntb-2041", [("part", "TB-20417"), ("part", "TB-2041")], []),
        ("2x TB-20417", [("part", "TB-20417")], ["2x"]),
        ("TB-20417\t2\t12.50", [("part", "TB-20417")], ["2", "12.50"]),
        ("TB-20417; qty: 3, each", [("part", "TB-20417")], ["qty:", "3", "each"]),
        ("gh 2315 04 x 4", [("part", "GH 2315 04")], ["x", "4"]),
        ("lv/640/02 | tw8871", [("part", "LV/640/02"), ("kit", "TW-8871")], []),
        ("Range switch 317E4 for the van", [("part", "317E4")], ["Range", "switch", "for", "the", "van"]),
        ("TB-20417 TB-20417 tb20417", [("part", "TB-20417")], []),
        ("tb-20417 317e4", [("part", "TB-20417"), ("part", "317E4")], []),
        ("ZZ 9999 1", [("missing", "ZZ 9999")], ["1"]),
        ("Switch ZZ-99990, 2", [("missing", "ZZ-99990")], ["Switch", "2"]),
        ("TB-20417 ZZ-99990", [("part", "TB-20417"), ("missing", "ZZ-99990")], []),
        # TB-2041, seven of them, or TB-20417? Neither is taken for granted.
        ("TB-2041 7", [("unclear", "TB-20417")], []),
        ("lv 640 02", [("part", "LV/640/02")], []),
        ("3 LV 640 02", [("part", "LV/640/02")], ["3"]),
        ("GH 2315 04 2", [("part", "GH 2315 04")], ["2"]),
        ("TB- 20417", [("part", "TB-20417")], []),
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
