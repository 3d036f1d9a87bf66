"""The schema as an editor needs it, which reads YAML its own way.

To an editor ``2`` is a number and ``yes`` may be a word, where the reader of this book takes every scalar as the text that was
typed and asks the schema. So here what may be text may be a number too, and yes and no may be words. It is made from the
schema, which stays the one source of truth, without the ``x-`` annotations, which an editor cannot read::

    .venv/bin/python -m rangebook.schema.editor          # writes schema/editor/ beside the schema
"""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from rangebook.schema.store import KINDS, Schemas, load_schemas, shipped


def editor_schemas(schemas: Schemas) -> dict[str, Any]:
    """File name -> JSON Schema, for each kind of entry and what they share."""
    return {f"{name}.json": _eased(schemas.files[name]) for name in (*KINDS, "common")}


def as_text(schema: Any) -> str:
    """A schema as it is written to its file."""
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def _eased(node: Any) -> Any:
    if isinstance(node, list):
        return [_eased(item) for item in node]
    if not isinstance(node, Mapping):
        return node
    made = {key: _eased(value) for key, value in node.items() if not key.startswith("x-")}
    if node.get("type") == "string":
        made["type"] = ["string", "number"]  # its pattern still holds for what the editor takes for text
    elif node.get("type") == "boolean":
        del made["type"]
        made["enum"] = [True, False, "yes", "no", "true", "false"]
    return made


def main() -> None:
    """Write the files. The book whose own ``schema/`` they are made from may be named; left out, the one shipped."""
    root = Path(sys.argv[1]) if len(sys.argv) > 1 else None
    folder = (root / "schema" if root else shipped("schema")) / "editor"
    folder.mkdir(parents=True, exist_ok=True)
    for name, schema in editor_schemas(load_schemas(root)).items():
        (folder / name).write_text(as_text(schema), "utf-8")


if __name__ == "__main__":
    main()
