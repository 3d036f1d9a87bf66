"""Ids that entries had: links and printed labels live on by them."""

from __future__ import annotations

from collections.abc import Mapping

from rangebook.book.model import Connector, Family, Kit

Index = Mapping[str, Connector] | Mapping[str, Kit] | Mapping[str, Family]


def now_called(index: Index) -> dict[str, str]:
    """Former id -> the id of today, of the entries of one kind; an id that an entry has now is that entry's."""
    found: dict[str, str] = {}
    for entry in index.values():
        for old in entry.former_ids:
            if old not in index:
                found.setdefault(old, entry.id)
    return found
