"""What can be said of a kind of entry, out of its schema: the schema is where a key, its order and its words come from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from rangebook.schema.store import Schemas

Node = Mapping[str, Any]

_GIVEN = frozenset({"kind", "parts"})
"""Written by the command itself."""

_OF_THE_ENTRY = frozenset({"note", "allow", "photos"})
"""Keys that a part has too, and that are taken to be meant for the entry; all others that both have are meant for the part."""

_SELDOM = frozenset({"allow", "photos", "note", "also_called", "signals", "stamped", "mates", "superseded_by", "trouble_codes"})
"""Keys that many entries do well without: they can be given, and are not asked for."""


@dataclass(frozen=True)
class Field:
    """One key. ``of_part`` is whether it belongs to the part of a switch family; ``required`` whether an entry must have it;
    ``asked`` whether it is asked for, and marked where it is not known."""

    key: str
    node: Node
    home: str
    of_part: bool
    required: bool
    inner: Node
    """What is said of each item of a list, or of each value of a mapping by name."""

    @property
    def asked(self) -> bool:
        """Whether most entries have it."""
        return self.required or self.key not in _SELDOM

    @property
    def description(self) -> str:
        """What it is, in the schema's words."""
        return str(self.node.get("description", ""))

    @property
    def expected(self) -> str:
        """What it looks like, in the schema's words; its values where it is one of a few."""
        if "enum" in self.node:
            return "one of " + ", ".join(f"`{one}`" for one in self.node["enum"])
        own = self.node.get("x-expected", "")
        inner = self.inner.get("x-expected", "")
        return f"{own}: {inner}" if "`" in inner and "`" not in own else own or inner


def fields(schemas: Schemas, kind: str) -> list[Field]:
    """Every key of a kind, in the order in which they stand in an entry; those of a part of a switch family in their place."""
    return list(_fields(schemas, kind))


def _fields(schemas: Schemas, kind: str) -> Iterator[Field]:
    top = schemas.of(kind)
    part, part_home = schemas.resolve(top["properties"].get("parts", {}).get("items", {}), kind)
    of_part = part.get("properties", {})
    for key, node in top["properties"].items():
        if key == "parts":
            for inner, below in of_part.items():
                if inner not in _OF_THE_ENTRY:
                    yield _field(schemas, inner, below, part_home, True, inner in part.get("required", ()))
        elif key not in _GIVEN and (key in _OF_THE_ENTRY or key not in of_part):
            yield _field(schemas, key, node, kind, False, key in top.get("required", ()))


def _field(schemas: Schemas, key: str, node: Node, home: str, of_part: bool, required: bool) -> Field:
    node, home = schemas.resolve(node, home)
    below = node.get("items", node.get("additionalProperties"))
    inner = schemas.resolve(below, home)[0] if isinstance(below, dict) else {}
    return Field(key, node, home, of_part, required, inner)


def ordered(schemas: Schemas, node: Node, home: str, value: Any) -> Any:
    """The value with the keys of all its mappings in the order of the schema; keys that it does not know come last, as they were."""
    node, home = schemas.resolve(node, home)
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
