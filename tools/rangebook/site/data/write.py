"""What the page that writes an entry has to know: the schema itself, and what of the book a new entry may name."""

from __future__ import annotations

from typing import Any

from rangebook.book.model import Connector, Family
from rangebook.site.facts.computed import Computed
from rangebook.site.shared.compact import compact

WRITE_URL = "data/write.json"

_SCHEMAS = ("switch", "connector", "kit", "common")


def files(computed: Computed) -> list[tuple[str, str]]:
    """Address and text of the one file. ``connectors`` and ``families`` are in the order of their titles;
    ``ids`` are by folder."""
    book, schemas = computed.book, computed.loaded.schemas
    data = {
        "schemas": {name: schemas.files[name] for name in _SCHEMAS},
        "circuits": [[one.name, one.title] for one in schemas.circuits.values()],
        "connectors": [_connector(one) for one in sorted(book.connectors.values(), key=lambda one: one.title)],
        "families": [_family(one) for one in sorted(book.families.values(), key=lambda one: one.title)],
        "ids": {"switches": list(book.families), "connectors": list(book.connectors), "kits": list(book.kits)},
    }
    return [(WRITE_URL, compact(data))]


def _connector(one: Connector) -> dict[str, Any]:
    return {"id": one.id, "title": one.title, "cavities": one.cavities}


def _family(one: Family) -> dict[str, Any]:
    return {"id": one.id, "title": one.title, "positions": one.positions, "mounts": list(one.mounts)}
