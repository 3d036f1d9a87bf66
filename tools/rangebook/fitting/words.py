"""Small words for reasons."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rangebook.book.model import CASE
from rangebook.electrics.relation import Path, Relation

ORIGINAL, CANDIDATE = "the original", "this one"


def joined(words: Iterable[str]) -> str:
    """``a, b and c``."""
    listed = list(words)
    return listed[0] if len(listed) == 1 else f"{', '.join(listed[:-1])} and {listed[-1]}"


def plural(count: int, word: str) -> str:
    """``1 wire``, ``2 wires``."""
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def terminal(name: str, circuits: Mapping[str, frozenset[str]]) -> str:
    """A terminal with the circuit that it is known as."""
    if name == CASE:
        return "the housing"
    known = sorted(circuits.get(name, ()))
    return f"cavity {name} ({'/'.join(known)})" if known else f"cavity {name}"


def relation(one: Relation) -> str:
    """``closed``, ``open``, or so many ohms."""
    if one.path is Path.OHMS:
        return f"{one.ohms:.4g} ohm"
    return {Path.JOINED: "closed", Path.OPEN: "open", Path.UNKNOWN: "not stated"}[one.path]


def moves(listed: Mapping[str, str]) -> str:
    """Wires that move, as ``3 -> 4, 4 -> 3``."""
    return ", ".join(f"{old} -> {new}" for old, new in listed.items())
