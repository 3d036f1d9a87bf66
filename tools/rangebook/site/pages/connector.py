"""The page of a connector."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from typing import Any

from rangebook.book.model import Connector, Mate, Terminal
from rangebook.desk.layers import layer_lines
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.photos import shown
from rangebook.site.model.faces import face
from rangebook.site.pages import Page
from rangebook.site.shared import urls
from rangebook.words.book import status_words
from rangebook.words.catalogue import say
from rangebook.words.measures import millimetres


def pages(computed: Computed) -> Iterator[Page]:
    """One page for each connector."""
    for connector in computed.book.connectors.values():
        yield Page(
            source=f"connectors/{connector.id}.md",
            title=connector.title,
            template="connector.html",
            markdown=connector.entry.prose,
            entry=connector.entry.file,
            data=partial(connector_data, computed, connector),
            shows=partial(_shows, connector),
            about=say("connector_page.about", title=connector.title),
        )


def _shows(connector: Connector, computed: Computed) -> Mapping[str, Any]:
    return connector_data(computed, connector)


def connector_data(computed: Computed, connector: Connector) -> Mapping[str, Any]:
    """What the page of a connector shows."""
    book = computed.book
    return {
        "connector": connector,
        "switch_side": face(computed, connector, "switch"),
        "wire_side": face(computed, connector, "wire"),
        "capacity": len(connector.cavities),
        "terminal": terminal_words(connector.terminal),
        "terminals": terminals_at({one: connector.terminal_at(one) for one in connector.terminals}),
        "sealed": say("connector_page.sealed", sealed=connector.sealed, wires=connector.seal_wire_mm2 and sizes(connector.seal_wire_mm2)),
        "takes": [_mate(book.connectors.get(one.connector), one.connector, one) for one in connector.mates],
        "goes_on": [_mate(one, one.id, mate) for one, mate in computed.goes_on.get(connector.id, ())],
        "parts": [
            {
                "number": part.number,
                "url": urls.part_url(part),
                "family": computed.family_title(part),
                "family_url": urls.family_url(part.family),
                "pins": None if part.pins is None else len(part.pins),
                "status": status_words(part.status),
            }
            for part in book.by_connector.get(connector.id, ())
        ],
        "plugs": [
            {
                "name": computed.plug_called(plug),
                "url": f"{urls.family_url(plug.family)}#Plug-{urls.anchor(plug.name)}",
                "family": book.families[plug.family].title,
                "vehicles": sorted(
                    {one.vehicle for seat in computed.seats_by_plug.get((plug.family, plug.name), ()) for one in seat.applications}
                ),
            }
            for plug in book.plugs_by_connector.get(connector.id, ())
        ],
        "kits_from": [_kit(computed, kit, kit.new) for kit in book.kits_from.get(connector.id, ())],
        "kits_to": [_kit(computed, kit, old) for kit in computed.kits_to.get(connector.id, ()) for old in kit.olds],
        "entry": connector.entry,
        "pictures": shown(computed, connector.entry, connector.photos),
        "layers": list(layer_lines(computed.book, connector)),
    }


def _link(connector: Connector | None, name: str) -> dict[str, str | None]:
    return {"title": connector.title if connector else name, "url": urls.connector_url(connector.id) if connector else None}


def _mate(connector: Connector | None, name: str, mate: Mate) -> dict[str, Any]:
    """The other connector, and where a map is stated which cavity of the plug meets which of the housing."""
    pairs = [] if mate.cavities is None else [say("connector_page.meets", plug=plug, own=own) for plug, own in mate.cavities.items()]
    return {**_link(connector, name), "map": say("connector_page.map", pairs=tuple(pairs)) if pairs else ""}


def _kit(computed: Computed, kit: Any, other: str) -> dict[str, Any]:
    return {
        "number": kit.number,
        "title": kit.title,
        "url": urls.kit_url(kit.id),
        "other": _link(computed.book.connectors.get(other), other),
    }


def terminals_at(stated: Mapping[str, Terminal]) -> tuple[str, ...]:
    """The terminals of single cavities, those together that are alike."""
    alike: dict[Terminal, list[str]] = {}
    for cavity, one in stated.items():
        alike.setdefault(one, []).append(cavity)
    return tuple(say("connector_page.terminals_at", cavities=tuple(where), terminal=terminal_words(one)) for one, where in alike.items())


def thickness(range_mm: tuple[float, float] | None) -> str | None:
    """The thinnest and the thickest wire over its insulation."""
    return range_mm and say("connector_page.thickness", thinnest=range_mm[0], thickest=range_mm[1])


def terminal_words(terminal: Terminal | None) -> str:
    """What is stated of terminals, in a line."""
    if terminal is None:
        return say("page.not_stated")
    width = None if terminal.width_mm is None else millimetres(terminal.width_mm)
    return say(
        "connector_page.terminal",
        style=terminal.style,
        width=width,
        on_switch=terminal.on_switch,
        wires=terminal.wire_mm2 and sizes(terminal.wire_mm2),
        together=terminal.wires,
        plating=terminal.plating,
        seal=thickness(terminal.seal_mm),
        family=terminal.family,
    )


def sizes(range_mm2: tuple[float, float]) -> str:
    """The smallest and the largest wire."""
    return say("connector_page.wire_sizes", smallest=range_mm2[0], largest=range_mm2[1])
