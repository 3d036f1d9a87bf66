"""The lists: every number, every vehicle, every gearbox. They need no script, and are what the find box falls back on."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from rangebook.book.numbers import normalise
from rangebook.site.data.index import NAMES_URL, NUMBERS_URL
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.site.shared import urls
from rangebook.words.book import application_words, status_words
from rangebook.words.catalogue import say

MOST = 250
"""So many lines a list has on one page; a longer one is cut, and its own page then leads to the pieces. So it stays as small for a phone
as it is in a small book, but for a line to each piece."""

_DIGITS = re.compile(r"(\d+)")


def pages(computed: Computed) -> Iterator[Page]:
    """The three lists, each in as many pieces as it takes."""
    numbers = numbers_rows(computed)
    yield from _in_pieces(
        Page(source="numbers.md", title=say("page.all_numbers"), template="numbers.html", about=say("numbers_page.about")),
        cut([(row["number"], 1, row) for row in numbers]),
        lambda rows: {"rows": rows, "count": len(numbers)},
    )
    first = Page(
        source="vehicles.md",
        title=say("page.vehicles"),
        template="vehicles.html",
        about=say("vehicles_page.about"),
        client=("identify.css", "find/vehicles_page.js"),
    )
    finder = {"numbers_url": NUMBERS_URL, "names_url": NAMES_URL}
    vehicles = [(one["name"], len(one["rows"]), one) for one in vehicles_listed(computed)]
    yield from _in_pieces(first, cut(vehicles), lambda found: {"makes": by_make(found), **finder})
    yield from _in_pieces(
        Page(
            source="gearboxes.md",
            title=say("page.gearboxes"),
            template="gearboxes.html",
            about=say("gearboxes_page.page_about"),
        ),
        cut([(one["name"], len(one["families"]) + len(one["vehicles"]), one) for one in gearboxes_listed(computed)]),
        lambda found: {"gearboxes": found},
    )


@dataclass(frozen=True)
class Piece:
    """A piece of a list: from which name to which, and what is in it."""

    first: str
    last: str
    items: list[Any]


def cut(listed: list[tuple[str, int, Any]], most: int = MOST) -> list[Piece]:
    """A list of ``(name, lines, item)`` in pieces of at most ``most`` lines, never less than an item; one where it is empty."""
    pieces: list[Piece] = []
    lines = 0
    for name, weight, item in listed:
        if not pieces or lines + weight > most:
            pieces.append(Piece(name, name, []))
            lines = 0
        pieces[-1] = replace(pieces[-1], last=name)
        pieces[-1].items.append(item)
        lines += weight
    return pieces or [Piece("", "", [])]


def _in_pieces(whole: Page, pieces: list[Piece], data: Callable[[list[Any]], Mapping[str, Any]]) -> Iterator[Page]:
    """The list's own page, and one for each piece where there are several. ``piece`` is from where to where a page goes, ``None`` on the
    list's own; ``pieces`` lead to all of them, ``before`` and ``after`` to the next ones."""
    if len(pieces) == 1:
        yield replace(whole, data=lambda: {**data(pieces[0].items), "pieces": [], "piece": None})
        return
    stem = whole.source.removesuffix(".md")
    ways = [{"first": one.first, "last": one.last, "url": f"{stem}/{at}/"} for at, one in enumerate(pieces, 1)]
    yield replace(whole, data=lambda: {**data([]), "pieces": ways, "piece": None})
    for at, one in enumerate(pieces):
        around: dict[str, Any] = {
            "pieces": [],
            "piece": ways[at],
            "whole": {"title": whole.title, "url": whole.url},
            "before": ways[at - 1] if at else None,
            "after": ways[at + 1] if at + 1 < len(ways) else None,
        }
        yield replace(
            whole,
            source=f"{stem}/{at + 1}.md",
            title=say("page.piece_title", title=whole.title, first=one.first, last=one.last),
            about=say("page.piece_about", title=whole.title, first=one.first, last=one.last),
            client=(),
            data=partial(_piece_data, data, one.items, around),
        )


def _piece_data(data: Callable[[list[Any]], Mapping[str, Any]], items: list[Any], around: Mapping[str, Any]) -> Mapping[str, Any]:
    return {**data(items), **around}


def natural(text: str) -> list[tuple[int, int, str]]:
    """A key that sorts ``A9`` before ``A10``."""
    return [(0, int(piece), "") if piece.isdigit() else (1, 0, piece) for piece in _DIGITS.split(text.casefold()) if piece]


def numbers_rows(computed: Computed) -> list[dict[str, Any]]:
    """Parts and kits, sorted by number."""
    rows = [
        {
            "number": part.number,
            "url": urls.part_url(part),
            "what": computed.family_title(part),
            "what_url": urls.family_url(part.family),
            "status": status_words(part.status),
            "successors": [
                {"number": link.number, "url": urls.part_url(found) if (found := computed.book.part(link.number)) else None}
                for link in part.superseded_by
            ],
        }
        for part in computed.book.parts
    ]
    rows += [
        {
            "number": kit.number,
            "url": urls.kit_url(kit.id),
            "what": say("numbers_page.kit", title=kit.title),
            "what_url": urls.kit_url(kit.id),
            "status": "",
            "successors": [],
        }
        for kit in computed.book.kits.values()
    ]
    return sorted(rows, key=lambda row: natural(normalise(row["number"])))


def vehicles_listed(computed: Computed) -> list[dict[str, Any]]:
    """Vehicles by name, each with its lines by year."""
    by_name: dict[str, list[dict[str, Any]]] = {}
    for family in computed.book.families.values():
        for one in family.applications:
            seat = computed.seat_of(family, one)
            part = computed.book.part(one.came_with) if one.came_with else None
            by_name.setdefault(one.vehicle, []).append(
                {
                    "first": one.first_year or 0,
                    "words": application_words(one, with_vehicle=False),
                    "note": one.note,
                    "came_with": part.number if part else one.came_with,
                    "came_with_url": urls.part_url(part) if part else None,
                    "url": urls.seat_url(seat) if seat else urls.family_url(family.id),
                    "family": family.title,
                    "answered": seat is not None,
                }
            )
    return [
        {"name": name, "rows": sorted(by_name[name], key=lambda row: (row["first"], row["words"]))} for name in sorted(by_name, key=natural)
    ]


def by_make(vehicles: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Vehicles under their makes, the first words of their names."""
    makes: dict[str, list[dict[str, Any]]] = {}
    for vehicle in vehicles:
        makes.setdefault(vehicle["name"].split()[0], []).append(vehicle)
    return [{"name": make, "anchor": f"Make-{urls.anchor(make)}", "vehicles": found} for make, found in makes.items()]


def gearboxes_listed(computed: Computed) -> list[dict[str, Any]]:
    """Gearboxes by name, each with its families and the vehicles that have it."""
    vehicles: dict[str, set[str]] = {}
    for family in computed.book.families.values():
        for one in family.applications:
            if one.gearbox:
                vehicles.setdefault(one.gearbox, set()).add(one.vehicle)
    return [
        {
            "name": gearbox,
            "anchor": f"Gearbox-{urls.anchor(gearbox)}",
            "families": [
                {"title": family.title, "url": urls.family_url(family.id), "parts": len(family.parts)}
                for family in computed.book.by_gearbox[gearbox]
            ],
            "vehicles": sorted(vehicles.get(gearbox, ()), key=natural),
        }
        for gearbox in sorted(computed.book.by_gearbox, key=natural)
    ]
