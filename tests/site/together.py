"""Data as a page has them, in Python: a family's file put together, as the browser does by `said_once.js`, and all that is of the book."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from rangebook.site.data.every import for_writing, indexes, of_the_book
from rangebook.site.facts.computed import Computed


def together(data: dict[str, Any]) -> dict[str, Any]:
    """Data with all that is said once at each of its places."""
    same = data.get("same", [])

    def whole(node: Any) -> Any:
        if isinstance(node, list):
            return [whole(one) for one in node]
        if not isinstance(node, dict):
            return node
        place = node.get("=")
        if not isinstance(place, int):
            return mapping(node)
        return mapping(node["of"]) if place < 0 else whole(same[place])

    def mapping(node: dict[str, Any]) -> dict[str, Any]:
        return {key: whole(one) for key, one in node.items()}

    return mapping({key: one for key, one in data.items() if key != "same"})


def read(path: Path) -> dict[str, Any]:
    """The data of a file."""
    return together(json.loads(path.read_text("utf-8")))


def of_the_whole(computed: Computed) -> Iterator[tuple[str, str]]:
    """Address and text of every file that is there once."""
    yield from indexes(computed)
    yield from of_the_book(computed)
    yield from for_writing(computed)
