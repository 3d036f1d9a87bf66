"""What the makers say takes a part's place, in words, beside what follows from the wiring."""

from __future__ import annotations

from dataclasses import dataclass

from rangebook.book.model import Part, Succession
from rangebook.fitting.supersession import End, chain_ends
from rangebook.site.facts.computed import Computed
from rangebook.site.shared import urls
from rangebook.words.book import gone_words, link_words, need_words, status_words, verdict_short, verdict_words
from rangebook.words.catalogue import say


@dataclass(frozen=True, slots=True)
class Step:
    """One number of a chain; ``url`` is ``None`` where it is not in the book. ``status`` in words where it is not to be had any more."""

    number: str
    url: str | None
    status: str
    since: str | None
    needs: tuple[str, ...]
    note: str | None


@dataclass(frozen=True, slots=True)
class ChainEnd:
    """One end of a chain, the steps that lead there, and in words what there is to say of it."""

    steps: tuple[Step, ...]
    words: str


def chains(computed: Computed, part: Part) -> tuple[ChainEnd, ...]:
    """Every end of the maker's chain from a part; empty where nothing is said to take its place."""
    return tuple(ChainEnd(tuple(step(computed, link) for link in end.links), _end(end)) for end in chain_ends(computed.book, part))


def step(computed: Computed, link: Succession) -> Step:
    """One succession in words."""
    part = computed.book.part(link.number)
    needs = tuple(need_words(need, computed.book.kits) for need in link.needs or ())
    return Step(
        part.number if part else link.number,
        urls.part_url(part) if part else None,
        gone_words(part.status if part else None),
        link.since,
        needs,
        link_words(link) or None,
    )


def _end(end: End) -> str:
    status = status_words(end.part.status) if end.part else None
    return say("answer.chain_end", loops=end.loops, number=end.number, status=status)


def computed_words(computed: Computed, part: Part, successor: Part) -> list[dict[str, str]]:
    """What follows from the wiring for a succession: the verdict of the successor on each seat that the part came with."""
    found = []
    for seat in computed.fitter.seats_of.get(part.key, ()):
        verdict = computed.fitter.verdict(seat, successor)
        found.append(
            {
                "plug": computed.seat_called(seat),
                "url": urls.seat_url(seat),
                "verdict": str(verdict.kind),
                "words": verdict_words(verdict.kind),
                "short": verdict_short(verdict.kind),
            }
        )
    return found
