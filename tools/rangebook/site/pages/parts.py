"""One part as a family's page shows it: pin-out, behaviour, what it replaces and what replaces it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rangebook.book.model import Contact, Family, Fitted, Part, Sockets
from rangebook.electrics.bundles import contact_ohms
from rangebook.fitting.check_mating import BARE
from rangebook.fitting.fitter import known_connectors
from rangebook.reasons.codes import Also
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.photos import shown
from rangebook.site.model.chain import computed_words, step
from rangebook.site.model.faces import face_of
from rangebook.site.model.said import said
from rangebook.site.model.signals import end_words, signal_rows
from rangebook.site.shared import urls
from rangebook.words.book import also_words, need_words, status_short, status_words, tried_words, when_words
from rangebook.words.catalogue import say
from rangebook.words.lists import listed
from rangebook.words.measures import ohms

_ELSEWHERE = ("number", "connector", "mount", "status", "note")
"""Plain keys of a part that have their own place on its sheet; all others are lines of it."""


def part_sheet(computed: Computed, family: Family, part: Part) -> dict[str, Any]:
    """Everything about one part, for its own page and its family's. ``pins`` and ``contacts`` are ``None`` where the entry does not state
    them."""
    return computed.once(("sheet", part), lambda: _part_sheet(computed, family, part))


def _part_sheet(computed: Computed, family: Family, part: Part) -> dict[str, Any]:
    drawing = None if part.pins is None else face_of(computed, part.sockets, "switch", pins=part.pins)
    return {
        "part": part,
        "when": when_words(part.when) or (say("family_page.another_design") if part.restates else ""),
        "said": [*said(computed.loaded.schemas, "switch", ("parts",), part, _ELSEWHERE), *_needed(computed, part)],
        "tried": [tried_words(one) for one in _tried(computed, part)],
        "anchor": urls.part_anchor(part),
        "url": urls.part_url(part),
        "prove_url": urls.proof_page_url(part),
        "lever_url": urls.lever_page_url(part),
        "label_url": urls.label_page_url(part),
        "status": status_words(part.status),
        "short": status_short(part.status),
        "connectors": connector_links(computed, part.sockets),
        "tails": [say("family_page.tail", name=name, tail=one) for name, one in part.tails.items()],
        "capacity": _capacity(computed, part),
        "drawing": drawing,
        "pins": None if part.pins is None else [_pin(computed, cavity, name) for cavity, name in part.pins.items()],
        "contacts": None if part.contacts is None else [_contact(computed, family, part, one) for one in part.contacts],
        "signals": signal_rows(computed, family, part),
        "successors": [_successor(computed, part, link) for link in part.superseded_by],
        "predecessors": [{"number": one.number, "url": urls.part_url(one)} for one in computed.book.predecessors.get(part.key, ())],
        "missing": _missing(part),
        "pictures": shown(computed, family.entry, part.photos),
        "stock": computed.stock(part),
    }


def _tried(computed: Computed, part: Part) -> list[Fitted]:
    """Every record of the bay that is of the part: its own, and those of the vehicles that were built with it, which name themselves."""
    built = (application for seat in computed.fitter.seats_of.get(part.key, ()) for application in seat.applications)
    return [*part.fitted, *(replace(one, vehicle=application.vehicle) for application in built for one in application.fitted)]


def _needed(computed: Computed, part: Part) -> list[dict[str, str]]:
    """What has to be ordered or done whenever the part is fitted, and by which number it is sold, a line each."""
    needs = [need_words(need, computed.book.kits) for need in part.needs]
    sold = [also_words(Also(how, number)) for how, number in part.sold_as.items()]
    told = [*((say("family_page.needed"), one) for one in needs), *((say("family_page.sold_as"), one) for one in sold)]
    return [{"label": label, "text": one} for label, one in told]


def _capacity(computed: Computed, part: Part) -> int | None:
    """How many cavities its connectors have together."""
    known = computed.book.connectors
    all_known = None not in known_connectors(computed.book, part)
    return sum(len(known[one.connector].cavities) for one in part.sockets) if all_known else None


def connector_links(computed: Computed, sockets: Sockets) -> list[dict[str, str | None]]:
    """Each connector of a part or plug: its name where there are several, its title, and where its page is."""
    known = computed.book.connectors
    return [
        {
            "name": one.name,
            "title": computed.connector_title(one.connector),
            "url": urls.connector_url(one.connector) if one.connector in known else None,
        }
        for one in sockets
    ]


def _pin(computed: Computed, cavity: str, circuit: str) -> dict[str, Any]:
    known = computed.loaded.schemas.circuits.get(circuit)
    return {"cavity": cavity, "circuit": circuit, "name": computed.circuit(circuit), "safety": bool(known and known.safety)}


def _contact(computed: Computed, family: Family, part: Part, contact: Contact) -> dict[str, Any]:
    resistive = contact.ohms is not None
    unit = say("family_page.ohms", tolerance=contact.tolerance_percent) if resistive else None
    way = say("family_page.one_way", a=contact.a, b=contact.b) if contact.one_way else None
    rated = None if contact.rated_a is None else say("family_page.rated", amps=contact.rated_a)
    overlaps = say("family_page.overlaps", positions=contact.overlaps) if contact.overlaps else None
    return {
        "a": contact.a,
        "b": contact.b,
        "a_name": end_words(computed, part, contact.a),
        "b_name": end_words(computed, part, contact.b),
        "unit": listed(filter(None, (unit, way, rated, overlaps)), "comma"),
        "cells": [_cell(contact_ohms(contact, position)) for position in family.positions],
    }


def _cell(value: float | None) -> dict[str, str]:
    if value is None:
        return {"state": "unknown", "text": "?"}
    if value == float("inf"):
        return {"state": "open", "text": say("family_page.open")}
    if value == 0:
        return {"state": "closed", "text": say("family_page.closed")}
    return {"state": "ohms", "text": ohms(value)}


def _successor(computed: Computed, part: Part, link: Any) -> dict[str, Any]:
    successor = computed.book.part(link.number)
    return {
        "step": step(computed, link),
        "sources": link.sources,
        "computed": computed_words(computed, part, successor) if successor else [],
    }


def _missing(part: Part) -> list[str]:
    """What the book does not say about a part, and so what would settle the verdicts that are not known."""
    gaps: list[str] = []
    if not part.sockets and not (part.tail and part.tail.ends == BARE):
        gaps.append(say("family_page.gap_connector"))
    if part.pins is None:
        gaps.append(say("family_page.gap_pins"))
    if part.contacts is None and not part.signals:
        gaps.append(say("family_page.gap_contacts"))
    if part.mount is None:
        gaps.append(say("family_page.gap_mount"))
    if not part.sources:
        gaps.append(say("family_page.gap_sources"))
    return gaps
