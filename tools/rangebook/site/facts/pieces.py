"""The entries of a book in pieces that are each for itself: what is written about one entry goes by the entries of its piece alone.

A piece has a digest. As long as that, the program and what the book says of itself are the same, so is everything that is written for it.
"""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Iterable
from typing import NamedTuple

from rangebook.book.index import Index, owner_of
from rangebook.book.load import Loaded
from rangebook.book.ties import ANYWHERE


class Piece(NamedTuple):
    """Entries by their files, in the order of these; ``digest`` tells what they say from what they said, and is empty where nobody can
    tell."""

    files: tuple[str, ...]
    digest: str

    @property
    def name(self) -> str:
        """The first of its files."""
        return self.files[0]


def whole(loaded: Loaded) -> list[Piece]:
    """A book in one piece, of which nobody can tell what it said before."""
    files = tuple(entry.file for entry in loaded.entries)
    return [Piece(files, "")] if files else []


def pieces_of(index: Index) -> list[Piece]:
    """The pieces of a book whose index is up to date."""
    digests = index.ledger.digests()
    groups = _apart(index, digests)
    pictured: dict[str, list[str]] = {}
    for picture, stamp in index.listing.pictures.items():
        # One of just now may be written again without its times telling.
        pictured.setdefault(owner_of(picture) or "", []).append(f"{picture} {stamp or secrets.token_hex()}")
    own = [_digest(line for file in files for line in (f"{file} {digests[file]}", *pictured.get(file, ()))) for files in groups]
    # A part that may be on any connector is a candidate everywhere, and everything is one for it.
    anywhere = set(index.ledger.cards(ANYWHERE))
    beside = _digest(one for files, one in zip(groups, own, strict=True) if not anywhere.isdisjoint(files))
    every = _digest(own)
    return [
        Piece(files, every if not anywhere.isdisjoint(files) else _digest((one, beside))) for files, one in zip(groups, own, strict=True)
    ]


def _apart(index: Index, files: Iterable[str]) -> list[tuple[str, ...]]:
    """The files of a book, those together that hang together: all, where an excerpt cannot be for itself."""
    if not index.is_plain or not index.knows_its_connectors:
        every = tuple(sorted(files))
        return [every] if every else []
    left, groups = dict.fromkeys(sorted(files)), []
    while left:
        found = index.ledger.together([next(iter(left))]) or set()
        groups.append(tuple(sorted(found)))
        for one in found:
            left.pop(one, None)
    return groups


def _digest(lines: Iterable[str]) -> str:
    told = hashlib.blake2b(digest_size=16)
    for line in lines:
        told.update(line.encode("utf-8", "surrogatepass") + b"\n")
    return told.hexdigest()
