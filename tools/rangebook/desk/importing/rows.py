"""Rows of a table -> what they say of a part, its successors and a vehicle, or why a row cannot be taken."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from rangebook.desk.importing.columns import FAMILY, HUB_TURNS, LOOPS, WAYS, Columns, Condition
from rangebook.desk.importing.mapping import ColumnMapping, folded_cell
from rangebook.reading.table import Row, Table
from rangebook.schema.fields import Field, value_of
from rangebook.words.shown import of_cell

_MANGLED = re.compile(r"[0-9](?:[.,][0-9]+)?E[+-]?[0-9]+\Z", re.IGNORECASE)
_AS_TEXT = re.compile(r'="(.*)"\Z')
_PIN = re.compile(r"\s*((?:[A-Za-z][A-Za-z0-9_-]*\.)?[A-Za-z0-9]{1,4})\s*[:=]\s*(.+?)\s*\Z")
_STEP = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?\Z")
_DASHES = str.maketrans({"\u2010": "-", "\u2011": "-", "\u2012": "-", "\u2013": "-", "\u2014": "-", "\u2212": "-"})
_SPACED_DASH = re.compile(r"\s*-\s*")


_ERROR_WORD = re.compile(r"#(?:REF!|N/A|VALUE!|NAME\?|DIV/0!|NUM!|NULL!|SPILL!|CALC!)|Err:[0-9]{3}", re.IGNORECASE)
"""What a spreadsheet program writes where it could not reckon."""

_BETWEEN = re.compile(r"\s*[,;|\n]\s*|\s+(?:/|&|\+|or|and)\s+", re.IGNORECASE)
_FEWEST = 4
"""So many letters and figures has what is taken for a number of its own."""


class RowError(Exception):
    """A row cannot be taken; the message says why."""


@dataclass(frozen=True)
class RowFacts:
    """What one row says. ``part`` and the ``links`` are as in an entry, and so is ``hub``, that of the part's mount; ``vehicles`` are
    applications, none where the row names no vehicle; ``loops`` are the jumpers in ``plug``; ``family`` is what the row calls its family,
    if it does."""

    line: int
    number: str
    family: str | None
    gearbox: str | None
    part: Mapping[str, Any]
    links: tuple[Mapping[str, Any], ...]
    vehicles: tuple[Mapping[str, Any], ...] = field(default=())
    hub: Mapping[str, Any] = field(default_factory=dict)
    plug: str | None = None
    loops: list[list[str]] | None = None


def facts_of(row: Row, table: Table, mapping: ColumnMapping) -> RowFacts:
    """Raises :class:`RowError`."""
    if len(row.cells) != len(table.heading):
        many = len(row.cells) > len(table.heading)
        why = "a cell with a comma, semicolon or quote in it has to stand in quotes" if many else "cells are missing"
        raise RowError(f"the row has {len(row.cells)} cells, the heading {len(table.heading)}: {why}")
    said = _Cells(row, table, mapping)
    for heading, cell in said.every():
        if wrong := _ERROR_WORD.search(cell):
            raise RowError(f"{heading}: {wrong.group()} is a spreadsheet program's word for an error: type what belongs there")
    number = said.one("number")
    if number is None:
        raise RowError("the part number is missing")
    can_be = mapping.can_be
    for name, one in can_be.by_name.items():
        for text in said.several(name):
            if one.node.get("x-cell") == "number" and _MANGLED.match(text):
                raise RowError(f"{text!r} is a number as a spreadsheet program spoils it: format the column as text and type it anew")
            if one.node.get("x-cell") == "number" and len(several := numbers_in(text)) > 1:
                raise RowError(
                    f"{text!r} is {len(several)} numbers in one cell: give each a row of its own, or say under `split` what parts them"
                )
    part: dict[str, Any] = {"number": number}
    for name, one in can_be.part.items():
        if name == "pins":
            value: Any = said.pins()
        elif one.node.get("type") == "object":
            value = said.named(name)
        elif name == "note":
            value = said.note()
        else:
            value = said.value(name, one)
        if value not in (None, "", [], {}):
            part[one.key] = value
    for key, fields in can_be.in_part.items():
        if found := {one.key: said.value(name, one) for name, one in fields.items() if said.one(name) is not None}:
            part[key] = found
    vehicles = tuple(_vehicles(said, can_be))
    hub = _hub(said, can_be)
    if hub and "mount" not in part:
        raise RowError("where the hub stands is stated, but not of which mount: name it in a column `mount`")
    plug, loops = said.one("plug"), said.loops()
    if loops is not None and plug is None:
        raise RowError(f"{LOOPS} is stated, but not of which plug: name it in a column `plug`")
    links = tuple(_links(said, can_be))
    return RowFacts(row.line, number, said.one(FAMILY), said.one("gearbox"), part, links, vehicles, hub, plug, loops)


def numbers_in(cell: str) -> list[str]:
    """The part numbers that a cell holds: one, unless a sign or word parts several, or several of one shape stand side by side."""
    pieces = _BETWEEN.split(cell)
    if len(pieces) > 1 and all(_is_number(one) for one in pieces):
        return pieces
    for parts in (cell.split(), cell.split("/")):
        if len(parts) > 1 and len({_shape(one) for one in parts}) == 1 and all(_is_number(one, _FEWEST + 1) for one in parts):
            return parts
    return [cell]


def _is_number(text: str, fewest: int = _FEWEST) -> bool:
    return sum(map(str.isalnum, text)) >= fewest and any(map(str.isdigit, text))


def _shape(text: str) -> str:
    return re.sub(r"[0-9]", "9", re.sub(r"[A-Za-z]", "A", text))


def _hub(said: _Cells, can_be: Columns) -> dict[str, Any]:
    """Where the hub of the part's mount stands, and how far it turns from detent to detent: with a minus sign clockwise."""
    found: dict[str, Any] = {}
    for name, one in can_be.hub.items():
        if one.several:
            steps = [f"{step:g}" for step in _steps(said, name)]
            value = value_of(can_be.schemas, one, steps)
        else:
            value = said.value(name, one)
        if value not in (None, []):
            found[one.key] = value
    return found


def _steps(said: _Cells, name: str) -> list[float]:
    texts, turns = said.steps(name), said.one(HUB_TURNS)
    if wrong := next((text for text in texts if not _STEP.match(text)), None):
        raise RowError(f"the {name} cannot be read at {wrong!r}; expected degrees from each position to the next, as in `18 16 16 18 18`")
    if turns is not None and turns not in WAYS:
        raise RowError(f"the {HUB_TURNS} {turns!r} is not known; expected {' or '.join(WAYS)}, or say under `values` which is which")
    steps = [float(text) for text in texts]
    if turns is None:
        if steps and not any(text[0] in "+-" for text in texts):
            raise RowError(f"which way the hub turns is not said: name a column `{HUB_TURNS}`, or state {' or '.join(WAYS)} under `fixed`")
        return steps
    if not steps and not said.is_fixed(HUB_TURNS):
        raise RowError(f"{HUB_TURNS} is stated, but not how far from detent to detent")
    if turns == WAYS[0] and any(step < 0 for step in steps):
        raise RowError(f"the {name} are less than 0, which is clockwise, and {HUB_TURNS} says {turns}: see which is right")
    return [-abs(step) for step in steps] if turns == WAYS[1] else steps


def _links(said: _Cells, can_be: Columns) -> Iterator[dict[str, Any]]:
    first, *others = can_be.link.items()
    numbers = list(said.several(first[0]))
    stated = {name: one for name, one in others if said.one(name) is not None}
    condition = _condition(said, can_be.link_condition)
    asked = [name for name in can_be.link_condition if said.one(name) is not None and not said.is_fixed(name)]
    if (of_link := [*stated, *asked]) and not numbers:
        raise RowError(f"{of_link[0]} is stated, but not by which number the part was superseded")
    if "needs" in stated and len(numbers) > 1:
        raise RowError("it is not clear with which of the successors the kit is needed: give each a row of its own")
    for number in numbers:
        yield {first[1].key: number, **{one.key: said.value(name, one) for name, one in stated.items()}, **condition}


def _condition(said: _Cells, of: Mapping[str, Condition]) -> dict[str, Any]:
    """``when`` as a key with its value, or nothing."""
    when: dict[str, Any] = {}
    for name, one in of.items():
        if said.one(name) is not None:
            inner = when
            for step in one.way[:-1]:
                inner = inner.setdefault(step, {})
            inner[one.way[-1]] = said.value(name, one.field)
    return {"when": when} if when else {}


def _vehicles(said: _Cells, can_be: Columns) -> Iterator[dict[str, Any]]:
    first, *others = can_be.vehicle.items()
    stated = {name: one for name, one in others if said.one(name) is not None}
    vehicles = list(said.several(first[0]))
    cranks = {one.key: said.listed(name, one) for name, one in can_be.cranks.items() if said.one(name) is not None}
    of_the_row = [
        name
        for name in (*stated, *can_be.cranks, *can_be.condition)
        if said.one(name) is not None and name not in ("gearbox", "came_with") and not said.is_fixed(name)
    ]
    if of_the_row and not vehicles:
        raise RowError(f"{of_the_row[0]} is stated, but not the vehicle")
    for vehicle in vehicles:
        yield {
            first[1].key: vehicle,
            **{one.key: said.listed(name, one) for name, one in stated.items()},
            **({"cranks": cranks} if cranks else {}),
            **_condition(said, can_be.condition),
        }


class _Cells:
    """The cells of one row by field."""

    def __init__(self, row: Row, table: Table, mapping: ColumnMapping) -> None:
        self._row, self._table, self._mapping = row, table, mapping

    def _cell(self, heading: str) -> str:
        return cleaned(self._row.cells[self._table.column(heading)])

    def every(self) -> Iterator[tuple[str, str]]:
        """Each cell that something is taken from, with its heading."""
        yield from ((heading, self._cell(heading)) for heading in self._mapping.wanted)

    def _raw(self, name: str) -> str:
        if name in self._mapping.columns:
            return self._cell(self._mapping.columns[name])
        return self._mapping.fixed.get(name, "")

    def _word(self, name: str, text: str) -> str:
        found = self._mapping.values.get(name, {}).get(folded_cell(text), text)
        one = self._mapping.can_be.by_name.get(name)
        if one is not None and one.node.get("x-cell") == "date":
            found = _SPACED_DASH.sub("-", found.translate(_DASHES))
        return found

    def is_fixed(self, name: str) -> bool:
        """Whether it is the same in every row, so that it says nothing of this one."""
        return name in self._mapping.fixed

    def one(self, name: str) -> str | None:
        """The one value of a field, in the book's words; ``None`` where the cell is empty."""
        text = self._raw(name)
        return self._word(name, text) if text else None

    def several(self, name: str) -> Iterator[str]:
        """The values of a field that may have several in one cell, each once."""
        text = self._raw(name)
        by = self._mapping.split.get(name)
        parts = [one.strip() for one in text.split(by)] if by else [text]
        yield from dict.fromkeys(self._word(name, one) for one in parts if one)

    def steps(self, name: str) -> list[str]:
        """Figures one after the other in one cell, equal ones each time, with the signs for minus made one."""
        text = self._raw(name).translate(_DASHES)
        by = self._mapping.split.get(name)
        return [one.strip() for one in (text.split(by) if by else re.split(r"[;/\s]\s*|,\s+", text)) if one.strip()]

    def value(self, name: str, one: Field) -> Any:
        """A field's value as its key has it; ``None`` or an empty list where the cell is empty."""
        value = list(self.several(name)) if one.several else self.one(name)
        return value_of(self._mapping.can_be.schemas, one, value)

    def listed(self, name: str, one: Field) -> Any:
        """The same where several words without spaces may stand in one cell, as positions do: ``P N``."""
        if not one.several or name in self._mapping.split:
            return self.value(name, one)
        words = [self._word(name, word) for word in re.split(r"[,;/\s]+", self._raw(name)) if word]
        return value_of(self._mapping.can_be.schemas, one, list(dict.fromkeys(words)))

    def pins(self) -> dict[str, str]:
        """Cavity -> circuit."""
        if self._mapping.pin_columns:
            found = {cavity: self._cell(heading) for cavity, heading in self._mapping.pin_columns.items()}
            return {cavity: self._word("pins", text) for cavity, text in found.items() if text}
        text = self._raw("pins")
        if not text:
            return {}
        if text.isdigit():
            raise RowError(
                f"the pins are {text!r}: that is how many, not which cavities carry one; name the column under `notes` to keep it as a note"
            )
        parts = [one for one in re.split(r"[,;/\n]", text) if one.strip()]
        if len(parts) == 1 and len(parts[0].split()) > 1 and all(_PIN.match(one) for one in parts[0].split()):
            parts = parts[0].split()
        pins: dict[str, str] = {}
        for one in parts:
            pair = _PIN.match(one)
            if pair is None:
                raise RowError(
                    f"the pins {text!r} cannot be read at {one.strip()!r}; expected cavity and circuit, as in `1=start_feed, 2=start_out`"
                )
            if pair.group(1) in pins:
                raise RowError(f"the pins {text!r} name cavity {pair.group(1)} twice")
            pins[pair.group(1)] = self._word("pins", pair.group(2))
        return pins

    def loops(self) -> list[list[str]] | None:
        """The jumpers in the plug: the cavities that each joins; ``None`` where the cell is empty."""
        text = self.one(LOOPS)
        if text is None or text.casefold() == "none":
            return None if text is None else []
        found = [re.split(r"\s*[+=]\s*", one.strip()) for one in re.split(r"[,;/]", text) if one.strip()]
        if any(len(one) < 2 or not all(one) for one in found):
            raise RowError(f"the {LOOPS} {text!r} cannot be read; expected the cavities that each joins, as in `5+6, 7+8`, or `none`")
        return found

    def named(self, name: str) -> dict[str, str]:
        """Values by name, as in ``main=rect-9, lamp=oval-2``."""
        parts = [one.partition("=" if "=" in one else ":") for one in re.split(r"[,;\n]", self._raw(name)) if one.strip()]
        if any(not (key.strip() and value.strip()) for key, _, value in parts):
            raise RowError(f"the {name} {self._raw(name)!r} cannot be read; expected name and connector, as in `main=rect-9, lamp=oval-2`")
        return {key.strip(): self._word(name, value.strip()) for key, _, value in parts}

    def note(self) -> str:
        """The note's own column, and those that the book has no key for, each with its heading."""
        texts = [self.one("note") or ""]
        texts += [f"{heading}: {text}" for heading in self._mapping.notes if (text := self._cell(heading))]
        return "; ".join(filter(None, texts))


def cleaned(cell: str) -> str:
    """A cell without spaces around it, line ends and doubled spaces in it, and what a spreadsheet program needs to keep a number a text."""
    text = " ".join(of_cell(cell).split())
    as_text = _AS_TEXT.match(text)
    return as_text.group(1).strip() if as_text else text
