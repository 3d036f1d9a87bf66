"""number-gone. Which numbers are gone is tested in tests/book, on the command line in tests/cli."""

from collections.abc import Iterator
from datetime import date

from rangebook.book.load import load_texts
from rangebook.lint.engine import lint
from rangebook.lint.examples import example_book
from tests.lint.marking import found_at_marks, found_in
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

TODAY = date(2026, 6, 1)
FAMILY, KIT = "entries/switches/tamblin-gate.md", "entries/kits/oval-9-renewal.md"


@operator("the number of a kit written as another", "number-gone")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("kit"):
        yield source.put(source.at("number"), "ZZ-0000", told=0)


def test_a_kit_is_told_at_the_top_of_its_file() -> None:
    book = example_book("    kind: kit\n    number: TW-7707\n")
    (found,) = found_in(book, "number-gone")
    assert (found.file, found.line, found.column) == (KIT, 1, 1) and "TW-7706 was in the book and is gone" in found.message


def test_a_part_is_told_at_the_parts_of_its_family() -> None:
    book = example_book("")
    book[FAMILY] = book[FAMILY].replace(b"number: TB-20417", b"number: TB-20418").replace(b"came_with: TB-20417", b"came_with: TB-20418")
    (found,) = found_in(book, "number-gone")
    assert (found.file, found.column) == (FAMILY, 1) and "TB-20417" in found.message and "withdrawn" in found.fix
    assert found.line == book[FAMILY].decode().split("\n").index("parts:") + 1


def test_another_spelling_is_the_same_number() -> None:
    found_at_marks("number-gone", "    kind: kit\n    number: tw 7706\n")


def test_a_book_alone_has_none() -> None:
    now = load_texts(example_book("    kind: kit\n    number: TW-7707\n"))
    assert lint(now, TODAY) == []
