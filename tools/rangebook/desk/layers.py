"""What is told of the layers of a book: from which one something is, and what of it another one says instead. Nothing of a book of one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from rangebook.book.book import Book
from rangebook.book.laid_over import Owner, is_settled, layer_of, layers_at, layers_in
from rangebook.book.model import KeyPath, Part, Plug
from rangebook.book.numbers import normalise
from rangebook.book.places import name_of_path
from rangebook.fitting.premises import Premises
from rangebook.fitting.seats import Seat
from rangebook.reading.laid_over import written
from rangebook.words.catalogue import Words, say


class Instead(NamedTuple):
    """A fact that the layer ``above`` states with a source, in the place of what the layer ``below`` states."""

    at: str
    upper: str
    above: str
    lower: str | None
    below: str


def instead(book: Book, owner: Owner, paths: Iterable[KeyPath] = ((),)) -> Iterator[Instead]:
    """What of an entry, below some paths, an upper layer says instead."""
    entry, ways = owner.entry, tuple(paths)
    for clash in entry.clashes if book.layers else ():
        if is_settled(clash, book.circuits) and any(clash.path[: len(way)] == way for way in ways):
            lower = None if clash.lower is None else written(clash.lower)
            names = book.layers[clash.above.layer], book.layers[clash.below.layer]
            yield Instead(name_of_path(entry.front, clash.path), written(clash.upper), names[0], lower, names[1])


def layer_data(book: Book, owner: Owner, path: KeyPath = (), also: Iterable[KeyPath] = ()) -> dict[str, Any]:
    """The layer of what a path leads to in an entry, and what is said there, or below the paths ``also``, instead of another layer."""
    if not book.layers:
        return {}
    return {"layer": layer_of(book, owner, path), "overridden": [one._asdict() for one in instead(book, owner, (path, *also))]}


def layer_lines(book: Book, owner: Owner, path: KeyPath = (), also: Iterable[KeyPath] = ()) -> Iterator[Words]:
    """The same in words."""
    if book.layers:
        yield say("layers.from", layers=layers_at(book, owner, path))
        for one in instead(book, owner, (path, *also)):
            yield say("layers.instead", at=one.at, upper=one.upper, above=one.above, lower=one.lower, below=one.below)


def with_layers(book: Book, left: dict[str, Any]) -> dict[str, Any]:
    """What is left of an identification, as JSON data, each part with its layer."""
    if book.layers:
        for one in left["parts"]:
            one |= {"layer": layer_of(book, *of_part(book, book.by_number[normalise(one["number"])])[:2])}
    return left


def goes_by(book: Book, seat: Seat, part: Part) -> tuple[str, ...]:
    """The names of all layers that a verdict goes by, of the part and of the seat, the lowest first; none where the book has but one."""
    if not book.layers:
        return ()
    found: set[int] = set()
    for one in Premises(book).of(seat, (seat.original, part)):
        found |= layers_in(one.owner, one.paths)
    for using in seat.applications:
        found |= layers_in(seat.family, (using.path,))
    return tuple(name for at, name in enumerate(book.layers) if at in found)


def candidate_layers(book: Book, seat: Seat, part: Part) -> dict[str, Any]:
    """The layer of a part that is judged on a seat, and with ``layers`` all that the answer goes by."""
    if not book.layers:
        return {}
    return {**layer_data(book, *of_part(book, part)), "layers": list(goes_by(book, seat, part))}


def candidate_lines(book: Book, seat: Seat, part: Part) -> Iterator[Words]:
    """The same in words."""
    yield from layer_lines(book, *of_part(book, part))
    layers = goes_by(book, seat, part)
    if len(layers) > 1:
        yield say("layers.answer", layers=layers)


def of_part(book: Book, part: Part) -> tuple[Owner, KeyPath, tuple[KeyPath, ...]]:
    """The entry of a part, the way to it there, and to its mount."""
    return book.family_of(part), part.path[:2], ((("mounts", part.mount),) if part.mount else ())


def of_plug(book: Book, plug: Plug) -> tuple[Owner, KeyPath, tuple[KeyPath, ...]]:
    """The entry of a plug, the way to it there, and to what else its vehicles go by."""
    return book.families[plug.family], plug.path, (("positions",), ("means",), ("applications",))
