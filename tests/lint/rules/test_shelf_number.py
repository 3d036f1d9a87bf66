"""shelf-number."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from rangebook.lint.examples import example_book
from rangebook.lint.registry import all_rules
from rangebook.reading.shelf import FILE
from tests.lint.marking import found_in
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = all_rules()["shelf-number"]


@operator("a number of the stock list that nobody knows, or of a withdrawn part", "shelf-number")
def _(ground: Ground) -> Iterator[Seed]:
    yield ground.on_shelf("ZZ-99990,1,", 1)
    for part in ground.loaded.book.parts:
        if part.status == "withdrawn":
            yield ground.on_shelf(f"{part.number.lower()},2,bin", 1)


@pytest.mark.parametrize(
    ("number", "says", "do"),
    [
        ("TB-2O417", "TB-2O417 is in no entry", "the book has TB-20417: compare the two"),
        ("TB-204177", "is in no entry", "the book has TB-20417: compare the two"),
        ("QQ 1", "is in no entry", "write down what it is in an entry"),
        ("tb 20461", "was withdrawn by its maker and lies on the shelf: It cranked in R.", "take it off the shelf"),
    ],
)
def test_it_says_what_to_do(number: str, says: str, do: str) -> None:
    book = {**example_book(RULE.fails), FILE: f"number,count\nTW-7706,1\n{number},1\n".encode()}
    (found,) = found_in(book, "shelf-number")
    assert (found.file, found.line, str(found.severity)) == (FILE, 3, "warning")
    assert says in found.message and found.fix.startswith(do)


def test_kits_other_spellings_and_other_numbers_are_known() -> None:
    """An entry that cannot be read may have it: then nothing is said."""
    book = dict(example_book(""))
    switch = "entries/switches/tamblin-gate.md"
    book[switch] = book[switch].replace(b"number: TB-20417", b"number: TB-20417\n    also_numbered: [{number: 55 11, by: a box}]")
    shelf = {FILE: b"number\ntb.20417\nTW 7706\n55-11\n"}
    assert found_in({**book, **shelf}, "shelf-number") == []
    broken = {switch: book[switch].replace(b"kind: switch", b"kind: switch\nkind: switch")}
    assert [one for one in found_in({**book, **broken, **shelf}, "shelf-number") if one.rule == "shelf-number"] == []
