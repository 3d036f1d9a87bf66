"""What a report says of the layer that a finding is in; nothing of a book that has but one."""

from __future__ import annotations

from rangebook.lint.finding import Finding
from rangebook.lint.linted import Linted
from rangebook.words.catalogue import say


def named_layer(one: Finding, linted: Linted) -> str:
    """The layer before the file, as ``Shared book: ``."""
    return f"{linted.names[one.layer]}: " if linted.names else ""


def where_to_mend(one: Finding, linted: Linted) -> str:
    """Where a finding in a layer below the book's own folder is mended."""
    if not linted.names or one.layer == len(linted.names) - 1:
        return ""
    layer = linted.layers[one.layer]
    if layer.origin is not None:
        return say("layers.mend_at_origin", layer=layer.name, where=layer.origin.words)
    return say("layers.mend_below", layer=layer.name, where=str(layer.root))


def with_layer(one: Finding, linted: Linted) -> str:
    """What was found, and its layer before it."""
    return f"{named_layer(one, linted)}{one.message}"
