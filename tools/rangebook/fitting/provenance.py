"""Where a verdict is known from: each fact that it was computed from, with the best source that stands for it, and the weakest of these.

The order of the kinds of source is common practice, no source. It goes from what somebody had under a meter to what nobody stands for:

- ``seen``: the thing itself was looked at and measured, by somebody who says so;
- ``wiring-diagram``: the maker drew what is joined with what, for that very vehicle;
- ``service-manual``: the maker describes it, for a range of vehicles;
- ``bulletin``: the maker tells of a change, mostly without all of it;
- ``catalogue``: a list of numbers, made for selling, that maps one to another and measures nothing;
- ``hearsay``: somebody said so;
- nothing: no source is stated.

Of one kind the older check is the weaker, and one without a day the weakest: nobody can tell how old it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from rangebook.book.book import Book
from rangebook.book.model import Part, Source
from rangebook.fitting.check_needs import together
from rangebook.fitting.seats import Seat
from rangebook.fitting.together import with_joined
from rangebook.fitting.verdict import Verdict

STRENGTH = ("seen", "wiring-diagram", "service-manual", "bulletin", "catalogue", "hearsay")
"""Kinds of source, the strongest first."""

_RANK: Mapping[str, int] = {kind: rank for rank, kind in enumerate(STRENGTH)}


@dataclass(frozen=True, slots=True)
class Provenance:
    """One fact: ``fact`` is ``connector``, ``pins``, ``contacts``, ``mount``, ``plugs``, ``applications``, ``housing`` or ``kit``;
    ``of`` what it is about (a number, an id); ``source`` the best that stands for it, ``None`` where there is none."""

    fact: str
    of: str
    source: Source | None


def weight(source: Source | None) -> tuple[int, str]:
    """Sorts sources, the weakest first: by kind, then the older check. ``None`` is none at all."""
    if source is None:
        return -len(STRENGTH), ""
    return -_RANK.get(source.kind, len(STRENGTH) - 1), source.on or ""


def best(sources: Iterable[Source], fact: str) -> Source | None:
    """Of the sources that stand for a fact, the strongest; of several, the newest."""
    return max((one for one in sources if stands_for(one, fact)), key=weight, default=None)


def stands_for(source: Source, fact: str) -> bool:
    """Whether a source stands for a fact: it says so, or does not say what it is for and so stands for all beside it."""
    return not source.covers or fact in source.covers


def provenances(book: Book, seat: Seat, verdict: Verdict) -> tuple[Provenance, ...]:
    """Every fact that a verdict was computed from, each once."""
    parts = [*with_joined(book, together(book, seat, verdict.part)), *with_joined(book, seat.original)]
    found = dict.fromkeys((*(one for part in parts for one in _of_part(book, part)), *_of_seat(book, seat, verdict)))
    return tuple(found)


def weakest(book: Book, seat: Seat, verdict: Verdict) -> Provenance:
    """The fact with the weakest source of all that a verdict was computed from; of several the first."""
    return min(provenances(book, seat, verdict), key=lambda one: weight(one.source))


def source_of(book: Book, part: Part, fact: str) -> Source | None:
    """The best source of one fact about a part: its own, or one of its family's that names the fact."""
    family = [one for one in book.family_of(part).sources if fact in one.covers]
    return best((*part.sources, *family), fact)


def _of_part(book: Book, part: Part) -> Iterator[Provenance]:
    yield from (Provenance(fact, part.number, source_of(book, part, fact)) for fact in part.facts)


def _of_seat(book: Book, seat: Seat, verdict: Verdict) -> Iterator[Provenance]:
    for fact in ("plugs", "applications"):
        yield Provenance(fact, seat.family.id, best(seat.family.sources, fact))
    kits = [*seat.renewal, *(book.kits[one.kit] for one in verdict.needs if one.kit is not None and one.kit in book.kits)]
    yield from (Provenance("kit", kit.number, best(kit.sources, "kit")) for kit in kits)
    named = [one.connector for sockets in (seat.plug.sockets, verdict.part.sockets, seat.original.sockets) for one in sockets]
    names = [*named, *(name for kit in kits for name in (*kit.olds, kit.new))]
    for name in dict.fromkeys(names):
        if name in book.connectors:
            yield Provenance("housing", name, best(book.connectors[name].sources, "housing"))
