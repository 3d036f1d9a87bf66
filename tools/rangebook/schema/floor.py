"""That a book's own schema asks at least for the types and keys that the shipped one asks for: the model of an entry is made by these."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

Node = Mapping[str, Any]

_AT_LEAST = ("minLength", "minItems", "minProperties", "minimum", "exclusiveMinimum")
_AT_MOST = ("maxLength", "maxItems", "maxProperties", "maximum", "exclusiveMaximum")


@dataclass(frozen=True)
class Place:
    """A node of a schema, references followed, and the schema (``Schemas``) with the file that it stands in."""

    schemas: Any
    node: Node
    home: str

    @classmethod
    def of(cls, schemas: Any, node: Node, home: str) -> Place:
        """The place where a node's references lead."""
        return cls(schemas, *schemas.resolve(node, home))

    def below(self, node: Node) -> Place:
        """The place of a node that stands in this one."""
        return Place.of(self.schemas, node, self.home)


def looser(own: Place, shipped: Place, at: str = "the top") -> Iterator[str]:
    """In what ``own`` asks for less than ``shipped``, one line each."""
    mine, theirs = own.node, shipped.node
    listed = "enum" in mine or "const" in mine
    if "type" in theirs and mine.get("type") != theirs["type"] and not (listed and theirs["type"] == "string"):
        yield f"{at} has to be of the type `{theirs['type']}`"
    if ("enum" in theirs or "const" in theirs) and not (listed or mine.get("type") == "string"):
        yield f"{at} has to be text"
    if gone := sorted(set(theirs.get("required", ())) - set(mine.get("required", ()))):
        yield f"{at} has to ask for `{gone[0]}`"
    for keys, order in ((_AT_LEAST, 1), (_AT_MOST, -1)):
        for key in keys:
            if key in theirs and not (listed or (key in mine and mine[key] * order >= theirs[key] * order)):
                yield f"{at} has to have a `{key}` of {theirs[key]} or what is stricter"
    yield from _below(own, shipped, at)


def _below(own: Place, shipped: Place, at: str) -> Iterator[str]:
    mine, theirs = own.node, shipped.node
    for key, node in theirs.get("properties", {}).items():
        if key in mine.get("properties", {}):
            yield from looser(own.below(mine["properties"][key]), shipped.below(node), f"{at}/{key}")
    if theirs.get("additionalProperties") is False and mine.get("additionalProperties") is not False:
        yield f"{at} has to refuse keys that it does not name"
    for key in ("items", "additionalProperties"):
        if isinstance(theirs.get(key), Mapping):
            if isinstance(mine.get(key), Mapping):
                yield from looser(own.below(mine[key]), shipped.below(theirs[key]), f"{at}/{key}")
            else:
                yield f"{at} has to say what its {'items' if key == 'items' else 'values'} are"
    if "anyOf" in theirs:
        if len(mine.get("anyOf", ())) != len(theirs["anyOf"]):
            yield f"{at} has to have its `anyOf`"
        for one, other in zip(mine.get("anyOf", ()), theirs["anyOf"], strict=False):
            yield from looser(own.below(one), shipped.below(other), at)
    for key in ("not", "if", "then"):
        if key in theirs and mine.get(key) != theirs[key]:
            yield f"{at} has to have its `{key}`"
