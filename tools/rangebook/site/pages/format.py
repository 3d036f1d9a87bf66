"""The reference of the entry format, made of the JSON Schema that the linter checks entries with."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from typing import Any

from rangebook.lint.examples import BASE, base_book
from rangebook.schema.store import KINDS, Schemas
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page, Shell
from rangebook.words.catalogue import say
from rangebook.words.lists import listed

FOLDERS = {"switch": "entries/switches/", "connector": "entries/connectors/", "kit": "entries/kits/"}


def pages(computed: Computed) -> Iterator[Page]:
    """One page for each kind of entry, and the list of circuits."""
    schemas = computed.loaded.schemas
    for kind in KINDS:
        yield Page(
            source=f"handbook/format/{kind}.md",
            title=say("format_page.title", noun=schemas.of(kind)["title"].lower()),
            shell=Shell.HANDBOOK,
            template="format.html",
            data=partial(format_data, schemas, kind),
            about=schemas.of(kind)["description"],
        )
    yield Page(
        source="handbook/format/circuits.md",
        title=say("circuits_page.title"),
        shell=Shell.HANDBOOK,
        template="circuits.html",
        data=lambda: {"circuits": circuits(schemas)},
        about=say("circuits_page.page_about"),
    )


def format_data(schemas: Schemas, kind: str) -> Mapping[str, Any]:
    """One kind's keys, each with the keys below it, and an entry of that kind that passes."""
    schema = schemas.of(kind)
    return {
        "kind": kind,
        "noun": schema["title"].lower(),
        "folder": FOLDERS[kind],
        "description": schema.get("description", ""),
        "keys": keys(schemas, schema, kind),
        "example": base_book()[BASE[kind]],
    }


def circuits(schemas: Schemas) -> list[Mapping[str, Any]]:
    """The controlled list as it counts: ``id``, ``name``, ``role``, ``safety``, where it may be joined to others (``law`` and ``positions``
    of the model), and ``about`` where there is more to say."""
    return [
        {
            "id": name,
            "name": one.title,
            "role": one.role,
            "safety": one.safety,
            "law": one.law,
            "positions": one.positions,
            "about": schemas.files["circuits"]["circuits"][name].get("about", ""),
        }
        for name, one in schemas.circuits.items()
    ]


def keys(schemas: Schemas, node: Mapping[str, Any], home: str) -> list[dict[str, Any]]:
    """The keys of a mapping: ``name``, ``needed``, ``type`` in words, ``about``, ``expected``, ``values`` it may have, and
    ``keys`` below it."""
    node, home = schemas.resolve(node, home)
    needed = node.get("required", ())
    found = [_key(schemas, name, inner, home, name in needed) for name, inner in node.get("properties", {}).items()]
    other = node.get("additionalProperties")
    if isinstance(other, dict):
        names, _ = schemas.resolve(node.get("propertyNames", {}), home)
        found.append(_key(schemas, "…", other, home, False, names.get("x-expected", say("format_page.any_name"))))
    return found


def _key(schemas: Schemas, name: str, node: Mapping[str, Any], home: str, needed: bool, named: str = "") -> dict[str, Any]:
    node, home = schemas.resolve(node, home)
    values = [str(value) for value in node.get("enum", ())]
    if "const" in node:
        values = [str(node["const"])]
    return {
        "name": name,
        "named": named,
        "needed": needed,
        "type": _type(schemas, node, home),
        "about": node.get("description", ""),
        "expected": node.get("x-expected", ""),
        "values": values,
        "keys": _below(schemas, node, home),
    }


def _type(schemas: Schemas, node: Mapping[str, Any], home: str) -> str:
    if "anyOf" in node:
        kinds = dict.fromkeys(_type(schemas, *schemas.resolve(one, home)) for one in node["anyOf"])
        return listed(kinds, "one_or_other")
    if "enum" in node or "const" in node:
        return say("format_page.one_of_these")
    if node.get("type") == "array":
        item, at = schemas.resolve(node.get("items", {}), home)
        return say("format_page.list_of", each=_type(schemas, item, at))
    return say("format_page.type", type=node.get("type"))


def _below(schemas: Schemas, node: Mapping[str, Any], home: str) -> list[dict[str, Any]]:
    """The keys of the mapping that a value is, or that its items are."""
    if node.get("type") == "array":
        item, at = schemas.resolve(node.get("items", {}), home)
        return _below(schemas, item, at)
    if node.get("type") == "object":
        return keys(schemas, node, home)
    for one in node.get("anyOf", ()):
        inner, at = schemas.resolve(one, home)
        if inner.get("type") == "object":
            return keys(schemas, inner, at)
    return []
