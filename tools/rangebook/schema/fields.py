"""What the schema says of a key beside what it may hold: whatever asks for a key, takes it in or shows it goes by this.

The schema is the one place where a key is declared. ``schema/README.md`` lists the ``x-`` annotations that stand there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from rangebook.schema.numbers import converted
from rangebook.schema.store import Schemas

Node = Mapping[str, Any]

_ONE_VALUE = frozenset({"string", "number", "integer", "boolean"})


@dataclass(frozen=True)
class Field:
    """One key. ``way`` are the keys that lead to the mapping it stands in, as in ``("parts",)``; ``node`` is what the schema says of it,
    references followed, and ``home`` the file in which that stands; ``required`` whether the mapping must have it."""

    key: str
    way: tuple[str, ...]
    node: Node
    home: str
    required: bool
    inner: Node
    """What is said of each item of a list, or of each value of a mapping by name."""
    instead: tuple[str, ...] = ()
    """The keys beside which it cannot stand: with one of them it is not asked for."""

    @property
    def of_part(self) -> bool:
        """Whether it is said of one part of a switch family."""
        return self.way == ("parts",)

    @property
    def label(self) -> str:
        """What people call it."""
        return str(self.node.get("x-label") or self.key.replace("_", " ").capitalize())

    @property
    def description(self) -> str:
        """What it is."""
        return str(self.node.get("description", ""))

    @property
    def expected(self) -> str:
        """What it looks like; its values where it is one of a few."""
        if "enum" in self.node:
            return "one of " + ", ".join(f"`{one}`" for one in self.node["enum"])
        own = self.node.get("x-expected", "")
        inner = self.inner.get("x-expected", "")
        return f"{own}: {inner}" if "`" in inner and "`" not in own else own or inner

    @property
    def how(self) -> str:
        """How somebody finds it out with the thing on the bench."""
        return str(self.node.get("x-how", ""))

    @property
    def asked(self) -> bool:
        """Whether most entries have it, so that it is asked for and marked where it is not known."""
        return self.required or not self.node.get("x-seldom", False)

    @property
    def alike(self) -> bool:
        """Whether one part can have it like another."""
        return bool(self.node.get("x-like", False))

    @property
    def feeds_a_verdict(self) -> bool:
        """Whether a verdict may go by it."""
        return not self.node.get("x-no-verdict", False)

    @cached_property
    def several(self) -> bool:
        """Whether it is a list."""
        return self.node.get("type") == "array"

    @cached_property
    def plain(self) -> bool:
        """Whether it is one value, or a list of such: a line to type in, a cell, a line on a page."""
        return _is_one_value(self.inner if self.several else self.node)

    @property
    def names_a_part(self) -> bool:
        """Whether what it holds, or each of its list, is a part number."""
        return "number" in (self.node.get("x-cell"), self.inner.get("x-cell"))

    @property
    def column(self) -> str | None:
        """What an import calls it, whose cells it can be taken from; ``None`` where it cannot."""
        stated = self.node.get("x-import", self.plain)
        return self.key if stated is True else stated or None


def _is_one_value(node: Node) -> bool:
    return "enum" in node or node.get("type") in _ONE_VALUE


def fields_at(schemas: Schemas, kind: str, *way: str) -> dict[str, Field]:
    """The keys of an entry of a kind, in their order; with a ``way`` those of what stands below it, items of a list or values of a mapping
    by name. Empty where nothing of that kind is there."""
    node, home = schemas.of(kind), kind
    for step in way:
        node, home = _first(schemas, node.get("properties", {}).get(step, {}), home)
        node, home = _below(schemas, node, home)
    needed, either = node.get("required", ()), node.get("not", {}).get("required", ())
    found = {key: _field(schemas, key, way, inner, home, key in needed) for key, inner in node.get("properties", {}).items()}
    return {
        key: replace(one, instead=tuple(other for other in either if other != key)) if key in either else one for key, one in found.items()
    }


def _below(schemas: Schemas, node: Node, home: str) -> tuple[Node, str]:
    """What is said of each item or value; the node itself where it has keys of its own."""
    below = node.get("items", node.get("additionalProperties"))
    return _first(schemas, below, home) if isinstance(below, Mapping) and "properties" not in node else (node, home)


def _first(schemas: Schemas, node: Node, home: str) -> tuple[Node, str]:
    """A node with its references followed; of a choice the first way of saying it, which is the plain one."""
    node, home = schemas.resolve(node, home)
    if "anyOf" not in node:
        return node, home
    first, first_home = schemas.resolve(node["anyOf"][0], home)
    return {**first, **{key: value for key, value in node.items() if key != "anyOf"}}, first_home


def _field(schemas: Schemas, key: str, way: tuple[str, ...], node: Node, home: str, required: bool) -> Field:
    node, home = _first(schemas, node, home)
    below = node.get("items", node.get("additionalProperties"))
    inner: Node = {}
    if isinstance(below, Mapping):
        inner, _ = schemas.resolve(below, home) if "items" in node else _first(schemas, below, home)
    return Field(key, way, node, home, required, inner)


def value_of(schemas: Schemas, field: Field, value: Any) -> Any:
    """A value as it was typed, with numbers made numbers and truth values made truth values where the schema asks for them."""
    return converted(schemas, field.node, field.home, value)


def named_in(schemas: Schemas, node: Node, home: str, value: Any) -> Iterator[tuple[str, str]]:
    """What a value names that stands elsewhere, each as ``(what, name)``: a ``connector`` or ``kit`` of the book by its id, a ``circuit``
    of the list."""
    node, home = schemas.resolve(node, home)
    if isinstance(value, str) and "x-names" in node:
        yield node["x-names"], value
    for one in node.get("anyOf", ()):
        yield from named_in(schemas, one, home, value)
    if isinstance(value, Mapping):
        rest = node.get("additionalProperties")
        for key, inner in value.items():
            below = node.get("properties", {}).get(key, rest)
            if isinstance(below, Mapping):
                yield from named_in(schemas, below, home, inner)
    if isinstance(value, list) and isinstance(node.get("items"), Mapping):
        for one in value:
            yield from named_in(schemas, node["items"], home, one)


def ordered(schemas: Schemas, node: Node, home: str, value: Any) -> Any:
    """The value with the keys of all its mappings in the order of the schema; keys that it does not know come last, as they were. Yes and
    no are truth values where the schema asks for them: as text they would be quoted."""
    node, home = schemas.resolve(node, home)
    if node.get("type") == "boolean":
        return converted(schemas, node, home, value)
    for one in node.get("anyOf", ()):
        value = ordered(schemas, one, home, value)
    if isinstance(value, Mapping):
        known = node.get("properties", {})
        rest = node.get("additionalProperties")
        keys = [*(key for key in known if key in value), *(key for key in value if key not in known)]
        return {key: ordered(schemas, known.get(key, rest if isinstance(rest, dict) else {}), home, value[key]) for key in keys}
    if isinstance(value, list):
        return [ordered(schemas, node.get("items", {}), home, one) for one in value]
    return value
