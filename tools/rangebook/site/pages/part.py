"""The page of a part: what it is, its pins and what it does, what it replaces and is replaced by, vehicles, sheets and labels."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from typing import Any

from rangebook.book.model import Family, Part
from rangebook.desk.layers import layer_lines, of_part
from rangebook.site.api import urls as api
from rangebook.site.facts.computed import Computed
from rangebook.site.model.answer import vehicle_words
from rangebook.site.pages import Page
from rangebook.site.pages.parts import part_sheet
from rangebook.site.shared import urls
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """One page for each part."""
    for family in computed.book.families.values():
        for part in family.parts:
            yield Page(
                source=f"{urls.part_url(part).rstrip('/')}.md",
                title=part.number,
                template="part.html",
                data=partial(_part_data, family, part, computed),
                shows=partial(_part_data, family, part),
                client=("shelf/beside.js",),
                entry=family.entry.file,
                about=say("part_page.about", number=part.number, title=family.title),
            )


def _part_data(family: Family, part: Part, computed: Computed) -> Mapping[str, Any]:
    return {
        "family": family,
        "family_url": urls.family_url(family.id),
        "sheet": part_sheet(computed, family, part),
        "designs": [part_sheet(computed, family, one) for one in part.revisions],
        "seats": [
            {
                "key": urls.seat_key(seat),
                "vehicles": [vehicle_words(one) for one in seat.applications],
                "wires": len(seat.plug.wires),
                "plug_title": computed.plug_title(seat.plug),
                "came_with": seat.original.number,
                "own": seat.original is part,
            }
            for seat, _ in computed.fitter.seats_taken_by(part)
            if not seat.renewal
        ],
        "json_url": api.family(family.id),
        "layers": list(layer_lines(computed.book, *of_part(computed.book, part))),
        "entry_file": family.entry.file,
    }
