"""A family's entry as it stands in its file, for the form that puts some of its lines anew."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rangebook.book.model import Family
from rangebook.desk.writing.outline import outline_of
from rangebook.schema.fields import fields_at
from rangebook.site.facts.computed import Computed

ADDED_TO = ("parts", "plugs", "applications")


def entry_lines(computed: Computed, family: Family) -> Mapping[str, Any]:
    """The text with the line ends that it has, which lines say what, and the names that another vehicle may go by."""
    entry = family.entry.own(computed.book.own_layer)
    outline = outline_of(entry, list(fields_at(computed.loaded.schemas, "switch")), ADDED_TO)
    return {
        "text": entry.source,
        "crlf": entry.form.crlf,
        # Where only other layers have the family there is no such file yet in the folder that is written in.
        **({"new": True} if entry is not family.entry and entry not in [piece.entry for piece in family.entry.pieces] else {}),
        "gearboxes": family.gearboxes,
        "plugs": list(family.plugs),
        "parts": [
            {
                "number": part.number,
                "indent": part.indent,
                "keys": [
                    {
                        "key": one.key,
                        "first": one.first,
                        "line": one.line,
                        "after": one.after,
                        "value": _value(one.value),
                        "items": one.items,
                    }
                    for one in part.keys
                ],
            }
            for part in outline.parts
        ],
        "places": {key: {"line": one.line - 1, "indent": one.indent, "heading": one.heading} for key, one in outline.places.items()},
        "comments": {str(line): comment for line, comment in outline.comments.items()},
    }


def _value(value: Any) -> Any:
    """A value as JSON that keeps the order of keys: a mapping as its pairs."""
    if isinstance(value, Mapping):
        return {"pairs": [[key, _value(inner)] for key, inner in value.items()]}
    return [_value(one) for one in value] if isinstance(value, list) else value
