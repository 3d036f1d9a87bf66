"""What the schema says of a place in an entry."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rangebook.reading.files import FOLDERS
from rangebook.schema.store import KINDS, Schemas

Node = Mapping[str, Any]


@dataclass(frozen=True)
class Said:
    """One way in which the schema lets a place be filled. ``checks`` are those that a verdict is made of and that go by it; ``decides`` is
    whether any verdict may; ``names`` what sort of thing a value is the name of, empty where it is none."""

    node: Node
    home: str
    checks: tuple[str, ...] = ()
    decides: bool = True
    needed: bool = False

    @property
    def names(self) -> str:
        """What sort of thing a value is the name of."""
        return str(self.node.get("x-names") or self.node.get("x-points-to", ""))

    @property
    def keys(self) -> Mapping[str, Node]:
        """The keys that a mapping here may have, with what is said of each."""
        found: Mapping[str, Node] = self.node.get("properties", {})
        return found

    @property
    def words(self) -> Sequence[str]:
        """The words that a value is one of; yes and no where it is one of these."""
        if "enum" in self.node:
            return tuple(map(str, self.node["enum"]))
        if "const" in self.node:
            return (str(self.node["const"]),)
        return ("yes", "no") if self.node.get("type") == "boolean" else ()


def kind_of(file: str, tree: Any) -> str | None:
    """The kind of an entry: what it says, else what its folder is for."""
    stated = tree.get("kind") if isinstance(tree, Mapping) else None
    if stated in KINDS:
        return str(stated)
    folder = file.rsplit("/", 2)[-2] if "/" in file else ""
    return next((kind for kind, one in FOLDERS.items() if one == folder), None)


def said_at(schemas: Schemas, kind: str, path: Sequence[str | int]) -> list[Said]:
    """What is said of the value at a path, each way of it; empty where nothing may stand there."""
    ways = list(_ways(schemas, Said(schemas.of(kind), kind)))
    for step in path:
        ways = [inner for one in ways for below in _below(one, step) for inner in _ways(schemas, below)]
    return ways


def said_of_names(schemas: Schemas, ways: Sequence[Said]) -> list[Said]:
    """What is said of the keys of mappings whose keys are names."""
    named = [_inside(one, one.node["propertyNames"]) for one in ways if isinstance(one.node.get("propertyNames"), Mapping)]
    return [inner for one in named for inner in _ways(schemas, one)]


def _below(said: Said, step: str | int) -> Iterator[Said]:
    below = said.node.get("items") if isinstance(step, int) else said.keys.get(step, said.node.get("additionalProperties"))
    if isinstance(below, Mapping):
        yield _inside(said, below, needed=step in said.node.get("required", ()))


def _inside(said: Said, node: Node, *, needed: bool = False) -> Said:
    return Said(node, said.home, said.checks, said.decides, needed)


def _ways(schemas: Schemas, said: Said) -> Iterator[Said]:
    """A place with its references followed, and each of several ways for itself; what is said of all of them holds for each."""
    node, home = schemas.resolve(said.node, said.home)
    checks = tuple(str(node["x-feeds"]).split()) if "x-feeds" in node else said.checks
    whole = Said(node, home, checks, said.decides and not node.get("x-no-verdict", False), said.needed)
    if "anyOf" not in node:
        yield whole
        return
    outer = {key: value for key, value in node.items() if key != "anyOf"}
    for way in node["anyOf"]:
        for one in _ways(schemas, Said(way, home, whole.checks, whole.decides, said.needed)):
            yield Said({**one.node, **outer}, one.home, one.checks, one.decides, said.needed)
