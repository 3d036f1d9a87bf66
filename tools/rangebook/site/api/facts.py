"""The plain keys of the entry format as the files for other programs have them, and the schemas that are published.

A key is declared in the entry format's schema and kept in the model; from these two follow what is written and what is promised of it. By
hand stands in ``schemas/`` what is no plain key: what was computed, and facts that have another form than in an entry.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any, get_args, get_type_hints

from rangebook.book.model import Connector, Family, Kit, Part
from rangebook.schema.fields import Field, Node, fields_at
from rangebook.schema.store import Schemas

_OF: Mapping[str, tuple[type[Part | Family | Connector | Kit], str, tuple[str, ...]]] = {
    "part": (Part, "switch", ("parts",)),
    "family": (Family, "switch", ()),
    "connector": (Connector, "connector", ()),
    "kit": (Kit, "kit", ()),
}
"""What is told -> its class in the model, the kind of entry, and the way to its keys there."""

_HOME = Path(__file__).parent / "schemas"
_SHARED = "shared"


def plain_fields(schemas: Schemas, what: str) -> list[Field]:
    """The keys of one value, or of a list of values, that the model has under the same name."""
    made, kind, way = _OF[what]
    return [one for one in fields_at(schemas, kind, *way).values() if one.plain and hasattr(made, one.key)]


def facts(schemas: Schemas, what: str, item: Any) -> dict[str, Any]:
    """What ``item`` says under its plain keys; ``None`` is not known."""
    values = {one.key: getattr(item, one.key) for one in plain_fields(schemas, what)}
    return {key: list(value) if isinstance(value, tuple) else value for key, value in values.items()}


def published(schemas: Schemas) -> dict[str, dict[str, Any]]:
    """Name -> JSON Schema, for every file for other programs; each stands alone."""
    shared = {name: _with_plain(schemas, name, one) for name, one in _read(_SHARED)["$defs"].items()}
    names = sorted(path.stem for path in _HOME.glob("*.json") if path.stem != _SHARED)
    return {name: _with_shared(_with_plain(schemas, name, _read(name)), shared) for name in names}


def _read(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((_HOME / f"{name}.json").read_text("utf-8"))
    return found


def _with_plain(schemas: Schemas, name: str, schema: dict[str, Any]) -> dict[str, Any]:
    if name not in _OF:
        return schema
    made = _OF[name][0]
    plain = {one.key: _of_field(one, type(None) in get_args(_hint(made, one.key))) for one in plain_fields(schemas, name)}
    needed = [*schema["required"], *(key for key in plain if key not in schema["required"])]
    return {**schema, "required": needed, "properties": {**plain, **schema["properties"]}}


def _hint(made: type, key: str) -> Any:
    """The type of a field, or of what is worked out from fields."""
    worked_out = getattr(made, key)
    return get_type_hints(worked_out.fget)["return"] if isinstance(worked_out, property) else get_type_hints(made)[key]


def _of_field(field: Field, may_be_null: bool) -> dict[str, Any]:
    node = field.node
    made: dict[str, Any] = {"type": "array", "items": _of_value(field.inner)} if field.several else _of_value(node)
    if "minItems" in node:
        made["minItems"] = node["minItems"]
    if may_be_null and "enum" in made:
        made["enum"] = [*made["enum"], None]
    elif may_be_null:
        made["type"] = [made["type"], "null"]
    about = [field.description, "null: not known." if may_be_null else ""]
    return {**made, "description": " ".join(filter(None, about))}


def _of_value(node: Node) -> dict[str, Any]:
    if "enum" in node:
        return {"enum": list(node["enum"])}
    more = {"minLength": 1} if node["type"] == "string" else {}
    return {"type": node["type"], **more, **({"pattern": node["pattern"]} if "pattern" in node else {})}


def _with_shared(schema: dict[str, Any], shared: Mapping[str, Any]) -> dict[str, Any]:
    """The schema with the definitions that it refers to, and those that they refer to."""
    wanted: dict[str, Any] = {}
    todo: list[Any] = [schema]
    while todo:
        for name in _referred(todo.pop()):
            if name not in wanted:
                wanted[name] = shared[name]
                todo.append(shared[name])
    return {**schema, "$defs": {name: shared[name] for name in shared if name in wanted}} if wanted else schema


def _referred(node: Any) -> list[str]:
    if isinstance(node, list):
        return [name for one in node for name in _referred(one)]
    if not isinstance(node, Mapping):
        return []
    own = [node["$ref"].removeprefix("#/$defs/")] if isinstance(node.get("$ref"), str) else []
    return own + [name for one in node.values() for name in _referred(one)]
