"""The lists: every number, every vehicle, every gearbox. They need no script, and are what the find box falls back on."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from rangebook.book.numbers import normalise
from rangebook.desk.fit_words import application_words
from rangebook.site import urls
from rangebook.site.computed import Computed
from rangebook.site.data.identify import VIN_URL
from rangebook.site.data.index import NAMES_URL, NUMBERS_URL
from rangebook.site.pages import Page
from rangebook.site.words import STATUS

_DIGITS = re.compile(r"(\d+)")


def pages(computed: Computed) -> Iterator[Page]:
    """The three lists."""
    yield Page(
        source="numbers.md",
        title="All numbers",
        template="numbers.html",
        data=lambda: numbers_data(computed),
        about="Every part and kit number of the book.",
    )
    yield Page(
        source="vehicles.md",
        title="Vehicles",
        template="vehicles.html",
        data=lambda: vehicles_data(computed),
        about="Every vehicle of the book, and what fits it.",
        client=("identify.css", "vehicle_finder.js"),
    )
    yield Page(
        source="gearboxes.md",
        title="Gearboxes",
        template="gearboxes.html",
        data=lambda: gearboxes_data(computed),
        about="Every gearbox of the book, its switches and its vehicles.",
    )


def natural(text: str) -> list[tuple[int, int, str]]:
    """A key that sorts ``A9`` before ``A10``."""
    return [(0, int(piece), "") if piece.isdigit() else (1, 0, piece) for piece in _DIGITS.split(text.casefold()) if piece]


def numbers_data(computed: Computed) -> Mapping[str, Any]:
    """Parts and kits, sorted by number."""
    rows = [
        {
            "number": part.number,
            "url": urls.part_url(part),
            "what": computed.family_title(part),
            "what_url": urls.family_url(part.family),
            "status": STATUS.get(part.status, part.status or ""),
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
            "what": f"Kit: {kit.title}",
            "what_url": urls.kit_url(kit.id),
            "status": "",
            "successors": [],
        }
        for kit in computed.book.kits.values()
    ]
    return {"rows": sorted(rows, key=lambda row: natural(normalise(row["number"])))}


def vehicles_data(computed: Computed) -> Mapping[str, Any]:
    """Vehicles by name under their makes (the name's first word), each with its lines by year; and what the finder loads."""
    by_name: dict[str, list[dict[str, Any]]] = {}
    for family in computed.book.families.values():
        for one in family.applications:
            seat = computed.seat_of(family, one)
            part = computed.book.part(one.came_with) if one.came_with else None
            by_name.setdefault(one.vehicle, []).append(
                {
                    "first": one.first_year or 0,
                    "words": application_words(one).removeprefix(one.vehicle).strip(),
                    "note": one.note,
                    "came_with": part.number if part else one.came_with,
                    "came_with_url": urls.part_url(part) if part else None,
                    "url": urls.seat_url(seat) if seat else urls.family_url(family.id),
                    "family": family.title,
                    "answered": seat is not None,
                }
            )
    makes: dict[str, list[dict[str, Any]]] = {}
    for name in sorted(by_name, key=natural):
        rows = sorted(by_name[name], key=lambda row: (row["first"], row["words"]))
        makes.setdefault(name.split()[0], []).append({"name": name, "rows": rows})
    return {
        "makes": [{"name": make, "anchor": f"Make-{urls.anchor(make)}", "vehicles": found} for make, found in makes.items()],
        "numbers_url": NUMBERS_URL,
        "names_url": NAMES_URL,
        "vin_url": VIN_URL,
    }


def gearboxes_data(computed: Computed) -> Mapping[str, Any]:
    """Gearboxes by name, each with its families and the vehicles that have it."""
    vehicles: dict[str, set[str]] = {}
    for family in computed.book.families.values():
        for one in family.applications:
            if one.gearbox:
                vehicles.setdefault(one.gearbox, set()).add(one.vehicle)
    return {
        "gearboxes": [
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
    }
