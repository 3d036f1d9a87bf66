"""What layers say of one entry against each other: what of it stands, and which layer says what."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from rangebook.book.book import Book
from rangebook.book.model import Connector, Family, KeyPath, Kit
from rangebook.book.places import value_at
from rangebook.reading.laid_over import Clash, named_in
from rangebook.reading.located import Map, Seq, mark_at, steps
from rangebook.schema.store import Circuit

Owner = Family | Connector | Kit


def is_settled(clash: Clash, circuits: Mapping[str, Circuit]) -> bool:
    """Whether the upper layer may be taken: it has a source for what it says, and takes no circuit away on which safety hangs."""
    return clash.sourced and not loosens(clash, circuits)


def loosens(clash: Clash, circuits: Mapping[str, Circuit]) -> tuple[str, ...]:
    """The safety circuits that the layer below has at this place, of a pin or a wire, and the upper one has not. What closes where a fact
    with a source may say; which wire can start the engine is for the book below to take back."""
    if not {"pins", "wires", "circuit"} & {step for step in clash.path if isinstance(step, str)} or "contacts" in clash.path:
        return ()
    left = set(named_in(clash.upper))
    return tuple(name for name in dict.fromkeys(named_in(clash.lower)) if name in circuits and circuits[name].safety and name not in left)


def contradicted(owner: Owner, circuits: Mapping[str, Circuit]) -> Iterator[KeyPath]:
    """The ways to what layers say different things of, and nobody knows which of them is right."""
    yield from (clash.path for clash in owner.entry.clashes if not is_settled(clash, circuits))


def layer_of(book: Book, owner: Owner, path: KeyPath = ()) -> str:
    """The name of the layer that says what a path leads to in an entry, or that has the entry; empty where a book has but one."""
    if not book.layers:
        return ""
    entry = owner.entry
    if not entry.pieces:
        return book.layers[0]
    if not path or entry.front is None:
        return book.layers[entry.pieces[0].layer]
    return book.layers[mark_at(entry.front, path).layer]


def layers_in(owner: Owner, paths: Iterable[KeyPath] = ()) -> set[int]:
    """The numbers of the layers that say anything at some paths of an entry, or of all of it where there are none."""
    if not owner.entry.pieces or owner.entry.front is None:
        return {0}
    if not paths:
        return {one.layer for one in owner.entry.pieces}
    found: set[int] = set()
    for path in paths:
        found.add(mark_at(owner.entry.front, path).layer)
        found.update(_marked(value_at(owner.entry.front, path)))
    return found


def _marked(node: object) -> Iterator[int]:
    if isinstance(node, (Map, Seq)):
        for _, value, marks in steps(node):
            yield from (mark.layer for mark in marks)
            yield from _marked(value)


def layers_saying(book: Book, owner: Owner) -> tuple[str, ...]:
    """The names of all layers that say something of an entry, the lowest first; none where a book has but one."""
    if not book.layers:
        return ()
    return tuple(book.layers[one.layer] for one in owner.entry.pieces) or book.layers[:1]


def layers_at(book: Book, owner: Owner, path: KeyPath = ()) -> tuple[str, ...]:
    """The layer that says what a path leads to in an entry, or all that say something of the entry; none where a book has but one."""
    if not path or not book.layers:
        return layers_saying(book, owner)
    return (layer_of(book, owner, path),)
