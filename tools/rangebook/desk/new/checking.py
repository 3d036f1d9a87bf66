"""What is wrong with a draft before it is a file: against the schema, and against what the book and its lists know."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from rangebook.book.book import Book
from rangebook.book.model import Connector, Family, Kit
from rangebook.book.numbers import normalise
from rangebook.desk.new.compose import TODO
from rangebook.reading.entry import Entry, read_entry
from rangebook.reading.files import FOLDERS
from rangebook.reading.finding import Problem
from rangebook.reading.nearest import nearest_of
from rangebook.schema.check import Checker
from rangebook.schema.fields import Field, named_in
from rangebook.schema.store import Schemas

_OPEN = re.compile(rf": {TODO}$")
_ID = re.compile(r"[^a-z0-9]+")


def id_from(title: str) -> str:
    """A title as an id: small letters, digits and single hyphens; empty where nothing of the title can stand in one."""
    return _ID.sub("-", title.lower()).strip("-")


def file_of(kind: str, name: str) -> str:
    """Where an entry of this id stands, relative to the root."""
    return f"entries/{FOLDERS[kind]}/{name}.md"


def problems_of(text: str, file: str, checker: Checker) -> list[Problem]:
    """What reading the text and the schema have against it, but for the places marked as not known yet."""
    entry: Entry = read_entry(file, text.encode("utf-8"))
    found = [*entry.problems, *checker.check(entry)]
    lines = text.split("\n")
    return [one for one in found if not is_open_place(lines, one.mark.line)]


def is_open_place(lines: list[str], line: int) -> bool:
    """Whether a line, counted from 1, is one that says ``TODO`` in the place of a value."""
    return 1 <= line <= len(lines) and _OPEN.search(lines[line - 1]) is not None


def unknown_names(field: Field, value: Any, book: Book, schemas: Schemas) -> Iterator[str]:
    """What of one key's value the book or its lists do not know, in words: connectors, kits, circuits."""
    entries: Mapping[str, Mapping[str, Any]] = {"connector": book.connectors, "kit": book.kits}
    for what, name in dict.fromkeys(named_in(schemas, field.node, field.home, value)):
        if what == "circuit":
            if name not in schemas.circuits:
                yield f"there is no circuit {name} on the list{_near(name, schemas.circuits)}"
        elif name not in entries[what] and name not in book.lost_ids:
            more = _near(name, entries[what])
            yield f"there is no {what} {name} in the book{more}; make it first with `rangebook new {what}`, or leave {field.key} out"


def _near(name: str, known: Iterable[str]) -> str:
    near = nearest_of(name, known)
    return f" (the nearest: {', '.join(near)})" if near else ""


def taken(kind: str, values: Mapping[str, Any], book: Book) -> Iterator[str]:
    """What the new thing has that another one has already, in words: its id, its number."""
    indexes: Mapping[str, Mapping[str, Family | Connector | Kit]] = {
        "switch": book.families,
        "connector": book.connectors,
        "kit": book.kits,
    }
    index = indexes[kind]
    name, number = values.get("id"), values.get("number")
    if isinstance(name, str) and name in index:
        yield f"{name} is the id of {index[name].entry.file} already: choose another with --id"
    if not isinstance(number, str):
        return
    part = book.part(number)
    if part is not None:
        yield f"{part.number} is in the book already, in {book.family_of(part).entry.file}: add to that entry what is missing there"
    for kit in book.kits.values():
        if kit.key == normalise(number):
            yield f"{kit.number} is in the book already, in {kit.entry.file}"
