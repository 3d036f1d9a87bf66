"""What is needed beside the plug's kits, parts, pieces and work; and whether the parts that belong together can be had.

Whatever is needed beside a part keeps its verdict from being better than ``with_parts``. Nothing of it speaks against a part: that a maker
asks for bolts or a relearn contradicts nothing. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from rangebook.book.book import Book
from rangebook.book.model import Need, Part
from rangebook.book.numbers import normalise
from rangebook.electrics.meter import contact_rows
from rangebook.electrics.relation import PathKind
from rangebook.fitting.mating import ways
from rangebook.fitting.seats import Seat
from rangebook.fitting.together import with_others, with_own
from rangebook.reasons.codes import Also, AlsoNeeded, CompanionNotInBook, Differs, LeftToCompanion
from rangebook.reasons.reason import Of, Reason, Side, Subject


def asked_on_the_way(book: Book, original: Part) -> Mapping[str, tuple[Also, ...]]:
    """Normalised number of each part to which the makers' chain from ``original`` leads -> the parts, pieces and work that its links ask
    for, each once; parts for which they ask for none are left out. The same object each time."""
    kept: dict[str, Mapping[str, tuple[Also, ...]]] = book.kept.setdefault(asked_on_the_way, {})
    found = kept.get(original.key)
    if found is None:
        found = kept[original.key] = {key: also for key, also in _walk(book, original) if also} if original.superseded_by else {}
    return found


def _walk(book: Book, original: Part) -> Iterator[tuple[str, tuple[Also, ...]]]:
    """Of several chains that lead to one part what any of them asks for: with less it may not do."""
    asked: dict[str, dict[Also, None]] = {original.key: {}}
    todo = [original]
    while todo:
        part = todo.pop()
        for link in part.superseded_by:
            key = normalise(link.number)
            # Whether the kits that a link names are needed is seen from the plugs.
            wanted = [*asked[part.key], *(one for need in link.needs or () for one in things(need) if one.kind != "kit")]
            new = key not in asked
            known = asked.setdefault(key, {})
            more = [one for one in wanted if one not in known]
            known.update(dict.fromkeys(more))
            successor = book.part(link.number)
            if successor is not None and (new or more) and key != original.key:
                todo.append(successor)
    del asked[original.key]
    yield from ((key, tuple(also)) for key, also in asked.items())


def companions(seat: Seat, part: Part) -> tuple[str, ...]:
    """The numbers of the parts that do the work together with ``part`` and are not on the vehicle already: what its original goes with
    is, and what is taken off is not."""
    there = {normalise(number) for number in seat.original.goes_with}
    if part.key == seat.original.key:
        return ()
    return tuple(number for number in part.goes_with if normalise(number) not in there)


def also_needed(book: Book, seat: Seat, part: Part) -> tuple[Also, ...]:
    """Everything that is needed beside the kits that the plug takes: of the part itself, of what it goes with, of how it is sold, and of
    each link of the makers' chain that leads to it from what the vehicle was built with."""
    found = [Also("part", number) for number in companions(seat, part)]
    found += [one for need in part.needs for one in things(need)]
    for number in companions(seat, part):
        if (other := book.part(number)) is not None:
            found += [one for need in other.needs for one in things(need) if normalise(one.what) != part.key]
            found += [Also(how, whole) for how, whole in other.sold_as.items()]
    found += asked_on_the_way(book, seat.original).get(normalise(part.number), ())  # a design of a number has a key of its own
    found += [Also(how, number) for how, number in part.sold_as.items()]
    # A kit of the book is judged by the way that leads over it, and is needed nowhere else.
    return tuple(one for one in dict.fromkeys(found) if one.kind != "kit" or one.what not in book.kits)


def things(need: Need) -> Iterator[Also]:
    """The things that one need names. A kit's seal and blanking plugs are told with the kit."""
    if need.kit is not None:
        yield Also("kit", need.kit, note=need.note)
    else:
        yield from (Also(kind, str(size), note=need.note) for kind, size in (("seal", need.seal), ("blanks", need.blanks)) if size)
    yield from (one._replace(note=need.note) for one in other_things(need))


def other_things(need: Need) -> Iterator[Also]:
    """The parts, pieces and work that one need names, without its note."""
    if need.part is not None:
        yield Also("part", need.part, need.count, need.once)
    if need.item is not None:
        yield Also("item", need.item, need.count, need.once)
    if need.work is not None:
        yield Also("work", need.work, using=need.using)


def together(book: Book, seat: Seat, part: Part) -> Part:
    """A part with what does the work together with it, where it leaves plugs of the vehicle to others: see :mod:`.together`. What is on the
    vehicle beside the original stays only where what a part brings along itself leaves plugs over."""
    if part.key == seat.original.key:
        return seat.original
    plugs, own, stays = seat.plug.sockets, _brought(book, seat, part), seat.original.goes_with
    whole = with_others(book, plugs, part, own) if own else part
    if stays and not without_plug(book, seat, part) and not with_own(book, whole, ways(book, plugs, whole.sockets)):
        return with_others(book, plugs, part, [*own, *stays])
    return whole


def others_of(book: Book, seat: Seat, part: Part) -> list[str]:
    """The numbers of what may do some of the work: what a part goes with, what it or the makers' chain to it needs, and what stays on the
    vehicle."""
    return [*_brought(book, seat, part), *seat.original.goes_with]


def without_plug(book: Book, seat: Seat, part: Part, stays: bool = False) -> list[str]:
    """The numbers of what a part brings along that does some of the work, or may, and of which nobody says what plug goes on it; with
    ``stays`` of what is on the vehicle beside the original too. What is only needed and not in the book may be anything, a bracket or a
    gasket."""
    numbers = dict.fromkeys(others_of(book, seat, part) if stays else _brought(book, seat, part))
    at_work = (*part.goes_with, *seat.original.goes_with)
    return [number for number in numbers if (not other.sockets if (other := book.part(number)) else number in at_work)]


def _brought(book: Book, seat: Seat, part: Part) -> list[str]:
    numbers = [number for need in part.needs if (number := need.part) is not None]
    numbers += [one.what for one in asked_on_the_way(book, seat.original).get(normalise(part.number), ()) if one.kind == "part"]
    return [*part.goes_with, *numbers]


def beside(book: Book, original: str, number: str) -> tuple[str, ...]:
    """The keys of what may do some of the work on a seat beside its original and a part, both by their keys: what either goes with, what
    the part needs, and what the makers' chain asks for with it. None of what the book has not."""
    built, part = (book.by_number.get(key) for key in (original, number))
    numbers = [*(built.goes_with if built else ()), *(part.goes_with if part else ())]
    numbers += [need.part for need in (part.needs if part else ()) if need.part is not None]
    numbers += [one.what for one in (asked_on_the_way(book, built).get(number, ()) if built else ()) if one.kind == "part"]
    return tuple(dict.fromkeys(other.key for one in numbers if (other := book.part(one)) is not None))


def left_to_companions(book: Book, seat: Seat, part: Part, inside: Iterable[Reason]) -> list[Reason]:
    """Reasons of the behaviour check, where those that only say that a part does nothing between two wires are asked of what it goes with:
    that one does it, or may, and nobody says which wires get there."""
    found = list(inside)
    if not (part.goes_with or part.needs) or part.key == seat.original.key:
        return found
    others = {number: book.part(number) for number in companions(seat, part)}
    needed = (need.part for need in part.needs if need.part is not None)
    others |= {number: other for number in needed if (other := book.part(number)) is not None}
    others = {number: other for number, other in others.items() if normalise(number) not in part.joined}
    return [_left(others, reason) for reason in found]


def _left(others: Mapping[str, Part | None], reason: Reason) -> Reason:
    detail = reason.detail
    if not isinstance(detail, Differs) or any(one.candidate.path != PathKind.OPEN for one in detail.differences):
        return reason
    wanted = {position: one.original.path for one in detail.differences for position in one.positions}
    able = tuple(number for number, other in others.items() if other is None or _may(other, wanted))
    return Reason(LeftToCompanion(detail.a, detail.b, able), Subject(Side.PLUG, Of.PAIR, reason.subject.names)) if able else reason


def _may(part: Part, wanted: Mapping[str, str]) -> bool:
    """Whether a part has, or may have, two pins between which is what is wanted in each position."""
    if part.contacts is None or part.pins is None:
        return True
    rows = contact_rows(part, tuple(wanted)).values()
    return any(all(one.path in (path, PathKind.UNKNOWN) for one, path in zip(row, wanted.values(), strict=True)) for row in rows)


def taken_back(book: Book, found: Iterable[Also]) -> tuple[str, ...]:
    """The numbers among them that their maker has withdrawn: what needs one of these is no more to be offered than that."""
    known = [book.part(one.what) for one in found if one.kind in ("part", "set", "assembly")]
    return tuple(part.number for part in known if part is not None and part.status == "withdrawn")


def check_needs(book: Book, seat: Seat, part: Part, found: tuple[Also, ...]) -> list[Reason]:
    """What is needed, and what of it the book has to know. A part that is only needed may be anything, a bracket or a gasket;
    what one goes with does some of the work, so the book has to know it."""
    reasons = []
    together = companions(seat, part)
    unknown = tuple(number for number in together if book.part(number) is None)
    if unknown:
        reasons.append(Reason(CompanionNotInBook(unknown), Subject(Side.BOOK, Of.ITSELF, unknown)))
    if found:
        reasons.append(Reason(AlsoNeeded(found), Subject(Side.CANDIDATE)))
    return reasons
