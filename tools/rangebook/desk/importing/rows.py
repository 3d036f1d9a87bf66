"""Rows of a table -> what they say of a part, its successors and a vehicle, or why a row cannot be taken."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from rangebook.desk.importing.columns import CONTACTS, FAMILY, FITTED, HUB_TURNS, LOOPS, WAYS, Columns, Condition
from rangebook.desk.importing.mapping import ColumnMapping, folded_cell
from rangebook.desk.importing.spoiled import error_word, numbers_in, why_not
from rangebook.reading.located import plain
from rangebook.reading.sheet import Held
from rangebook.reading.strict_yaml import parse
from rangebook.reading.table import Row, Table
from rangebook.schema.fields import Field, value_of
from rangebook.words.problems import problem_fix, problem_words
from rangebook.words.shown import of_cell

_AS_TEXT = re.compile(r'="(.*)"\Z')
_PIN = re.compile(r"\s*((?:[A-Za-z][A-Za-z0-9_-]*\.)?[A-Za-z0-9]{1,4})\s*[:=]\s*(.+?)\s*\Z")
_STEP = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?\Z")
_DASHES = str.maketrans({"\u2010": "-", "\u2011": "-", "\u2012": "-", "\u2013": "-", "\u2014": "-", "\u2212": "-"})
_SPACED_DASH = re.compile(r"\s*-\s*")

_PAIR = re.compile(r"\s*([^\s+/=:-]+)\s*-\s*([^\s+/=:-]+?)\s*\Z")
_NEVER = ("never", "none", "open")


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
        if wrong := error_word(cell):
            raise RowError(f"{heading}: {wrong} is a spreadsheet program's word for an error: type what belongs there")
    for name, heading, cell, held in said.placed():
        if wrong := why_not(cell, held, name, mapping.can_be.by_name.get(name), name in mapping.whole_numbers):
            raise RowError(f"{heading}: {wrong}")
    number = said.one("number")
    if number is None:
        raise RowError("the part number is missing")
    can_be = mapping.can_be
    for name, one in can_be.by_name.items():
        if not one.names_a_part:
            continue
        for text in said.several(name) if name in mapping.split else (said.as_typed(name),):
            if len(several := numbers_in(text)) > 1:
                may_split = ", or say under `split` what parts them" if name in can_be.several else ""
                raise RowError(
                    f"{said.heading(name)}: {text!r} is {len(several)} numbers in one cell: give each a row of its own{may_split}"
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
        stated = {name: one for name, one in fields.items() if said.one(name) is not None}
        # What is the same in every row makes no record of a row that says nothing of one.
        if stated and (key != FITTED or not all(map(said.is_fixed, stated))):
            found = {one.key: said.value(name, one) for name, one in stated.items()}
            part[key] = [found] if key == FITTED else found
    part |= _written(said, can_be)
    if contacts := said.contacts():
        if CONTACTS in part:
            raise RowError(f"the contacts stand in two columns, {said.heading(CONTACTS)} and one as in an entry")
        part[CONTACTS] = contacts
    vehicles = tuple(_vehicles(said, can_be))
    hub = _hub(said, can_be)
    if hub and "mount" not in part:
        raise RowError("where the hub stands is stated, but not of which mount: name it in a column `mount`")
    plug, loops = said.one("plug"), said.loops()
    if loops is not None and plug is None:
        raise RowError(f"{LOOPS} is stated, but not of which plug: name it in a column `plug`")
    links = tuple(_links(said, can_be))
    return RowFacts(row.line, number, said.one(FAMILY), said.one("gearbox"), part, links, vehicles, hub, plug, loops)


def _written(said: _Cells, can_be: Columns) -> dict[str, Any]:
    """What stands in cells as it does in an entry."""
    found = {one.key: said.written(name, one) for name, one in can_be.written.items()}
    return {key: value for key, value in found.items() if value is not None}


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

    def heading(self, name: str) -> str:
        """The heading of a field's column; the field itself where it has none."""
        return self._mapping.columns.get(name, name)

    def placed(self) -> Iterator[tuple[str, str, str, Held | None]]:
        """Each cell that a field is taken from: the field's name, the heading, the cell, and what it holds where that is no text."""
        each = [("pins", one) for one in self._mapping.pin_columns.values()]
        each += [(CONTACTS, one) for one in self._mapping.contact_columns.values()]
        for name, heading in (*self._mapping.columns.items(), *each):
            yield name, heading, self._cell(heading), self._row.held.get(self._table.column(heading))

    def as_typed(self, name: str) -> str:
        """A field's cell with the ends of its lines."""
        if name not in self._mapping.columns:
            return self._raw(name)
        return of_cell(self._row.cells[self._table.column(self._mapping.columns[name])]).strip()

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

    def written(self, name: str, one: Field) -> Any:
        """What a cell says in the form of an entry; ``None`` where it is empty. Read as strictly as one."""
        text = self.as_typed(name)
        if not text:
            return None
        front, problems = parse(self.heading(name), f"{one.key}: {text}\n", 1, "mapping")
        if front is None or problems or set(front) != {one.key}:
            why = f"{problem_words(problems[0])}; {problem_fix(problems[0])}" if problems else "it is more than one value"
            raise RowError(f"{self.heading(name)}: {text!r} is not as it stands in an entry: {why}")
        return value_of(self._mapping.can_be.schemas, one, plain(front[one.key]))

    def contacts(self) -> list[dict[str, Any]]:
        """As in an entry. One whose positions are not said is left without them: it is not known when it is closed."""
        found = []
        if self._mapping.contact_columns:
            for pair, heading in self._mapping.contact_columns.items():
                if text := self._cell(heading):
                    found.append(self._contact(pair, text))
        else:
            for piece in re.split(r"[;|\n]", self.as_typed(CONTACTS)):
                if piece.strip():
                    pair, _, rest = _SPACED_DASH.sub("-", cleaned(piece).translate(_DASHES), count=1).replace(":", " ").partition(" ")
                    found.append(self._contact(pair, rest or "?"))
        ends = [frozenset(one["pins"]) for one in found]
        if twice := next((one for one in ends if ends.count(one) > 1), None):
            raise RowError(f"{self.heading(CONTACTS)}: the contact between {' and '.join(sorted(twice))} is named twice")
        return found

    def _contact(self, pair: str, text: str) -> dict[str, Any]:
        """One contact: the two pins, and the positions in which it is closed."""
        ends = _PAIR.match(pair.translate(_DASHES))
        words = [one for one in re.split(r"[,/\s]+", text) if one]
        if words and words[0].casefold().rstrip(":=") in ("closed", "in"):
            words = words[1:]
        words = [one for one in words if one.casefold() != "in"]
        if ends is None or not words or any(_PAIR.match(one) for one in words):
            expected = "expected two pins and the positions, as in `1-2 closed P,N; 3-4 R; 5-6 never`"
            raise RowError(f"{self.heading(CONTACTS)}: {f'{pair} {text}'.strip()!r} cannot be read; {expected}")
        pins = [end.casefold() if end.casefold() == "case" else end for end in ends.groups()]
        if words == ["?"]:
            return {"pins": pins}
        if len(words) == 1 and words[0].casefold() in _NEVER:
            return {"pins": pins, "closed": []}
        return {"pins": pins, "closed": list(dict.fromkeys(self._word(CONTACTS, one) for one in words))}

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
