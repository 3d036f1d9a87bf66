"""The page that answers: the find box, and the way to the lists."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rangebook.fitting.verdict import VerdictKind
from rangebook.site.data.index import NAMES_URL, NUMBERS_URL
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.words.book import verdict_means, verdict_words
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page."""
    yield Page(
        source="index.md",
        title=say("home_page.title"),
        template="home.html",
        data=lambda: home_data(computed),
        about=say("home_page.about"),
    )


def home_data(computed: Computed) -> Mapping[str, Any]:
    """What the page shows before anything is typed: examples of this book's own, how much it holds, what the marks mean."""
    book = computed.book
    return {
        "numbers_url": NUMBERS_URL,
        "names_url": NAMES_URL,
        "examples": examples(computed),
        "counts": {
            "numbers": len(book.parts) + len(book.kits),
            "vehicles": len({one.vehicle for family in book.families.values() for one in family.applications}),
            "gearboxes": len(book.by_gearbox),
            "families": len(book.families),
        },
        "verdicts": [(str(kind), verdict_words(kind), verdict_means(kind)) for kind in VerdictKind],
    }


def examples(computed: Computed) -> list[str]:
    """Something to try: a number whose answer takes more than the part, its vehicle, and its gearbox; empty in an empty book."""
    telling = (
        (seat, verdict)
        for seat in computed.fitter.seats
        if seat.original.status == "superseded"
        for verdict in computed.candidates(seat)
        if verdict.needs and verdict.part.status == "current"
    )
    seat, _ = next(telling, (next(iter(computed.fitter.seats), None), None))
    if seat is None:
        return []
    first = seat.applications[0]
    return list(filter(None, (seat.original.number, f"{first.vehicle} {first.first_year or ''}".strip(), first.gearbox)))
