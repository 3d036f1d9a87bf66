"""Front matter -> located values, straight from libyaml's events.

No resolver runs: ``0123``, ``NO``, ``1e3``, ``12:30`` and ``3`` all stay the text that was typed. What YAML offers
beyond plain mappings, lists and text (anchors, aliases, tags, tabs, several documents, doubled keys) is a problem here,
because it makes an entry mean something else than it seems to say.
"""

from __future__ import annotations

import unicodedata
from sys import intern
from typing import Any, Literal

import yaml
from yaml.events import (
    AliasEvent,
    DocumentEndEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
)

from rangebook.reading.finding import Line, Problem
from rangebook.reading.located import Map, Mark, Seq
from rangebook.reading.unseen import UNSEEN, has_unseen
from rangebook.reading.yaml_errors import yaml_error_of

_Parser: type = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
"""libyaml where PyYAML was built with it, as its wheels are; else the same events, some fifteen times slower. Only its events
are used, never what it would make of them."""

PLACE: type = type(_Parser("").peek_event().start_mark)
"""Of what class the places are that values remember."""

MAX_DEPTH = 16
"""Deeper than any entry needs; a bound against files made to exhaust the stack."""

MAX_PROBLEMS = 50
"""After so many problems of this kind in one file the rest is not listed."""

TAB = "yaml.tab"
"""The code of the one problem that is told before the rest is read."""

WORD = 32
"""Keys and shorter values are one object in memory however often a book says them."""


class _Stop(Exception):
    """The rest of the file cannot be made sense of."""


Reads = Literal["front_matter", "mapping", "settings"]
"""What is read: an entry's front matter, what the columns of a spreadsheet are, or what a book says of itself."""


def parse(file: str, front: str, first_line: int = 2, reads: Reads = "front_matter") -> tuple[Map | None, list[Problem]]:
    """Read front matter, or what ``reads`` says, that begins on line ``first_line`` of ``file``.

    Returns the mapping (``None`` where there is none that could be trusted) and the problems found.
    """
    tab = front.find("\t")
    if tab >= 0:
        line = front.count("\n", 0, tab)
        column = tab - (front.rfind("\n", 0, tab) + 1)
        mark = Mark(line + first_line, column + 1)
        return None, [Problem.of("yaml-feature", file, mark, TAB)]
    builder = _Builder(file, first_line, reads)
    try:
        return builder.build(front), builder.problems
    except _Stop:
        return None, builder.problems
    except yaml.MarkedYAMLError as error:
        slip = yaml_error_of(front, error, MAX_DEPTH)
        mark = Mark(slip.line + first_line, slip.column + 1)
        values = {**slip.values, "at": Line(slip.values["at"] + first_line)} if "at" in slip.values else slip.values
        builder.problems.append(Problem.of("yaml-syntax", file, mark, slip.code, reads=reads, **values))
        return None, builder.problems
    except yaml.YAMLError as error:
        builder.problems.append(Problem.of("yaml-syntax", file, Mark(first_line, 1), "yaml.none", reads=reads, why=str(error)))
        return None, builder.problems


Event = Any
"""One of libyaml's events. They are told apart by class, for speed, which no type checker follows."""


class _Builder:
    def __init__(self, file: str, first_line: int, reads: Reads) -> None:
        self.file = file
        self.reads = reads
        self.first_line = first_line
        self.front = ""
        self.problems: list[Problem] = []

    def build(self, front: str) -> Map | None:
        parser = _Parser(front)
        # Only a front matter with an escape or an odd sign in it is looked at value by value.
        self.front = front if "\\" in front or has_unseen(front) else ""
        self.next = parser.get_event
        self.next()  # the stream begins
        event = self.next()
        if isinstance(event, StreamEndEvent):
            self._add_at("front-matter", Mark(self.first_line, 1), "front.empty", reads=self.reads)
            raise _Stop
        event = self.next()
        if event.__class__ is not MappingStartEvent:
            self._add("front-matter", event, "front.no_mapping", reads=self.reads)
            raise _Stop
        root = self._mapping(event, 1)
        if not isinstance(self.next(), DocumentEndEvent):  # pragma: no cover - libyaml always ends a document here
            raise _Stop
        event = self.next()
        if not isinstance(event, StreamEndEvent):
            self._add("front-matter", event, "front.second_document")
            raise _Stop
        return root

    def _add(self, rule: str, event: Event, code: str, **values: Any) -> None:
        self._add_at(rule, self._mark(event), code, **values)

    def _add_at(self, rule: str, mark: Mark, code: str, **values: Any) -> None:
        self.problems.append(Problem.of(rule, self.file, mark, code, **values))
        if len(self.problems) >= MAX_PROBLEMS:
            raise _Stop

    def _mark(self, event: Event) -> Mark:
        at = event.start_mark
        return Mark(at.line + self.first_line, at.column + 1)

    def _value(self, event: Event, depth: int) -> Map | Seq | str:
        kind = event.__class__
        if kind is ScalarEvent:
            if event.anchor is not None or event.tag is not None:
                self._refuse(event)
            if self.front:
                self._look_at(event)
            value = event.value
            return intern(value) if len(value) < WORD else value
        if kind is MappingStartEvent:
            return self._mapping(event, depth + 1)
        if kind is SequenceStartEvent:
            return self._sequence(event, depth + 1)
        if kind is AliasEvent:
            self._add("yaml-feature", event, "yaml.alias", anchor=event.anchor)
            raise _Stop
        raise _Stop  # pragma: no cover - no other event can stand for a value

    def _is_slip(self, event: Event, value: Event, mapping: Map) -> bool:
        """Whether a key without a value is what stands behind the decimal comma of the value before it, ``10,5`` in braces, or is one with
        its value, ``1:start_feed``."""
        if value.start_mark.index != event.end_mark.index or event.style:
            return False
        before = next(reversed(mapping.values()), None)
        if event.value.isdigit() and isinstance(before, str) and before.isdigit():
            self._add("yaml-syntax", event, "yaml.decimal_comma", typed=f"{before},{event.value}", meant=f"{before}.{event.value}")
            return True
        key, colon, meant = event.value.partition(":")
        if not (key and colon and meant) or key in mapping or "//" in meant:
            return False
        self._add("yaml-syntax", event, "yaml.no_space", key=key, value=meant)
        mapping.key_places[key] = mapping.value_places[key] = event.start_mark
        mapping[key] = meant
        return True

    def _refuse(self, event: Event) -> None:
        if event.anchor is not None:
            self._add("yaml-feature", event, "yaml.anchor", anchor=event.anchor)
        if event.tag is not None:
            self._add("yaml-feature", event, "yaml.tag", tag=event.tag)

    def _look_at(self, event: Event) -> None:
        """Refuse what cannot be seen in a scalar. A line end is let be where it is one in the file too."""
        escaped = event.style == '"' and "\\" in self.front[event.start_mark.index : event.end_mark.index]
        found = UNSEEN.search(event.value if escaped else event.value.replace("\n", ""))
        if found:
            sign = found.group()
            name = unicodedata.name(sign, "a control character").lower()
            self._add("unseen-character", event, "yaml.unseen", name=name, code_point=f"{ord(sign):04X}")

    def _enter(self, event: Event, depth: int) -> None:
        if depth > MAX_DEPTH:
            self._add("yaml-syntax", event, "yaml.too_deep", reads=self.reads, deepest=MAX_DEPTH)
            raise _Stop
        if event.anchor is not None or event.tag is not None:
            self._refuse(event)

    def _sequence(self, event: Event, depth: int) -> Seq:
        if depth > MAX_DEPTH or event.anchor is not None or event.tag is not None:
            self._enter(event, depth)
        seq = Seq(event.start_mark, self.first_line)
        get, places, plain = self.next, seq.item_places, not self.front
        while True:
            event = get()
            kind = event.__class__
            if kind is SequenceEndEvent:
                return seq
            places.append(event.start_mark)
            # Most values are plain text: what _value does with it is done here too, as it is done so often.
            if kind is ScalarEvent and plain and event.anchor is None and event.tag is None:
                text = event.value
                seq.append(intern(text) if len(text) < WORD else text)
            else:
                seq.append(self._value(event, depth))

    def _mapping(self, event: Event, depth: int) -> Map:
        if depth > MAX_DEPTH or event.anchor is not None or event.tag is not None:
            self._enter(event, depth)
        mapping = Map(event.start_mark, self.first_line)
        get, key_places, value_places, plain = self.next, mapping.key_places, mapping.value_places, not self.front
        while True:
            event = get()
            kind = event.__class__
            if kind is not ScalarEvent:
                if kind is MappingEndEvent:
                    return mapping
                self._add("yaml-feature", event, "yaml.key_not_plain")
                raise _Stop
            if event.anchor is not None or event.tag is not None:
                self._refuse(event)
            if not plain:
                self._look_at(event)
            key = intern(event.value)
            value = get()
            is_text = value.__class__ is ScalarEvent
            if is_text and not value.value and self._is_slip(event, value, mapping):
                continue
            if key in mapping:
                self._add("duplicate-key", event, "yaml.duplicate_key", key=key, line=Line(mapping.key_mark(key).line))
                self._value(value, depth)
                continue
            key_places[key] = event.start_mark
            value_places[key] = value.start_mark
            if is_text and plain and value.anchor is None and value.tag is None:
                text = value.value
                mapping[key] = intern(text) if len(text) < WORD else text
            else:
                mapping[key] = self._value(value, depth)
