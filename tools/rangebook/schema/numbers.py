"""The schema says what is a number: text -> number where, and only where, it does."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from rangebook.schema.store import Schemas

# JSON's own way of writing numbers, with an optional plus sign. `0123`, `.5` and `1_000` are not numbers.
_INTEGER = re.compile(r"[+-]?(0|[1-9][0-9]{0,17})\Z")
_NUMBER = re.compile(r"[+-]?(0|[1-9][0-9]{0,17})(\.[0-9]{1,17})?([eE][+-]?[0-9]{1,2})?\Z")
_TRUTH = {"yes": True, "true": True, "no": False, "false": False}

Converter = Callable[[Any], Any]


def converter(schemas: Schemas, kind: str) -> Converter:
    """A function that turns the text in one entry's front matter into numbers and truth values, in place.

    It gives back the value it was given, or the number that takes its place. Text that is not what the schema asks for
    is left as it is, for the schema check to speak of.
    """
    convert = _compile(schemas, schemas.of(kind), kind)
    return convert or (lambda value: value)


def converted(schemas: Schemas, node: Any, home: str, value: Any) -> Any:
    """One value the same way, by the node of the schema that speaks of it."""
    convert = _compile(schemas, node, home)
    return convert(value) if convert else value


def _compile(schemas: Schemas, node: Any, home: str) -> Converter | None:
    """A converter for one node of the schema, or ``None`` where nothing below it is a number or a truth value."""
    if not isinstance(node, dict):
        return None
    node, home = schemas.resolve(node, home)
    if "anyOf" in node:
        parts = [made for made in (_compile(schemas, part, home) for part in node["anyOf"]) if made]
        return _chain(parts) if parts else None
    kind = node.get("type")
    if kind == "integer":
        return _integer
    if kind == "number":
        return _number
    if kind == "boolean":
        return _boolean
    if kind == "array":
        item = _compile(schemas, node.get("items"), home)
        return _items(item) if item else None
    if kind == "object":
        made = {key: _compile(schemas, value, home) for key, value in node.get("properties", {}).items()}
        known = {key: converter for key, converter in made.items() if converter}
        other = _compile(schemas, node.get("additionalProperties"), home)
        return _members(known, other) if known or other else None
    return None


def _integer(value: Any) -> Any:
    return int(value) if isinstance(value, str) and _INTEGER.match(value) else value


def _number(value: Any) -> Any:
    if isinstance(value, str) and (found := _NUMBER.match(value)):
        # Behind its whole figures a whole number has nothing.
        return int(value) if found.end(1) == len(value) else float(value)
    return value


def _boolean(value: Any) -> Any:
    return _TRUTH.get(value, value) if isinstance(value, str) else value


def _chain(parts: list[Converter]) -> Converter:
    def convert(value: Any) -> Any:
        for part in parts:
            value = part(value)
        return value

    return convert


def _items(item: Converter) -> Converter:
    def convert(value: Any) -> Any:
        if isinstance(value, list):
            for index, inner in enumerate(value):
                value[index] = item(inner)
        return value

    return convert


def _members(known: dict[str, Converter], other: Converter | None) -> Converter:
    def convert(value: Any) -> Any:
        if isinstance(value, dict):
            for key, inner in value.items():
                made = known.get(key, other)
                if made:
                    value[key] = made(inner)
        return value

    return convert


def reads_as_number(text: str, *, whole: bool = False) -> bool:
    """Whether text is taken for a number, or with ``whole`` for an integer, where the schema asks for one."""
    return bool((_INTEGER if whole else _NUMBER).match(text))


def reads_as_truth(text: str) -> bool:
    """Whether text is taken for yes or no where the schema asks for one."""
    return text in _TRUTH
