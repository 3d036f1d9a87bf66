"""The page of a plug renewal kit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from typing import Any

from markupsafe import Markup

from rangebook.book.model import Connector, Kit
from rangebook.desk.answer import best_offer, candidate
from rangebook.desk.layers import layer_lines
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.photos import shown
from rangebook.site.model.answer import shown_candidate, vehicle_words
from rangebook.site.model.faces import face
from rangebook.site.pages import Page
from rangebook.site.pages.connector import sizes, terminal_words, thickness
from rangebook.site.shared import urls
from rangebook.words.catalogue import say

JOINED = Markup("\ue000kit-seats\ue000")
"""What stands in a part of a site where the seats of all parts belong; no entry can have these signs."""


def pages(computed: Computed) -> Iterator[Page]:
    """One page for each kit."""
    for kit in computed.book.kits.values():
        yield Page(
            source=f"kits/{kit.id}.md",
            title=f"{kit.number} {kit.title}",
            template="kit.html",
            markdown=kit.entry.prose,
            entry=kit.entry.file,
            data=partial(kit_data, computed, kit),
            shows=partial(_shows, kit),
            client=("shelf/beside.js",),
            about=say("kit_page.about", number=kit.number, title=kit.title),
        )


def _shows(kit: Kit, computed: Computed) -> Mapping[str, Any]:
    return kit_data(computed, kit)


def kit_data(computed: Computed, kit: Kit) -> Mapping[str, Any]:
    """What the page of a kit shows."""
    olds, new = [(old, computed.book.connectors.get(old)) for old in kit.olds], computed.book.connectors.get(kit.new)
    return {
        "kit": kit,
        "olds": [_side(old, name) | {"face": face(computed, old, "wire") if old else None} for name, old in olds],
        "new": _side(new, kit.new),
        "new_face": face(computed, new, "wire", loops=kit.loops) if new else None,
        "loops": [say("family_page.loop", cavities=one) for one in kit.jumpers],
        "moves": [{"old": a, "new": ", ".join(kit.places(a)), "same": a == b} for a, b in kit.moves.items()],
        "seals": None if kit.seals is None and kit.wire_seals is None else sorted(kit.seals or ()),
        "bag": _bag(kit),
        # Of a site in parts every part has some: they are put in when the parts are joined.
        "joined": JOINED if computed.shard.apart else "",
        "fragments": [],
        "seats": [] if computed.shard.apart else list(used_by(computed, kit).values()),
        "entry": kit.entry,
        "pictures": shown(computed, kit.entry, kit.photos),
        "layers": list(layer_lines(computed.book, kit)),
        "stock": computed.stock(kit),
    }


def used_by(computed: Computed, kit: Kit) -> dict[tuple[object, ...], dict[str, Any]]:
    """Key of a seat -> what the page shows of it and of the parts that take the kit there."""
    used: dict[tuple[object, ...], dict[str, Any]] = {}
    for seat, verdict in computed.kit_use.get(kit.id, ()):
        row = used.setdefault(
            seat.key,
            {
                "url": urls.seat_url(seat),
                "plug": computed.plug_words(seat.plug),
                "family": seat.family.title,
                "came_with": seat.original.number,
                "vehicles": [vehicle_words(one) for one in seat.applications],
                "candidates": [],
            },
        )
        best = best_offer(computed.candidates(seat))
        row["candidates"].append(shown_candidate(computed, seat, candidate(computed.fitter, seat, verdict), best))
    return used


def _bag(kit: Kit) -> list[str]:
    """The terminals and the seals for single wires."""
    lines: list[str] = []
    if kit.terminal is not None:
        lines.append(say("kit_page.bag_terminals", terminal=terminal_words(kit.terminal)))
    for cavity, one in kit.terminals.items():
        words = terminal_words(one.over(kit.terminal))
        lines.append(say("kit_page.bag_terminals_at", cavities=(cavity,), terminal=words))
    for size in kit.wire_seals or ():
        told = size.wire_mm2 and sizes(size.wire_mm2)
        lines.append(say("kit_page.bag_wire_seals", count=size.count, colour=size.colour, sizes=told, outer=thickness(size.outer_mm)))
    return lines


def _side(connector: Connector | None, name: str) -> dict[str, Any]:
    return {
        "title": connector.title if connector else name,
        "url": urls.connector_url(connector.id) if connector else None,
        "capacity": len(connector.cavities) if connector else None,
    }
