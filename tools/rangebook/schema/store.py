"""Where the schema files are, and what they hold. A book may override any of them in its own ``schema/``."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from types import MappingProxyType
from typing import Any, Literal

from rangebook.reading.layers import layers_of
from rangebook.reading.links import refuse_links
from rangebook.reading.stack import schema_texts
from rangebook.schema.errors import SchemaError
from rangebook.schema.floor import Place, looser
from rangebook.schema.shape import MOST_BYTES, ShapeError, check_circuits, check_schema, parsed

KINDS = ("switch", "connector", "kit")
FILES = (*KINDS, "common", "circuits")

_PACKAGE = Path(__file__).resolve().parents[1]


def shipped(name: str) -> Path:
    """A folder or file that travels with the command: inside the installed package, or at the top of a checkout."""
    inside = _PACKAGE / "_shipped" / name
    return inside if inside.exists() else _PACKAGE.parents[1] / name


@dataclass(frozen=True, slots=True)
class Circuit:
    """One name of the controlled list: what it does, in plain words, and whether a mistake with it can hurt someone.

    ``joined_in`` are the positions of the lever in which a terminal of it may have a path to any other one; ``None`` where that may be
    in all, and for a safety circuit also where the list does not say. ``feeds`` are the circuits that it is joined to there, ``danger``
    is what a path elsewhere does, empty where the list does not say.
    """

    name: str
    role: str
    title: str
    safety: bool
    joined_in: frozenset[str] | None = None
    anywhere: bool = True
    feeds: tuple[str, ...] = ()
    danger: str = ""

    @property
    def is_open(self) -> bool:
        """Whether it should be guarded and the list does not say in which positions it may be joined."""
        return self.joined_in is None and not self.anywhere

    @property
    def law(self) -> Literal["free", "somewhere", "anywhere", "open"]:
        """Where it may be joined to others: ``free`` where it is no safety circuit, ``somewhere`` in :attr:`positions` only."""
        if self.joined_in is not None:
            return "somewhere"
        return "open" if self.is_open else "anywhere" if self.safety else "free"

    @property
    def positions(self) -> tuple[str, ...]:
        """``joined_in`` for reading: P, R and N before forward ranges."""
        return tuple(sorted(self.joined_in or (), key=lambda one: ("PRN".index(one) if one in ("P", "R", "N") else 3, one)))


@dataclass(frozen=True, eq=False)
class Schemas:
    """All schema files, parsed; one set of them is itself alone. ``files`` maps a file's name without ending to its content."""

    files: Mapping[str, Any]

    @cached_property
    def circuits(self) -> Mapping[str, Circuit]:
        """The controlled list of circuits, by name. What the shipped list says of the safety of its own holds in any list: a book can make
        it narrower, and never wider by saying something else or nothing."""
        shipped_list = _shipped_circuits()
        listed = self.files["circuits"]["circuits"]
        return MappingProxyType({name: _circuit(name, facts, shipped_list.get(name, {})) for name, facts in listed.items()})

    def of(self, kind: str) -> Mapping[str, Any]:
        """The schema of one kind of entry, its references not resolved."""
        found: Mapping[str, Any] = self.files[kind]
        return found

    def resolve(self, node: Mapping[str, Any], home: str) -> tuple[Mapping[str, Any], str]:
        """Follow a node's ``$ref`` once or more; what stands beside the reference is laid over what it leads to.

        ``home`` is the file that the node stands in; the file that the result stands in is given back beside it.
        """
        over: dict[str, Any] = {}
        while "$ref" in node:
            over = {**{key: value for key, value in node.items() if key != "$ref"}, **over}
            file, _, pointer = node["$ref"].partition("#")
            home = file.removesuffix(".json") or home
            node = self.files[home]
            for step in pointer.strip("/").split("/"):
                node = node[step]
        return ({**node, **over} if over else node), home


ANY = "any"
"""What ``joined_in`` says where a safety circuit may be joined in every position."""


@cache
def _shipped_circuits() -> Mapping[str, Any]:
    found: Mapping[str, Any] = parsed((shipped("schema") / "circuits.json").read_bytes())["circuits"]
    return found


def _circuit(name: str, facts: Mapping[str, Any], own: Mapping[str, Any]) -> Circuit:
    """A circuit as a list says it; ``own`` is what the shipped list says of this name, if it has it."""
    safety = bool(facts.get("safety", False) or own.get("safety", False))
    stated = [one.get("joined_in") for one in (facts, own)]
    sets = [frozenset(map(str, one)) for one in stated if isinstance(one, list)]
    joined_in = frozenset.intersection(*sets) if safety and sets else None
    feeds, danger = own.get("feeds", facts.get("feeds", ())), own.get("danger", facts.get("danger", ""))
    return Circuit(
        name, facts["role"], facts["name"], safety, joined_in, not safety or (not sets and ANY in stated), tuple(feeds), str(danger)
    )


def schema_files(root: Path | None = None) -> dict[str, Path]:
    """Name -> the file: ``root/schema`` where it has one, else the one shipped."""
    found = {}
    for name in FILES:
        path = root / "schema" / f"{name}.json" if root else None
        found[name] = path if path is not None and path.is_file() else shipped("schema") / f"{name}.json"
    return found


def load_schemas(root: Path | None = None) -> Schemas:
    """Read the schema: from ``root/schema`` where a file is there, else the one shipped; of a book of several layers that of the lowest,
    with the circuits that the others add. Raises :class:`SchemaError`."""
    if root is None:
        return _load(None)
    lowest, *above = layers_of(root)
    try:
        return with_added(_load(lowest.root), [(one.name, schema_texts(one.root)) for one in above])
    except OSError as error:
        raise SchemaError(f"{error.filename}: cannot be read: {error.strerror}") from error


def _load(root: Path | None) -> Schemas:
    if root is not None and (root / "schema").is_symlink():
        raise SchemaError(f"{root / 'schema'}: it is a link, and links are not followed")
    files = schema_files(root)
    loaded = {}
    own = set()
    for name, path in files.items():
        try:
            if root is not None and path.is_relative_to(root):
                refuse_links(root, path)
                own.add(name)
            with path.open("rb") as file:
                loaded[name] = parsed(file.read(MOST_BYTES + 1))
        except OSError as error:
            raise SchemaError(f"{path}: cannot be read: {error.strerror}") from error
        except ShapeError as error:
            raise SchemaError(f"{path}: {error}") from error
    return checked(loaded, {name: str(files[name]) for name in own}, None if own <= {"circuits"} else load_schemas(None))


def with_added(schemas: Schemas, above: Iterable[tuple[str, Mapping[str, bytes]]]) -> Schemas:
    """A schema with the circuits that layers add to it, the name of each layer and its schema files. Raises :class:`SchemaError`: a layer
    changes no circuit and nothing else of the schema, or it could make safe what is not."""
    files = dict(schemas.files)
    for layer, own in above:
        for name in (one for one in FILES if f"{one}.json" in own):
            called = f"{layer}: schema/{name}.json"
            try:
                told = parsed(own[f"{name}.json"])
                if name != "circuits":
                    if told != files[name]:
                        raise ShapeError(
                            "a layer over another one adds circuits, and changes nothing else of the schema: take the file out"
                        )
                    continue
                check_circuits(told)
            except ShapeError as error:
                raise SchemaError(f"{called}: {error}") from error
            known = files["circuits"]["circuits"]
            other = sorted(one for one, facts in told["circuits"].items() if one in known and known[one] != facts)
            if other:
                words = f"{', '.join(other)} {'are' if len(other) > 1 else 'is'} said otherwise by the layers below"
                raise SchemaError(f"{called}: {words}: a layer adds circuits and changes none; give yours a name of its own")
            files["circuits"] = {**files["circuits"], "circuits": {**known, **told["circuits"]}}
    return Schemas(MappingProxyType(files)) if files != dict(schemas.files) else schemas


def checked(files: Mapping[str, Any], own: Mapping[str, str], shipped_ones: Schemas | None) -> Schemas:
    """The schema of ``files``, of which those in ``own`` (their names, and what each is called in a message) are a book's own. Raises
    :class:`SchemaError` where one of these has not the shape that entries are checked by, or asks for less than ``shipped_ones``."""
    schemas = Schemas(MappingProxyType(dict(files)))
    # A file that is shipped may refer to one that is not.
    for name in FILES if own else ():
        try:
            check_circuits(files[name]) if name == "circuits" else check_schema(name, files)
            if shipped_ones and name in KINDS:
                here, there = Place.of(schemas, schemas.of(name), name), Place.of(shipped_ones, shipped_ones.of(name), name)
                for less in looser(here, there):
                    raise ShapeError(less)
        except ShapeError as error:
            where = own.get(name) or f"{', '.join(own.values())} (with {name}.json as it is shipped)"
            raise SchemaError(f"{where}: {error}") from error
    return schemas
