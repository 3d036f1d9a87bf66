"""Which part of the schema speaks of which scalar of a layout."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from rangebook.lint.fixing import layout
from rangebook.lint.fixing.layout import Path, Scalar
from rangebook.reading.located import Map, Seq, steps
from rangebook.schema.numbers import reads_as_number, reads_as_truth
from rangebook.schema.patterns import matches
from rangebook.schema.store import KINDS, Schemas

Schema = Mapping[str, Any]


@dataclass(frozen=True)
class Known:
    """Names that the rest of the book has: the ids of its entries, and the circuits on the list. ``allowed`` are the places of what
    entries allow without naming one, by file and which line of ``allow`` it is, from 0; ``former`` today's ids by kind and former id."""

    ids: frozenset[str] = frozenset()
    circuits: frozenset[str] = frozenset()
    allowed: Mapping[tuple[str, int], str] = field(default_factory=dict)
    former: Mapping[tuple[str, str], str] = field(default_factory=dict)


class Typed(NamedTuple):
    """A scalar with its path, whether it is the last key of that path, and the ways in which the schema lets it be written."""

    scalar: Scalar
    path: Path
    is_key: bool
    ways: tuple[Schema, ...]


def typed(root: layout.Mapping, schemas: Schemas, kind: str) -> Iterator[Typed]:
    """Every scalar that the schema says something of, in the order of the text."""
    yield from _node(root, (), [(schemas.of(kind), kind)], schemas)


def paths_at(front: Map | Seq, marks: Container[tuple[int, int]]) -> Iterator[Path]:
    """The paths of the values, and of the keys, that begin at some of the marks (line, column) in front matter that was read."""
    for step, value, places in steps(front):
        if any(place in marks for place in places):
            yield (step,)
        if isinstance(value, Map | Seq):
            yield from ((step, *below) for below in paths_at(value, marks))


def ways_at(schemas: Schemas, kind: str, path: Path) -> list[Schema]:
    """What the schema says of the value at a path; nothing where it has no such place."""
    ways = list(_branches(schemas.of(kind), kind, schemas))
    for step in path:
        below: list[tuple[Schema, str]] = []
        for way, home in ways:
            inner = way.get("items") if isinstance(step, int) else way.get("properties", {}).get(step, way.get("additionalProperties"))
            if isinstance(inner, dict):
                below += _branches(inner, home, schemas)
        ways = below
    return [way for way, _ in ways]


def accepts(ways: tuple[Schema, ...], text: str) -> bool:
    """Whether a scalar written as ``text`` is as one of ``ways`` asks for."""
    return any(_accepts(way, text) for way in ways)


def is_free(way: Schema) -> bool:
    """Whether it is text of any kind: words for people, a name of the writer's own, a number as a maker prints it."""
    return way.get("type") == "string" and not way.get("pattern", "").startswith("^") and "enum" not in way


def _accepts(way: Schema, text: str) -> bool:
    if "const" in way:
        return bool(text == way["const"])
    if "enum" in way:
        return text in way["enum"]
    match way.get("type"):
        case "string":
            return bool(text) and matches(way.get("pattern", ""), text)
        case "number" | "integer":
            return reads_as_number(text, whole=way["type"] == "integer")
        case "boolean":
            return reads_as_truth(text)
    return False


def _node(node: layout.Node, path: Path, ways: list[tuple[Schema, str]], schemas: Schemas) -> Iterator[Typed]:
    ways = [way for one in ways for way in _branches(*one, schemas)]
    if isinstance(node, Scalar):
        found = tuple(way for way, _ in ways if way.get("type") not in ("object", "array"))
        if found:
            yield Typed(node, path, False, found)
    elif isinstance(node, layout.Sequence):
        items = [(way["items"], home) for way, home in ways if isinstance(way.get("items"), dict)]
        for index, item in enumerate(node.items):
            yield from _node(item, (*path, index), items, schemas)
    else:
        yield from _mapping(node, path, [one for one in ways if one[0].get("type") == "object"], schemas)


def _mapping(node: layout.Mapping, path: Path, ways: list[tuple[Schema, str]], schemas: Schemas) -> Iterator[Typed]:
    for key, value in node.pairs:
        below = (*path, key.value)
        keys: list[Schema] = []
        values: list[tuple[Schema, str]] = []
        for way, home in ways:
            properties = way.get("properties", {})
            if key.value in properties:
                values.append((properties[key.value], home))
            elif isinstance(way.get("additionalProperties"), dict):
                values.append((way["additionalProperties"], home))
            if properties:
                keys.append({"enum": list(properties)})
            elif "propertyNames" in way:
                keys.append(schemas.resolve(way["propertyNames"], home)[0])
        if keys:
            yield Typed(key, below, True, tuple(keys))
        yield from _node(value, below, values, schemas)


def _branches(way: Schema, home: str, schemas: Schemas) -> Iterator[tuple[Schema, str]]:
    way, home = schemas.resolve(way, home)
    if "anyOf" in way:
        for one in way["anyOf"]:
            yield from _branches(one, home, schemas)
    else:
        yield way, home


def free_keys(schemas: Schemas) -> frozenset[str]:
    """Keys that stand for free text wherever the schema has them."""
    free: set[str] = set()
    bound: set[str] = set()
    for kind in KINDS:
        for key, way in _properties(schemas, schemas.of(kind), kind):
            (free if is_free(way) else bound).add(key)
    return frozenset(free - bound)


def _properties(schemas: Schemas, node: Any, home: str) -> Iterator[tuple[str, Any]]:
    if not isinstance(node, dict):
        return
    node, home = schemas.resolve(node, home)
    for key, value in node.get("properties", {}).items():
        yield key, schemas.resolve(value, home)[0]
        yield from _properties(schemas, value, home)
    for below in (node.get("items"), node.get("additionalProperties"), *node.get("anyOf", ())):
        yield from _properties(schemas, below, home)
