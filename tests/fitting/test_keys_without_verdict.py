"""No verdict goes by a key of which the schema says so: all of them are taken out of the demo book, and every verdict stays."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rangebook.book.book import Book
from rangebook.book.load import load_texts
from rangebook.fitting.fitter import Fitter
from rangebook.reading.entry import read_entry
from rangebook.schema.fields import fields_at
from rangebook.schema.store import load_schemas
from tests.making import texts

ROOT = Path(__file__).resolve().parents[2]
SCHEMAS = load_schemas()


def bare(kind: str, node: Any, *way: str) -> Any:
    """What an entry says below ``way``, without keys that feed no verdict."""
    known = fields_at(SCHEMAS, kind, *way)
    if isinstance(node, list):
        return [bare(kind, one, *way) for one in node]
    if not isinstance(node, dict) or not known:
        return node
    if not set(node) <= set(known):
        return {name: bare(kind, one, *way) for name, one in node.items()}
    return {key: bare(kind, one, *way, key) for key, one in node.items() if known[key].feeds_a_verdict}


def verdicts(book: Book) -> dict[tuple[str, ...], str]:
    """Family, plug, original and candidate -> the word."""
    fitter = Fitter(book)
    return {
        (seat.family.id, seat.plug.name, seat.original.key, part.key): str(fitter.verdict(seat, part).kind)
        for seat in fitter.seats
        for part in seat.family.parts
    }


def test_every_verdict_stays() -> None:
    fronts = [read_entry(path.name, path.read_bytes()).front for path in sorted((ROOT / "entries").glob("*/*.md"))]
    whole = load_texts(texts(*fronts), SCHEMAS).book
    less = load_texts(texts(*(bare(one["kind"], one) for one in fronts)), SCHEMAS).book
    assert not less.lost and any(part.status for part in whole.parts) and not any(part.status or part.note for part in less.parts)
    assert verdicts(less) == verdicts(whole)
