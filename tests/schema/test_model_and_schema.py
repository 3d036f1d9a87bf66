"""The schema of an entry and the model of it are one: each key is read into the model, each field of the model comes from a key.

Nothing here is written down by hand for a key: an entry with every key that the schema knows is made from the schema, read and
checked as any other, and then made again with one key left out (or said differently, where it has to be there). Whoever adds a
key or a field to one of the two alone sees a test fail that names it.
"""

from __future__ import annotations

import dataclasses
import inspect
import json
import re
from collections.abc import Iterator, Mapping
from copy import deepcopy
from typing import Any

import pytest

from rangebook.book import build, model
from rangebook.reading.entry import read_entry
from rangebook.schema.check import Checker
from rangebook.schema.store import KINDS, load_schemas

SCHEMAS = load_schemas()
CHECKER = Checker(SCHEMAS)

NOT_IN_THE_MODEL = {("kind",): "says which of the three kinds it is, and so what the entry is made into"}
"""Key -> why the model has no field for it."""

NOT_FROM_A_KEY = {
    "path": "where it stands in its file",
    "Mount.name": "the name that it stands under in `mounts`",
    "Kit.fans": "the moves of `moves` that go to several cavities",
    "Part.joined": "what goes with it, as the verdict judges them together",
    "Plug.name": "the name that it stands under in `plugs`",
    "Wire.cavity": "the cavity that it stands under in `wires`",
    "Wire.others": "the further wires of a list under one cavity in `wires`",
}
"""Field of the model -> what it comes from, since it is no key's value."""

TEXTS = (
    ("X1", "X2"),
    ("x1", "x2"),
    ("2003-2008", "2004-2009"),
    ("2009-05", "2009-06"),
    ("2009-05-04", "2009-05-05"),
    ("P0705", "P0706"),
    ("a.png", "b.png"),
)
"""Pairs of texts; for a pattern the first pair is taken that matches it."""

Node = Mapping[str, Any]
Way = tuple[str | int, ...]


def resolved(node: Node, file: str) -> tuple[Node, str]:
    """A schema with its reference followed, and the file that it stands in; of a choice the object, which says most."""
    if "anyOf" in node:
        choices = [resolved(choice, file) for choice in node["anyOf"]]
        return next((one for one in choices if one[0].get("type") == "object"), choices[0])
    if "$ref" not in node:
        return node, file
    name, _, pointer = node["$ref"].partition("#")
    file = name.removesuffix(".json") or file
    target: Any = SCHEMAS.files[file]
    for step in pointer.strip("/").split("/"):
        target = target[step]
    return resolved(target, file)


def below(node: Node, file: str, step: str | int) -> tuple[Node, str]:
    """The schema of a key, of a name that an entry gives, or of a place in a list."""
    node, file = resolved(node, file)
    if isinstance(step, int):
        return resolved(node["items"], file)
    return resolved(node["properties"][step] if "properties" in node else node["additionalProperties"], file)


def value(node: Node, file: str, other: int = 0) -> Any:
    """Something that the schema allows, with every key that it knows; ``other`` 1 gives something else."""
    node, file = resolved(node, file)
    if "const" in node or "enum" in node:
        return node["const"] if "const" in node else node["enum"][other]
    match node["type"]:
        case "object" if "properties" in node:
            return {key: value(inner, file, other) for key, inner in node["properties"].items()}
        case "object":
            names = [value(node.get("propertyNames", {"type": "string"}), file, at) for at in (0, 1)]
            return dict(zip(names, apart(*resolved(node["additionalProperties"], file), other), strict=False))
        case "array":
            return items(node, file, other)
        case "string":
            return text(node.get("pattern", ""))[other]
        case "boolean":
            return not other
    return max(node.get("minimum", node.get("exclusiveMinimum", 0) + 1), 1) + other


def text(pattern: str) -> tuple[str, str]:
    """Two texts that match."""
    for pair in TEXTS:
        if all(re.search(pattern, one) for one in pair):
            return pair
    raise LookupError(f"no pair in TEXTS matches {pattern}: add one")


def items(node: Node, file: str, other: int) -> list[Any]:
    """A list as short as may be."""
    inner, inner_file = resolved(node["items"], file)
    found = apart(inner, inner_file, other)
    return [*found, value(inner, inner_file, 1 - other)] if len(found) < node.get("minItems", 1) else found


def apart(node: Node, file: str, other: int) -> list[Any]:
    """Something that the schema allows; where two keys exclude each other, one without each of them."""
    one = value(node, file, other)
    excluded = node.get("not", {}).get("required", ())
    return [{key: said for key, said in one.items() if key != left_out} for left_out in excluded] or [one]


def keys(node: Node, file: str, said: Any, way: Way = ()) -> Iterator[tuple[Way, bool, bool]]:
    """Every key in what was said: the way to it, whether it has to be there, and whether its value holds further keys."""
    steps = enumerate(said) if isinstance(said, list) else said.items() if isinstance(said, dict) else ()
    for step, one in steps:
        inside = list(keys(*below(node, file, step), one, (*way, step)))
        if step in node.get("properties", {}):
            yield (*way, step), step in node.get("required", ()), bool(inside)
        yield from inside


def known(node: Node, file: str, way: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Every key that the schema knows, found by going through the schema itself."""
    node, file = resolved(node, file)
    for key, inner in node.get("properties", {}).items():
        yield (*way, key)
        yield from known(inner, file, (*way, key))
    for inner in (node.get("items"), node.get("additionalProperties")):
        if isinstance(inner, Mapping):
            yield from known(inner, file, way)


def named(kind: str, way: Way) -> tuple[str, ...]:
    """A way as the schema knows it: without places in lists and without names that an entry gives."""
    (node, file), found = (SCHEMAS.files[kind], kind), []
    for step in way:
        if step in resolved(node, file)[0].get("properties", {}):
            found.append(str(step))
        node, file = below(node, file, step)
    return tuple(found)


def full(kind: str) -> dict[str, Any]:
    """An entry of the kind with every key that the schema knows."""
    return value(SCHEMAS.files[kind], kind)


def made(front: dict[str, Any]) -> tuple[object, ...]:
    """What the book makes of an entry that says this."""
    entry = read_entry("entries/any/x1.md", f"---\n{json.dumps(front, indent=1)}\n---\n".encode())
    CHECKER.check(entry)
    entry.problems.clear()
    return build.item(entry), build.allowances(entry)


def differing(first: object, second: object, owner: str = "") -> set[str]:
    """The fields, as ``Part.number``, in which two models are not the same; the outermost, where something is there in one only."""
    if type(first) is not type(second):
        return {owner}
    if dataclasses.is_dataclass(first):
        fields = [field.name for field in dataclasses.fields(first) if field.compare]
        inner = ((getattr(first, name), getattr(second, name), f"{type(first).__name__}.{name}") for name in fields)
        return set().union(*(differing(*one) for one in inner))
    if isinstance(first, Mapping) and isinstance(second, Mapping):
        return {owner} if set(first) != set(second) else set().union(*(differing(first[key], second[key], owner) for key in first))
    if isinstance(first, tuple) and isinstance(second, tuple):
        together = zip(first, second, strict=False)
        return {owner} if len(first) != len(second) else set().union(*(differing(*pair, owner) for pair in together))
    return set() if first == second else {owner}


def changed(front: dict[str, Any], kind: str, way: Way, *, required: bool, holds_keys: bool) -> dict[str, Any]:
    """The entry without one key; where it has to be there, with nothing in it or something else said under it."""
    front, (*to, key) = deepcopy(front), way
    said: Any = front
    for step in to:
        said = said[step]
    if not required:
        del said[key]
        return front
    if holds_keys:
        said[key] = type(said[key])()
        return front
    node, file = SCHEMAS.files[kind], kind
    for step in way:
        node, file = below(node, file, step)
    said[key] = value(node, file, 1)
    return front


def moved() -> dict[tuple[str, tuple[str, ...]], set[str]]:
    """Kind and key -> the fields of the model that are not the same without it."""
    found: dict[tuple[str, tuple[str, ...]], set[str]] = {}
    for kind in KINDS:
        front = full(kind)
        before = made(front)
        for way, required, holds_keys in keys(SCHEMAS.files[kind], kind, front):
            after = made(changed(front, kind, way, required=required, holds_keys=holds_keys))
            found.setdefault((kind, named(kind, way)), set()).update(differing(before, after))
    return found


@pytest.fixture(scope="module")
def moves() -> dict[tuple[str, tuple[str, ...]], set[str]]:
    return moved()


@pytest.mark.parametrize("kind", KINDS)
def test_the_entry_tried_has_every_key_and_nothing_wrong_with_it(kind: str) -> None:
    front = full(kind)
    schema = SCHEMAS.files[kind]
    assert {named(kind, way) for way, *_ in keys(schema, kind, front)} == set(known(schema, kind))
    entry = read_entry("entries/any/x1.md", f"---\n{json.dumps(front, indent=1)}\n---\n".encode())
    assert CHECKER.check(entry) == []
    assert build.item(entry) is not None


@pytest.mark.slow
def test_each_key_is_read_into_the_model(moves: dict[tuple[str, tuple[str, ...]], set[str]]) -> None:
    assert len(moves) > 100, "as many keys as there are"
    forgotten = {f"{kind}: {'.'.join(way)}" for (kind, way), fields in moves.items() if not fields and way not in NOT_IN_THE_MODEL}
    assert forgotten == set(), "keys of the schema that book/build.py makes nothing of"


def test_what_is_said_not_to_be_in_the_model_is_not(moves: dict[tuple[str, tuple[str, ...]], set[str]]) -> None:
    for (_, way), fields in moves.items():
        assert way not in NOT_IN_THE_MODEL or not fields, way


def test_each_field_of_the_model_comes_from_a_key(moves: dict[tuple[str, tuple[str, ...]], set[str]]) -> None:
    come = set().union(*moves.values())
    classes = [one for _, one in inspect.getmembers(model, dataclasses.is_dataclass) if one.__module__ == model.__name__]
    assert classes
    orphans = {
        name
        for one in classes
        for field in dataclasses.fields(one)
        if field.compare and field.name not in NOT_FROM_A_KEY and (name := f"{one.__name__}.{field.name}") not in NOT_FROM_A_KEY
        if name not in come
    }
    assert orphans == set(), "fields of the model that no key of the schema reaches"
    assert {name for name in NOT_FROM_A_KEY if name in come} == set(), "said to come from no key, and does"
