"""Look a word up: part numbers in any spelling first, then gearboxes, vehicles, families, connectors and kits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from rangebook.book.book import Book
from rangebook.book.laid_over import layer_of
from rangebook.book.model import Part
from rangebook.book.numbers import nearest, normalise
from rangebook.fitting.tried import WORKED
from rangebook.words.book import number_words
from rangebook.words.catalogue import say


@dataclass(frozen=True, slots=True)
class Found:
    """One thing found. ``kind`` says what it is, ``name`` how it is called, ``where`` the entry that it stands in, ``about`` more of it."""

    kind: str
    name: str
    where: str
    about: str
    exact: bool
    layer: str = ""
    """The name of its layer; empty where the book has but one."""


def look(book: Book, text: str) -> list[Found]:
    """Everything in the book that goes by ``text``, exact hits first; empty if there is nothing."""
    key, words = normalise(text), text.casefold().split()
    if not key or not words:
        return []
    found = [*_numbers(book, key), *_names(book, words)]
    if not any(one.exact for one in found):
        found += [_part(book, part, exact=False, alike=True) for part in book.look_alikes(text)]
    return sorted(found, key=lambda one: not one.exact)


def nearest_numbers(book: Book, text: str) -> list[str]:
    """The numbers that look most like ``text``, for when it is not in the book."""
    return nearest(text, book.printed_numbers())


def with_status(book: Book, numbers: Iterable[str]) -> list[str]:
    """Numbers of a book for reading, each with its status where it is not to be had by it any more."""
    return [number_words(part) if (part := book.part(number)) else number for number in numbers]


def _numbers(book: Book, key: str) -> Iterator[Found]:
    for part in book.parts:
        if any(one == key or (len(key) >= 4 and key in one) for one in part.keys):
            yield _part(book, part, exact=key in part.keys)
    for kit in book.kits.values():
        if kit.key == key or (len(key) >= 4 and key in kit.key):
            yield Found("kit", kit.number, kit.entry.file, kit.title, kit.key == key, layer_of(book, kit))


def _part(book: Book, part: Part, exact: bool, alike: bool = False) -> Found:
    family = book.family_of(part)
    about = say("look.part", status=part.status, family=family.title, tried=tuple(_tried(part)), alike=alike)
    return Found("part", part.number, family.entry.file, about, exact, layer_of(book, family, part.path[:2]))


def _tried(part: Part) -> Iterator[str]:
    """How often it was tried in the bay, and what came of it."""
    worked = sum(one.outcome == WORKED for one in part.fitted)
    if worked:
        yield say("look.worked", count=worked)
    if failed := len(part.fitted) - worked:
        yield say("look.failed", count=failed)


def _names(book: Book, words: list[str]) -> Iterator[Found]:
    def says(*texts: str) -> bool:
        joined = " ".join(texts).casefold()
        return all(word in joined for word in words)

    wanted = " ".join(words)
    for gearbox, families in book.by_gearbox.items():
        if says(gearbox):
            for family in families:
                yield Found("gearbox", gearbox, family.entry.file, family.title, gearbox.casefold() == wanted, layer_of(book, family))
    for family in book.families.values():
        if says(family.id, family.title, *family.also_called):
            yield Found("family", family.title, family.entry.file, ", ".join(family.gearboxes), family.id == wanted, layer_of(book, family))
        for application in family.applications:
            if says(application.vehicle, application.years or ""):
                about = say("look.vehicle", came_with=application.came_with, plug=application.plug)
                name = f"{application.vehicle} {application.years or ''}".strip()
                exact = application.vehicle.casefold() == wanted
                yield Found("vehicle", name, family.entry.file, about, exact, layer_of(book, family, application.path))
    for connector in book.connectors.values():
        if says(connector.id, connector.title):
            about = say("look.connector", cavities=len(connector.cavities))
            yield Found("connector", connector.title, connector.entry.file, about, connector.id == wanted, layer_of(book, connector))
    for kit in book.kits.values():
        if says(kit.id, kit.title):
            yield Found("kit", kit.number, kit.entry.file, kit.title, kit.id == wanted, layer_of(book, kit))
