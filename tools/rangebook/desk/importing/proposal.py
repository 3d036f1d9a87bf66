"""A mapping that is proposed for a table: which column is what by its heading and by what stands in it, each with the reason beside it.

What a column seems to be can be wrong, so it is a file to look over. Which cavity carries what and which contacts are closed is left as
a comment in any case: on these a starter may depend.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from rangebook.book.book import Book
from rangebook.book.numbers import normalise
from rangebook.desk.importing.columns import CONTACTS, FAMILY, HUB_TURNS, LOOPS, Columns
from rangebook.desk.importing.rows import cleaned
from rangebook.desk.writing.yaml_text import flow, scalar
from rangebook.reading.table import Table, folded
from rangebook.schema.fields import Field

MOST_ROWS = 2000
"""So many rows are looked at."""
_ENOUGH = 0.6
"""The share of a column's cells that have to look like something."""

_ALSO_CALLED: Mapping[str, tuple[str, ...]] = {
    FAMILY: ("family", "switch family", "group", "part group", "series"),
    HUB_TURNS: ("turns", "direction"),
    LOOPS: ("loops", "jumpers", "bridges"),
    CONTACTS: ("contacts", "closed", "closed in", "continuity", "switching"),
    "pins": ("pin", "pinout", "pin out", "cavities", "terminals"),
}
"""What lists call the columns that are no plain key; what they call the others stands in the schema, as ``x-also-called``."""
_NEVER_GUESSED = ("pins", CONTACTS, LOOPS, "optional_cavities")
_LOOK = "this is never taken unseen: compare some rows with the part, then take the first # away"
_NO_USE = frozenset(
    (
        "price",
        "cost",
        "net",
        "gross",
        "stock",
        "qty",
        "quantity",
        "count",
        "shelf",
        "bin",
        "location",
        "place",
        "ean",
        "barcode",
        "supplier",
        "vat",
        "discount",
    )
)
_YEARS = re.compile(r"(?:19|20)[0-9]{2}(?:\s*[-–/]\s*(?:(?:19|20)?[0-9]{2})?)?\Z")
_OF_ONE = re.compile(r"(?:pin|cavity|terminal|pos\.?|no\.?)?\s*#?\s*([A-Za-z]?[0-9]{1,2}|[A-Za-z])\Z", re.IGNORECASE)
_PAIR = re.compile(r"(?:pins?|contact)?\s*([A-Za-z0-9]{1,3})\s*[-–]\s*([A-Za-z0-9]{1,3})\Z", re.IGNORECASE)
_SIGNS = (";", "|", "/", ",")


@dataclass(frozen=True)
class _Column:
    index: int
    heading: str
    cells: Sequence[str]

    @cached_property
    def texts(self) -> list[str]:
        return [one for one in self.cells if one]

    def share(self, known: Iterable[str] | re.Pattern[str], key: object = None) -> float:
        """How many of its cells are known, from 0 to 1."""
        if not self.texts:
            return 0.0
        if isinstance(known, re.Pattern):
            return sum(bool(known.match(one)) for one in self.texts) / len(self.texts)
        there = set(known)
        turned = normalise if key is normalise else str.casefold
        return sum(turned(one) in there for one in self.texts) / len(self.texts)


@dataclass
class _Guesses:
    columns: dict[str, tuple[_Column, str]] = field(default_factory=dict)
    """Name of a column -> the column, and why."""
    pins: dict[str, str] = field(default_factory=dict)
    contacts: dict[str, str] = field(default_factory=dict)


def called(can_be: Columns) -> dict[str, tuple[str, ...]]:
    """Name of a column -> what a list may call it, folded; its own name comes first."""
    found = {}
    for name in can_be.names:
        one = can_be.by_name.get(name)
        stated = (one.label, *one.node.get("x-also-called", "").split(",")) if one is not None else ()
        words = (name.replace("_", " "), *stated, *_ALSO_CALLED.get(name, ()))
        found[name] = tuple(filter(None, dict.fromkeys(_words(word) for word in words)))
    return found


def headings_of(can_be: Columns) -> list[str]:
    """All that a list may call its columns: by these the row with the headings is found."""
    return list(dict.fromkeys(word for words in called(can_be).values() for word in (*words, *(f"{one}." for one in words))))


def propose(book: Book, can_be: Columns, table: Table, name: str) -> tuple[str, bool]:
    """The text of a mapping file for the table called ``name``, and whether a column of part numbers is in it."""
    columns = [
        _Column(index, heading.strip(), [cleaned(row.cells[index]) if index < len(row.cells) else "" for row in table.rows[:MOST_ROWS]])
        for index, heading in enumerate(table.heading)
    ]
    guessed = _guessed(book, can_be, [one for one in columns if one.heading])
    return "\n".join([*_lines(book, can_be, table, name, columns, guessed), ""]), "number" in guessed.columns


def _words(text: str) -> str:
    return " ".join(re.sub(r"[^\w]+", " ", folded(text)).split())


def _guessed(book: Book, can_be: Columns, columns: Sequence[_Column]) -> _Guesses:
    found = _Guesses()
    taken: set[int] = set()
    words = called(can_be)
    ranked = []
    for at, name in enumerate(can_be.names):
        for column in columns:
            by_heading, by_cells, why = _likely(book, can_be, name, words[name], column)
            if by_heading or by_cells:
                ranked.append((-(by_heading + by_cells), at, column.index, name, column, why))
    for _, _, index, name, column, why in sorted(ranked, key=lambda one: one[:3]):
        if index not in taken and name not in found.columns:
            found.columns[name] = column, why
            taken.add(index)
    for column in columns:
        if column.index in taken:
            continue
        if pair := _PAIR.match(column.heading):
            found.contacts[f"{pair[1]}-{pair[2]}"] = column.heading
        elif (one := _OF_ONE.match(column.heading)) and column.share(_circuit_words(book)) >= _ENOUGH:
            found.pins[one[1]] = column.heading
    return found


def _likely(book: Book, can_be: Columns, name: str, words: Sequence[str], column: _Column) -> tuple[float, float, str]:
    """How likely it is by the heading, how by the cells, and why in words."""
    heading = _words(column.heading)
    by_heading = 3.0 if heading in words else 0.0
    if not by_heading and any(len(one) > 3 and set(one.split()) <= set(heading.split()) for one in words):
        by_heading = 2.0
    known, what = _cells_known(book, can_be, name, column)
    if by_heading:
        if what and column.texts and known < _ENOUGH / 6 and name in ("number", "years"):
            return by_heading / 2, 0.0, f"by its heading alone: only {_count(known, column)} {what}"
        return by_heading, known, "by its heading" + (f"; {_count(known, column)} {what}" if what and known else "")
    if known >= _ENOUGH and name in ("number", FAMILY, "connector", "status", "vehicle", "years"):
        return 0.0, known, f"by what stands in it: {_count(known, column)} {what}"
    return 0.0, 0.0, ""


def _count(share: float, column: _Column) -> str:
    return f"{round(share * len(column.texts))} of {len(column.texts)}"


def _cells_known(book: Book, can_be: Columns, name: str, column: _Column) -> tuple[float, str]:
    if name == "number":
        share = column.share(book.by_number, normalise)
        if share:
            return share, "are numbers of the book"
        figures = sum(any(map(str.isdigit, one)) and len(one) > 3 for one in column.texts)
        return (figures / len(column.texts) / 2 if column.texts else 0.0), "have figures as a part number has"
    if name == FAMILY:
        return column.share([*book.families, *(one.title.casefold() for one in book.families.values())]), "are families of the book"
    if name == "vehicle":
        vehicles = {one.vehicle.casefold() for family in book.families.values() for one in family.applications}
        return column.share(vehicles), "are vehicles of the book"
    if name == "years":
        return column.share(_YEARS), "are years"
    choices = _choices(book, can_be.by_name.get(name))
    return (column.share({word for words in choices.values() for word in words}), "are words of the book") if choices else (0.0, "")


def _choices(book: Book, one: Field | None) -> dict[str, tuple[str, ...]]:
    """The values of a key that has only few, or that names an entry of the book, each with what a list may call it."""
    if one is None:
        return {}
    if "enum" in one.node:
        return {value: (value.casefold(), value.replace("_", " ").casefold()) for value in one.node["enum"]}
    if one.node.get("x-names") == "connector":
        return {name: (name.casefold(), each.title.casefold()) for name, each in book.connectors.items()}
    return {}


def _circuit_words(book: Book) -> set[str]:
    return {word for name in book.circuits for word in (name.casefold(), name.replace("_", " ").casefold())}


def _meant(cell: str, choices: Mapping[str, tuple[str, ...]]) -> str | None:
    """The one value that has the same words as a cell, in whatever order and with whatever signs between them."""
    words = sorted(_words(cell.replace("-", " ")).split())
    found = [value for value, names in choices.items() if any(sorted(_words(one.replace("-", " ")).split()) == words for one in names)]
    return found[0] if len(found) == 1 else None


def _lines(book: Book, can_be: Columns, table: Table, name: str, columns: Sequence[_Column], guessed: _Guesses) -> Iterator[str]:
    sheet = f", sheet {table.sheet}" if table.sheet else ""
    yield f"# What the columns of {name}{sheet} seem to be. Look it over, mend it, and save it beside the list."
    yield "columns:"
    if "number" not in guessed.columns:
        yield "  # number:   # which column has the part numbers cannot be seen: put its heading here"
    for field_name, (column, why) in guessed.columns.items():
        line = f"{field_name}: {scalar(column.heading)}"
        if field_name in _NEVER_GUESSED:
            yield f"  # {line}   # {why}; {_LOOK}"
        else:
            yield f"  {line}   # {why}"
    for field_name, each in (("pins", guessed.pins), (CONTACTS, guessed.contacts)):
        if each:
            yield f"  # {field_name}: {flow(each)}   # {_LOOK}"
    yield from _values(book, can_be, guessed)
    yield from _split(can_be, guessed)
    yield from _whole_numbers(can_be, table, guessed)
    used = {column.index for column, _ in guessed.columns.values()}
    each_pin = {*guessed.pins.values(), *guessed.contacts.values()}
    left = [one for one in columns if one.heading and one.index not in used and one.heading not in each_pin]
    no_use = [one.heading for one in left if _NO_USE & set(_words(one.heading).split())]
    unknown = [one.heading for one in left if one.heading not in no_use]
    if no_use:
        yield f"ignore: {flow(no_use)}"
    if unknown:
        yield f"# What these are cannot be seen; put each under `columns`, `notes` or `ignore`: {flow(unknown)}"
    yield from _family(book, guessed)
    yield '# source: {kind: catalogue, detail: "..."}   # where the list comes from, for every part that is taken from it'


def _values(book: Book, can_be: Columns, guessed: _Guesses) -> Iterator[str]:
    said: list[str] = []
    for name, (column, _) in guessed.columns.items():
        choices = _choices(book, can_be.by_name.get(name))
        if not choices:
            continue
        cells = [one for one, _ in Counter(column.texts).most_common() if one not in choices]
        meant = {one: value for one in cells if (value := _meant(one, choices)) is not None}
        if meant:
            said.append(f"  {name}: {flow(meant)}")
        if unmeant := [one for one in cells if one not in meant][:12]:
            known = f"one of {', '.join(choices)}" if len(choices) <= 12 else "an id of the book"
            said.append(f"  # {name}: {flow(dict.fromkeys(unmeant, '...'))}   # say what each means: {known}")
    if said:
        yield "values:" if any(not one.startswith("  #") for one in said) else "# values:"
        yield from said


def _split(can_be: Columns, guessed: _Guesses) -> Iterator[str]:
    found = {}
    for name, (column, _) in guessed.columns.items():
        one = can_be.by_name.get(name)
        if one is not None and name in can_be.several and one.names_a_part:
            counted = Counter(sign for cell in column.texts for sign in _SIGNS if sign in cell)
            if counted:
                found[name] = counted.most_common(1)[0][0]
    if found:
        yield f"# split: {flow(found)}   # if that parts several numbers in one cell"


def _whole_numbers(can_be: Columns, table: Table, guessed: _Guesses) -> Iterator[str]:
    held = Counter(
        name
        for name, (column, _) in guessed.columns.items()
        if (one := can_be.by_name.get(name)) is not None and one.names_a_part
        for row in table.rows
        if column.index in row.held and row.held[column.index].kind == "number"
    )
    if held:
        many = ", ".join(f"{count} of {name}" for name, count in held.items())
        yield f"# whole_numbers: {flow(list(held))}   # cells that are numbers and no text: {many}; see that no zero in front is lost"


def _family(book: Book, guessed: _Guesses) -> Iterator[str]:
    if FAMILY in guessed.columns:
        known = {*book.families, *(one.title.casefold() for one in book.families.values())}
        column = guessed.columns[FAMILY][0]
        begun = [one for one in dict.fromkeys(column.texts) if one not in known and one.casefold() not in known]
        if begun:
            yield f"# Not in the book: {flow(begun[:12])}; one that is, say under `values: {{family: ...}}`; to begin the others:"
            yield "# new_family: {positions: [...]}   # the lever's positions, such as P, R, N, D"
    elif "number" in guessed.columns:
        column = guessed.columns["number"][0]
        if any(normalise(one) not in book.by_number for one in column.texts):
            yield "# fixed: {family: ...}   # no column says the family of the numbers that are not in the book yet"
