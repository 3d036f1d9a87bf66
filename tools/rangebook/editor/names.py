"""The names that an entry's values may have, and where each of them stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path as File
from typing import NamedTuple

from rangebook.book.load import Loaded
from rangebook.book.model import Connector, Kit
from rangebook.book.numbers import normalise
from rangebook.editor.half_typed import HalfTyped, Path, keys_of
from rangebook.editor.text import Text
from rangebook.lint.registry import all_rules
from rangebook.reading.entry import Entry
from rangebook.reading.files import FOLDERS
from rangebook.reading.located import Map, Seq, mark_at
from rangebook.schema.store import schema_files
from rangebook.words.catalogue import Words, say

LEVER = ("P", "R", "N", "D")
"""What most levers begin with."""


class Name(NamedTuple):
    """One name that can stand at a place, and in words what it names."""

    name: str
    words: str = ""


class Place(NamedTuple):
    """A file, by its path from the root or whole where it is outside, its text, and from which character to which."""

    file: str
    text: Text
    start: int
    end: int


@dataclass(frozen=True)
class Names:
    """Of one entry in an editor, in the book that is around it. ``path`` is the place of which is asked."""

    loaded: Loaded
    entry: HalfTyped
    kind: str

    def of(self, sort: str, path: Path) -> Iterator[Name]:
        """The names of a sort that are known at a place, the nearest first."""
        book, tree = self.loaded.book, self.entry.tree
        match sort:
            case "connector":
                yield from (Name(one.id, one.title) for one in book.connectors.values())
            case "kit":
                yield from (Name(one.id, f"{one.number}, {one.title}") for one in book.kits.values())
            case "circuit":
                yield from (Name(one.name, one.title) for one in book.circuits.values())
            case "part":
                own = [one for one in self._own_parts if path[:2] != ("parts", one[0])]
                yield from (Name(number) for _, number in own)
                named = {number for _, number in own}
                yield from (Name(one.number, book.family_of(one).title) for one in book.parts if one.number not in named)
            case "plug" | "mount":
                yield from map(Name, keys_of(tree.get(f"{sort}s") if tree else None))
            case "position":
                own_positions = self._list("positions")
                others = (one for family in book.families.values() for one in family.positions)
                yield from map(Name, own_positions if own_positions and path[:1] != ("positions",) else dict.fromkeys((*LEVER, *others)))
            case "gearbox":
                others = (one for family in book.families.values() for one in family.gearboxes)
                yield from map(Name, self._list("gearboxes") or dict.fromkeys(others))
            case "cavity" | "pin":
                yield from self._cavities(sort, path)
            case "rule":
                yield from (Name(one.name) for one in all_rules().values() if one.may_be_allowed)
            case _:
                pass

    def place(self, sort: str, name: str, path: Path) -> Place | None:
        """Where the thing of a name stands; ``None`` where it is not known or stands nowhere."""
        book = self.loaded.book
        match sort:
            case "connector" | "kit":
                owner: Connector | Kit | None = (book.connectors if sort == "connector" else book.kits).get(name)
                file = owner.entry.file if owner else f"entries/{FOLDERS[sort]}/{name}.md"
                return self._in_file(file, ("id",))
            case "part":
                part = book.part(name) or book.by_other_number.get(normalise(name))
                if part is not None:
                    return self._in_file(book.family_of(part).entry.file, (*part.path, "number"))
                return self._in_unread(name)
            case "plug" | "mount":
                return self._here((f"{sort}s", name), is_key=True)
            case "position":
                listed = self._list("positions")
                return self._here(("positions", listed.index(name))) if name in listed else None
            case "circuit":
                return self._circuit(name)
            case "cavity" | "pin":
                pins = (*path[:2], "pins", name)
                return self._here(pins, is_key=True) if path[:1] == ("parts",) and self.entry.value(pins) is not None else None
            case _:
                return None

    def words_of(self, sort: str, name: str) -> Words | None:
        """What is known of the thing of a name."""
        book = self.loaded.book
        match sort:
            case "connector" if name in book.connectors:
                connector = book.connectors[name]
                return say("editor.connector", title=connector.title, outline=connector.outline, cavities=len(connector.cavities))
            case "kit" if name in book.kits:
                kit = book.kits[name]
                return say("editor.kit", number=kit.number, title=kit.title, old=kit.olds, new=kit.new)
            case "circuit" if name in book.circuits:
                circuit = book.circuits[name]
                return say("editor.circuit", title=circuit.title, law=circuit.law, positions=circuit.positions)
            case "part":
                part = book.part(name)
                return say("editor.part", number=part.number, title=book.family_of(part).title, status=part.status) if part else None
            case _:
                return None

    def number_in(self, start: int) -> tuple[str, int, int] | None:
        """The number of a part, or of a kit, that a character of the text is in, as the book spells it; from where to where."""
        mark = self.entry.text.mark(start)
        line, at = self.entry.text.lines[mark.line - 1], mark.column - 1
        book = self.loaded.book
        best: tuple[str, int, int] | None = None
        for number in (*(one.number for one in book.parts), *(one.number for one in book.kits.values())):
            found = line.find(number)
            while 0 <= found <= at:
                if at <= found + len(number) and (best is None or len(number) > len(best[0])):
                    best = (number, start - at + found, start - at + found + len(number))
                found = line.find(number, found + 1)
        return best

    def number_place(self, number: str) -> Place | None:
        """Where a number of a part or kit is the thing's own."""
        kit = next((one for one in self.loaded.book.kits.values() if one.number == number), None)
        return self.place("part", number, ()) if kit is None else self._in_file(kit.entry.file, ("number",))

    @cached_property
    def _own_parts(self) -> list[tuple[int, str]]:
        parts = self.entry.value(("parts",))
        listed = enumerate(parts) if isinstance(parts, Seq) else ()
        return [(at, one["number"]) for at, one in listed if isinstance(one, Map) and isinstance(one.get("number"), str)]

    def _list(self, key: str) -> list[str]:
        found = self.entry.value((key,))
        return [one for one in found if isinstance(one, str)] if isinstance(found, Seq) else []

    def _cavities(self, sort: str, path: Path) -> Iterator[Name]:
        """Pins of the part that is around, with what each is for; else the cavities of the connectors that are named around."""
        pins = self.entry.value((*path[:2], "pins")) if path[:1] == ("parts",) and path[2:3] != ("pins",) else None
        if sort == "pin" and isinstance(pins, Map):
            yield from (Name(pin, circuit if isinstance(circuit, str) else "") for pin, circuit in pins.items())
        else:
            for name, connector in self._connectors(path):
                found = self.loaded.book.connectors.get(connector)
                yield from (Name(f"{name}.{one}" if name else one) for one in (found.cavities if found else ()))
        if sort == "pin":
            yield Name("case", say("editor.case"))

    def _connectors(self, path: Path) -> Iterator[tuple[str, str]]:
        """The connectors that cavities at a place are of, each with its name where there are several."""
        if self.kind == "connector":
            # Its own may be new: then it is not in the book, and has its rows in the text.
            yield "", str(self.entry.value(("id",)) or "")
            return
        if self.kind == "kit":
            stated = self.entry.value(("from",) if path[:1] == ("moves",) and len(path) == 1 else ("to",))
            yield "", str(stated[0] if isinstance(stated, Seq) and stated else stated)
            return
        for depth in range(len(path), -1, -1):
            around = self.entry.value(path[:depth])
            if isinstance(around, Map) and isinstance(around.get("connectors"), Map):
                for name, one in around["connectors"].items():
                    yield name, str(one.get("connector", "") if isinstance(one, Mapping) else one)
                return
            if isinstance(around, Map) and isinstance(around.get("connector"), str):
                yield "", around["connector"]
                return

    def _here(self, path: Path, *, is_key: bool = False) -> Place | None:
        tree = self.entry.tree
        if tree is None or self.entry.value(path) is None:
            return None
        text = self.entry.text
        start = text.at(mark_at(tree, path, key=is_key))
        return Place(self.entry.file, text, start, text.word_end(start))

    def _in_file(self, file: str, path: Sequence[str | int]) -> Place | None:
        entry = next((one for one in self.loaded.entries if one.file == file), None)
        if entry is not None and self.loaded.book.layers:
            return self._in_layer(entry, path)
        if file == self.entry.file:
            return self._here(tuple(path))
        if entry is None:
            return None
        text = Text(entry.source, self.entry.text.encoding)
        front = entry.front if entry.front is not None else HalfTyped(file, text).tree
        start = text.at(mark_at(front, path)) if front is not None else 0
        return Place(file, text, start, text.word_end(start))

    def _in_layer(self, entry: Entry, path: Sequence[str | int]) -> Place | None:
        """In a book of several layers: in the file of the one that says what the path leads to."""
        if entry.front is None:
            return None
        mark = mark_at(entry.front, path)
        own = mark.layer == self.loaded.book.own_layer
        here = own and entry.file == self.entry.file
        text = self.entry.text if here else Text(entry.text_in(mark.layer), self.entry.text.encoding)
        start = text.at(mark.in_file)
        file = entry.file if own else str(self.loaded.layers[mark.layer].root / entry.file)
        return Place(file, text, start, text.word_end(start))

    def _in_unread(self, number: str) -> Place | None:
        """In an entry that cannot be taken in as it is, and so is not in the book; this one itself may be such."""
        for entry in self.loaded.book.lost:
            found = HalfTyped(entry.file, Text(entry.source, self.entry.text.encoding)) if entry.file != self.entry.file else self.entry
            parts = found.value(("parts",))
            for at, one in enumerate(parts if isinstance(parts, Seq) else ()):
                if isinstance(one, Map) and isinstance(one.get("number"), str) and normalise(one["number"]) == normalise(number):
                    tree = found.tree
                    assert tree is not None
                    start = found.text.at(mark_at(tree, ("parts", at, "number")))
                    return Place(entry.file, found.text, start, found.text.word_end(start))
        return None

    def _circuit(self, name: str) -> Place | None:
        file: File = schema_files(self.loaded.root)["circuits"]
        try:
            text = Text(file.read_text("utf-8"), self.entry.text.encoding)
        except (OSError, UnicodeDecodeError):
            return None
        start = text.text.find(f'"{name}":')
        if name not in self.loaded.book.circuits or start < 0:
            return None
        inside = file.relative_to(self.loaded.root).as_posix() if file.is_relative_to(self.loaded.root) else str(file)
        return Place(inside, text, start, start + len(name) + 2)
