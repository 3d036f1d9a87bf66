"""Whether schema files have the shape that the house reads them by. A book may bring some of its own, and anything may be in them."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any, NoReturn

from rangebook.schema.patterns import matches

MOST_BYTES = 2_000_000
MOST_NODES = 20_000
"""Of one schema, with each reference followed: what is said of values is compiled from all of them."""
DEEPEST = 60
MOST_CIRCUITS = 1_000

_NAME = re.compile(r"[a-z][a-z0-9_]{0,63}\Z")
_KINDS = frozenset({"object", "array", "string", "number", "integer", "boolean"})
_BELOW = ("items", "additionalProperties", "propertyNames", "not", "if", "then")
_TEXTS = frozenset({"$schema", "$id", "$comment", "title", "description"})
_COUNTS = frozenset({"minLength", "maxLength", "minItems", "maxItems", "minProperties", "maxProperties"})
_BOUNDS = frozenset({"minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"})
_KNOWN = {"$ref", "$defs", "type", "properties", *_BELOW, "anyOf", "required", "enum", "const", "pattern", "examples", "default"}
_KNOWN |= _TEXTS | _COUNTS | _BOUNDS


class ShapeError(ValueError):
    """What is wrong with a schema file, without its name."""


def parsed(data: bytes) -> Any:
    """What is in a schema file. Raises :class:`ShapeError`."""
    if len(data) > MOST_BYTES:
        raise ShapeError(f"is larger than {MOST_BYTES} bytes")
    try:
        return json.loads(data.decode("utf-8"), parse_constant=_no_number)
    except UnicodeDecodeError as error:
        raise ShapeError(f"is not UTF-8: byte {error.start + 1}") from error
    except RecursionError as error:
        raise ShapeError("is nested too deep") from error
    except ValueError as error:
        raise ShapeError(f"is not JSON: {error}") from error


def _no_number(text: str) -> NoReturn:
    raise ValueError(f"{text} is no number")


def check_circuits(content: Any) -> None:
    """The controlled list of circuits. Raises :class:`ShapeError`."""
    listed = content.get("circuits") if isinstance(content, dict) else None
    if not isinstance(listed, dict) or len(listed) > MOST_CIRCUITS:
        raise ShapeError(f"has no `circuits`, which name up to {MOST_CIRCUITS} circuits")
    for name, facts in listed.items():
        if not _NAME.match(name):
            raise ShapeError(f"the circuit {_shown(name)}: its name is not of small letters, digits and underscores")
        if not isinstance(facts, dict):
            raise ShapeError(f"the circuit `{name}` does not say its `role` and `name`")
        for key in ("role", "name"):
            if key not in facts:
                raise ShapeError(f"the circuit `{name}` does not say its `{key}`")
        for key, value in facts.items():
            if key not in _OF_A_CIRCUIT:
                raise ShapeError(f"the circuit `{name}`: {_shown(key)} is not among what is said of a circuit")
            form, words = _OF_A_CIRCUIT[key]
            if not form(value):
                raise ShapeError(f"the circuit `{name}`: its `{key}` is not {words}")


def check_schema(name: str, files: Mapping[str, Any]) -> None:
    """One schema with all that it refers to. Raises :class:`ShapeError`."""
    content = files[name]
    if not isinstance(content, dict):
        raise ShapeError("is not an object")
    if name == "common" and not isinstance(content.get("$defs"), dict):
        raise ShapeError("has no `$defs`")
    if name != "common" and not isinstance(content.get("properties"), dict):
        raise ShapeError("has no `properties`")
    _Walk(files).all_of(name)


class _Walk:
    def __init__(self, files: Mapping[str, Any]) -> None:
        self._files = files
        self._sizes: dict[int, int] = {}

    def all_of(self, name: str) -> None:
        self._size(self._files[name], name, "", ())

    def _size(self, node: Any, home: str, at: str, way: tuple[int, ...]) -> int:
        """How many nodes there are from here on, references followed; each node is looked into once."""
        if id(node) in way:
            raise ShapeError(f"{at or 'the schema'} holds itself")
        if len(way) > DEEPEST:
            raise ShapeError(f"is nested deeper than {DEEPEST} steps at {at[:200]}")
        if id(node) in self._sizes:
            return self._sizes[id(node)]
        _check_node(node, at)
        size = 1
        for step, below in _inner(node):
            size += self._size(below, home, f"{at}/{step}", (*way, id(node)))
        if "$ref" in node:
            to, where, file = self._target(node["$ref"], home, at)
            size += self._size(to, file, where, (*way, id(node)))
        if size > MOST_NODES:
            raise ShapeError(f"says more than {MOST_NODES} things, references followed, at {at[:200] or 'its top'}")
        self._sizes[id(node)] = size
        return size

    def _target(self, ref: str, home: str, at: str) -> tuple[Any, str, str]:
        file, _, pointer = ref.partition("#")
        home = file.removesuffix(".json") or home
        node = self._files.get(home)
        for step in pointer.strip("/").split("/"):
            node = node.get(step) if isinstance(node, dict) else None
        if node is None:
            raise ShapeError(f"{at}: `$ref` leads to nothing: {_shown(ref)}")
        return node, f"{home}.json#{pointer}", home


def _inner(node: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    for key in ("$defs", "properties"):
        for name, below in node.get(key, {}).items():
            yield f"{key}/{name[:60]}", below
    for key in _BELOW:
        if isinstance(node.get(key), dict):
            yield key, node[key]
    for number, below in enumerate(node.get("anyOf", ())):
        yield f"anyOf/{number}", below


def _check_node(node: Any, at: str) -> None:
    at = at or "the top"
    if not isinstance(node, dict):
        raise ShapeError(f"{at} is not an object")
    for key, value in node.items():
        if not (key in _KNOWN or key.startswith("x-")):
            raise ShapeError(f"{at}: {_shown(key)} is not among the words of JSON Schema that entries are checked by")
        if not _is_as_it_should_be(key, value):
            raise ShapeError(f"{at}: {_shown(key)} is not of the form that it should have")


def _is_as_it_should_be(key: str, value: Any) -> bool:
    if key.startswith("x-"):
        return isinstance(value, str | bool)
    return key not in _FORMS or _FORMS[key](value)


def _is_pattern(value: Any) -> bool:
    try:
        matches(value, "")
    except (ValueError, TypeError):  # no pattern, or no text
        return False
    return True


def _is_text(value: Any, most: int) -> bool:
    return isinstance(value, str) and value.isprintable() and bool(value.strip()) and len(value) <= most


def _are_texts(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(one, str) for one in value)


def _are_names(value: Any) -> bool:
    return isinstance(value, list) and all(_is_text(one, 64) for one in value)


def _is_whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and value >= 0


def _is_figure(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


_FORMS: Mapping[str, Callable[[Any], bool]] = {
    **dict.fromkeys((*_TEXTS, "$ref", "const"), lambda value: isinstance(value, str)),
    **dict.fromkeys(_COUNTS, _is_whole),
    **dict.fromkeys(_BOUNDS, _is_figure),
    **dict.fromkeys(("properties", "$defs", "items", "propertyNames", "not", "if", "then"), lambda value: isinstance(value, dict)),
    **dict.fromkeys(("required", "enum"), _are_texts),
    "type": lambda value: isinstance(value, str) and value in _KINDS,
    "additionalProperties": lambda value: isinstance(value, dict | bool),
    "anyOf": lambda value: isinstance(value, list) and bool(value),
    "pattern": _is_pattern,
}
"""Which value each word of JSON Schema can have here."""


_OF_A_CIRCUIT: Mapping[str, tuple[Callable[[Any], bool], str]] = {
    "role": (lambda value: _is_text(value, 200), "a line of text"),
    "name": (lambda value: _is_text(value, 200), "a line of text"),
    "about": (lambda value: _is_text(value, 1000), "a line of text"),
    "safety": (lambda value: isinstance(value, bool), "true or false"),
    "joined_in": (lambda value: value == "any" or _are_names(value), "`any` or a list of positions"),
    "feeds": (_are_names, "a list of circuits"),
    "danger": (lambda value: _is_text(value, 200), "a line of text"),
}
"""What a circuit can say, when it is as it should be, and what that is called."""


def _shown(text: str) -> str:
    return json.dumps(text[:80])
