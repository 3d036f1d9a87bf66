"""References to an entry by an id that it had: what the fixers of several rules have in common."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rangebook.lint.fixing.edits import Change, Edit
from rangebook.lint.fixing.page import Page
from rangebook.lint.fixing.typed import typed


class Named(NamedTuple):
    """A value that names something by an id that it had: where it stands, what is to be changed, and both ids."""

    offset: int
    edits: tuple[Edit, ...]
    changes: tuple[Change, ...]
    found: str
    now: str


def named(page: Page, what: str) -> Iterator[Named]:
    """Each value of a page that names a ``connector`` or ``kit`` by an id that it had."""
    former = {old: now for (kind, old), now in page.known.former.items() if kind == what}
    if not former or page.layout is None or page.kind is None:
        return
    for one in typed(page.layout, page.schemas, page.kind):
        node, now = one.scalar, former.get(one.scalar.value)
        if now is not None and not one.is_key and any(way.get("x-names") == what for way in one.ways):
            start, end = (node.start + 1, node.end - 1) if node.quote else (node.start, node.end)
            yield Named(node.start, (Edit(start, end, now),), (Change(one.path, now),), node.value, now)
