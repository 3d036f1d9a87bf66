"""What an entry says under its plain keys, line by line: a key that no page has a place of its own for is shown all the same."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from rangebook.schema.fields import fields_at
from rangebook.schema.store import Schemas
from rangebook.words.catalogue import say


def said(schemas: Schemas, kind: str, way: tuple[str, ...], item: Any, but: Collection[str]) -> list[dict[str, str]]:
    """``label`` and ``text`` of each plain key that ``item`` of the model states, without those that stand elsewhere on the page."""
    lines = []
    for one in fields_at(schemas, kind, *way).values():
        value = getattr(item, one.key, None) if one.plain and one.key not in but else None
        if value not in (None, ()):
            lines.append({"label": one.label, "text": _text(value)})
    return lines


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return say("page.yes_no", holds=value)
    if isinstance(value, float):
        return f"{value:g}"
    return "; ".join(map(_text, value)) if isinstance(value, tuple) else str(value)
