"""A pasted list, and the file that comes out: against Python's own reader of CSV."""

from __future__ import annotations

import csv
import io
from typing import Any

from tests.site.node import evaluate, needs_node

pytestmark = needs_node

BOOK = {
    "families": [["f", "Family", ["TB-20417", "TB-2041", "317E4", "LV/640/02", "GH 2315 04", "4471"], "csccdw"]],
    "others": [["55-1177", "a box", 0, 4]],
    "kits": [["TW-8871", "Kit", "kits/k/"]],
}
MODULES = {"list": "several/list.js", "search": "shared/search.js"}


def read(texts: list[str]) -> list[tuple[list[tuple[str, str, int]], list[str]]]:
    """The numbers of each text with kind and count, and what was left aside."""
    found: list[dict[str, Any]] = evaluate(
        MODULES, "given[0].map((text) => list.readList(text, search.numberList(given[1])))", [texts, BOOK]
    )
    return [
        ([(one["kind"], one.get("number") or one["typed"], one["count"]) for one in several["wanted"]], several["aside"])
        for several in found
    ]


AS_PEOPLE_PASTE_IT: list[tuple[str, list[tuple[str, str, int]], list[str]]] = [
    ("tb20417", [("part", "TB-20417", 1)], []),
    ("TB 20417\ntb-2041", [("part", "TB-20417", 1), ("part", "TB-2041", 1)], []),
    ("2x TB-20417", [("part", "TB-20417", 2)], []),
    ("TB-20417\t2\t12.50", [("part", "TB-20417", 2)], ["12.50"]),
    ("TB-20417; qty: 3, each", [("part", "TB-20417", 3)], []),
    ("gh 2315 04 x 4", [("part", "GH 2315 04", 4)], []),
    ("lv/640/02 | tw8871", [("part", "LV/640/02", 1), ("kit", "TW-8871", 1)], []),
    ("Range switch 317E4 for the van", [("part", "317E4", 1)], ["Range", "switch", "for", "the", "van"]),
    # One line for each number, whatever it is called and however often it stands there.
    ("TB-20417 TB-20417 tb20417", [("part", "TB-20417", 3)], []),
    ("GH 2315 04, 2\n551177 x3", [("part", "GH 2315 04", 5)], []),
    ("tb-20417 317e4", [("part", "TB-20417", 1), ("part", "317E4", 1)], []),
    ("2 tb-20417 3 317e4", [("part", "TB-20417", 2), ("part", "317E4", 3)], []),
    ("tb-20417 2 317e4 3", [("part", "TB-20417", 2), ("part", "317E4", 3)], []),
    ("TB-20417 12pcs", [("part", "TB-20417", 12)], []),
    ("TB-20417, 0", [("part", "TB-20417", 0)], []),
    ("1 TB-20417 4 off", [("part", "TB-20417", 4)], []),
    ("ZZ 9999 1", [("missing", "ZZ 9999", 1)], []),
    ("Switch ZZ-99990, 2", [("missing", "ZZ-99990", 2)], ["Switch"]),
    ("TB-20417 ZZ-99990", [("part", "TB-20417", 1), ("missing", "ZZ-99990", 1)], []),
    # TB-2041, seven of them, or TB-20417? Neither is taken for granted.
    ("TB-2041 7", [("unclear", "TB-20417", 1)], []),
    ("lv 640 02", [("part", "LV/640/02", 1)], []),
    ("3 LV 640 02", [("part", "LV/640/02", 3)], []),
    ("GH 2315 04 2", [("part", "GH 2315 04", 2)], []),
    ("TB- 20417", [("part", "TB-20417", 1)], []),
    ("4471", [("part", "4471", 1)], []),
    # What a scanner reads off our own label or a box, and what only looks the same.
    ("[)>\x1e06\x1dP TB-20417\x1dQ3\x1e\x04", [("part", "TB-20417", 1)], []),
    ("TB-20417\x0b317E4", [("part", "TB-20417", 1), ("part", "317E4", 1)], []),
    ("https://shop.example/book/?q=TB-20417&seat=f%2Fs", [("part", "TB-20417", 1)], []),
    ("1PTB-20417, 2", [("part", "TB-20417", 2)], []),
    ("T8-2O4I7 2", [("part", "TB-20417", 2)], []),
    ("", [], []),
    (" , ;\n\t", [], []),
]


def test_a_list_as_people_paste_it() -> None:
    assert read([text for text, *_ in AS_PEOPLE_PASTE_IT]) == [(wanted, aside) for _, wanted, aside in AS_PEOPLE_PASTE_IT]


def test_which_figure_is_meant_is_asked_where_it_is_not_clear() -> None:
    """A number of the line before, the pieces behind, or a price without a point: the one behind is taken, and all are told of."""
    texts = ["1 TB-20417 4", "TB-20417;2;45", "TB-20417 x2 45"]
    found = evaluate(MODULES, "given[0].map((text) => list.readList(text, search.numberList(given[1])).wanted[0].figures)", [texts, BOOK])
    assert found == [[4, 1], [2, 45], []]


def test_what_looks_the_same_is_said_to_be_another_spelling() -> None:
    asked = [["TB-2O417", "TB-20417"], BOOK]
    found = evaluate(MODULES, "given[0].map((text) => list.readList(text, search.numberList(given[1])).wanted[0].slip ?? false)", asked)
    assert found == [True, False]


def test_a_number_that_was_taken_for_what_was_typed_counts_as_it() -> None:
    """What somebody chose for ``TB-29417`` stands for it wherever it is typed."""
    found = evaluate(
        MODULES,
        "[search.numberList(given)].map((all) => list.readList('tb 29417 x2\\nTB-20417', all, new Map([['TB29417', all[0]]])).wanted)[0]",
        BOOK,
    )
    assert [(one["number"], one["count"]) for one in found] == [("TB-20417", 3)]


def test_the_file() -> None:
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
    text = evaluate(MODULES, "list.csv(given)", rows)
    assert text.startswith("\ufeff") and text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "").replace("line\nbreak", "")
    back = list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True))
    assert [[cell.removeprefix("'") for cell in row] for row in back] == rows
    assert not any(cell.startswith(tuple("=+-@\t\r")) for row in back for cell in row)


def test_one_pick_list_of_what_the_lines_come_to() -> None:
    """Reckoned by hand: 2 of a switch with kit A and its seal for 7, 3 of the same switch with kit A and its seal for 9, which lacks a
    blanking plug in each bag; bolts, two to each of the first; one kit A by itself; none of what is asked for 0 times."""
    order = {"number": "A", "title": "Kit A", "url": "k"}
    first = {"number": "N-2", "orders": [{**order, "seal": 7}], "beside": [["item", "bolt", 2], ["work", "pin it", 1]]}
    beside = [["set", "S-1", 1], ["seal", "4", 1], ["blanks", "2", 1], ["kit", "b", 1]]
    second = {"number": "N-2", "orders": [{**order, "seal": 9, "more": 1}], "beside": beside}
    lines = [
        {"count": 2, "fit": first},
        {"count": 3, "fit": second},
        {"count": 1, "kit": order},
        {"count": 0, "fit": {"number": "N-9"}},
        {"count": 5},
    ]
    found = evaluate({"pick": "several/pick.js"}, "pick.pickOf(given)", lines)
    assert [(one["kind"], one["what"], one["count"], one.get("of"), one.get("sold")) for one in found] == [
        ("switch", "N-2", 5, None, None),
        ("kit", "A", 6, None, None),
        ("kit", "b", 3, None, None),
        ("seal", "4", 3, None, None),
        ("seal", "7", 2, "A", None),
        ("seal", "9", 3, "A", None),
        ("blanks", "", 9, None, None),
        ("part", "S-1", 3, None, "set"),
        ("part", "bolt", 4, None, None),
        ("work", "pin it", 2, None, None),
    ]
