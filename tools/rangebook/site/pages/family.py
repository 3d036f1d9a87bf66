"""The page of a switch family."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from functools import partial
from typing import Any

from markupsafe import Markup

from rangebook.book import trouble_codes
from rangebook.book.model import Application, Family, Mount, Plug, Shaft, Wire
from rangebook.desk.layers import layer_lines
from rangebook.electrics.meaning import means_of, meant
from rangebook.electrics.signals import typed
from rangebook.fitting.cranking import PARK_OR_NEUTRAL
from rangebook.fitting.standing import Group
from rangebook.fitting.supersession import chain_ends
from rangebook.fitting.verdict import VerdictKind
from rangebook.site.drawings.chain import chain_svg
from rangebook.site.drawings.mount_pattern import mount_svg
from rangebook.site.drawings.wire_colours import swatch_svg, wire_colour
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.photos import shown
from rangebook.site.model.answer import SeatShown, cranks_words, shown_seat
from rangebook.site.model.faces import face_of
from rangebook.site.model.setting import setting, setting_lines
from rangebook.site.pages import Page
from rangebook.site.pages.parts import connector_links, part_sheet
from rangebook.site.shared import urls
from rangebook.words.book import built_words, group_words, status_short, tried_words, verdict_short, when_words
from rangebook.words.catalogue import say
from rangebook.words.lists import listed
from rangebook.words.measures import millimetres, torque


def pages(computed: Computed) -> Iterator[Page]:
    """One page for each family."""
    for family in computed.book.families.values():
        yield Page(
            source=f"switches/{family.id}.md",
            title=family.title,
            template="family.html",
            markdown=family.entry.prose,
            entry=family.entry.file,
            data=partial(family_data, computed, family),
            shows=partial(_shows, family),
            client=("shelf/beside.js",),
            about=say("family_page.about", title=family.title),
        )


def _shows(family: Family, computed: Computed) -> Mapping[str, Any]:
    return family_data(computed, family)


def family_data(computed: Computed, family: Family) -> Mapping[str, Any]:
    """What the page of a family shows."""
    own = computed.seats_by_family.get(family.id, ())
    seats = [shown_seat(computed, seat) for seat in own]
    sheets = [part_sheet(computed, family, part) for part in family.parts]
    return {
        "family": family,
        "sheets": sheets,
        "seats": seats,
        "cranks_in": _named(family, PARK_OR_NEUTRAL, {at for seat in own for at in seat.cranks_in}),
        "lamps_in": _named(family, frozenset({"R"}), ()),
        "matrix": matrix(family, seats),
        "groups": [(group, group_words(group)) for group in Group],
        "mounts": [_mount(family, mount) for mount in family.mounts.values()],
        "plugs": [_plug(computed, family, plug) for plug in family.plugs.values()],
        "applications": [_application(computed, family, one) for one in family.applications],
        "setting": setting(family),
        "codes": [{"code": code, "text": trouble_codes.TEXTS.get(code)} for code in family.trouble_codes],
        "chained": [sheet for sheet in sheets if sheet["successors"]],
        "chain_drawings": [Markup(svg) for svg in chain_drawings(computed, family)],
        "means": [say("family_page.means", position=name, meaning=meaning) for name, meaning in family.means.items()],
        "entry": family.entry,
        "pictures": shown(computed, family.entry, family.photos),
        "layers": list(layer_lines(computed.book, family)),
    }


def _named(family: Family, wanted: frozenset[str], among: Collection[str]) -> tuple[str, ...]:
    """A family's positions that mean what is wanted, by their names, and of these those that its vehicles name, if any does."""
    found = [at for at, one in zip(family.positions, meant(family.positions, means_of(family)), strict=True) if one in wanted]
    return tuple(at for at in found if at in among) or tuple(found) or tuple(sorted(wanted, key="PN".find))


def matrix(family: Family, seats: list[SeatShown]) -> Mapping[str, Any]:
    """What came off against what fits: columns are the family's parts and every other part that is not a plain no somewhere."""
    columns = {part.key: _matrix_column(part.number, urls.part_url(part), part.status) for part in family.parts}
    for seat in seats:
        for one in seat.candidates:
            if one.verdict is not VerdictKind.NO:
                columns.setdefault(one.key, _matrix_column(one.number, one.url, one.status))
    rows = []
    for seat in seats:
        by_key = {one.key: one for one in seat.candidates}
        rows.append({"seat": seat, "cells": [_matrix_cell(seat, key, by_key) for key in columns]})
    return {"columns": list(columns.values()), "rows": rows}


def _matrix_column(number: str, url: str, status: str | None) -> dict[str, Any]:
    return {"number": number, "url": url, "status": status_short(status), "sold": status == "current"}


def _matrix_cell(seat: SeatShown, key: str, by_key: Mapping[str, Any]) -> dict[str, str]:
    one = by_key.get(key)
    if one is None:
        return {"verdict": str(VerdictKind.NO), "short": verdict_short(VerdictKind.NO), "url": ""}
    return {"verdict": str(one.badge), "short": one.short, "url": f"#{seat.anchor}-{urls.anchor(key)}"}


def chain_drawings(computed: Computed, family: Family) -> list[str]:
    """The makers' chains of a family from where they begin: the parts that take nobody's place within it."""
    kits = {kit.id: kit.number for kit in computed.book.kits.values()}
    begin = [
        part
        for part in family.parts
        if part.superseded_by and not any(one.family == family.id for one in computed.book.predecessors.get(part.key, ()))
    ]
    return [chain_svg(chain_ends(computed.book, part), part, kits, computed.book.by_number) for part in begin]


def _mount(family: Family, mount: Mount) -> dict[str, Any]:
    shaft = mount.shaft
    return {
        "name": mount.name,
        "drawing": Markup(mount_svg(mount, say("family_page.mount_drawing", title=family.title, name=mount.name))),
        "shaft": shaft and _shaft(shaft),
        "bolts": [
            {
                "at": millimetres(bolt.at_mm),
                "angle": f"{bolt.at_deg:g}°",
                "bolt": listed(filter(None, (_length(bolt.bolt_mm), bolt.torque_nm and torque(bolt.torque_nm))), "comma"),
                "hole": _length(bolt.hole_mm),
                "slot": f"{bolt.slot_deg:g}°" if bolt.slot_deg else say("family_page.plain_hole"),
                "spacer": say("family_page.no_spacer") if bolt.spacer_mm == 0 else _length(bolt.spacer_mm),
            }
            for bolt in mount.bolts
        ],
        "motion": say("family_page.motion", motion=mount.motion) if mount.motion else "",
        "setting": setting_lines(mount),
        "cautions": mount.cautions,
        "note": mount.note,
        "parts": [{"number": part.number, "url": urls.part_url(part)} for part in family.parts if part.mount == mount.name],
    }


def _length(mm: float | None) -> str:
    return say("page.not_stated") if mm is None else millimetres(mm)


def _shaft(shaft: Shaft) -> str:
    across = None if shaft.across_mm is None else say("family_page.across", width=millimetres(shaft.across_mm))
    return listed(filter(None, (shaft.shape, across)), "space")


def _plug(computed: Computed, family: Family, plug: Plug) -> dict[str, Any]:
    reads = plug.reads
    return {
        "name": plug.name,
        "anchor": f"Plug-{urls.anchor(plug.name)}",
        "called": computed.plug_called(plug),
        "vehicles": listed(dict.fromkeys(one.vehicle for one in family.applications if one.plug == plug.name), "comma"),
        "connectors": connector_links(computed, plug.sockets),
        "drawing": face_of(computed, plug.sockets, "wire", wires=plug.wires, loops=plug.loops),
        "wires": [
            {
                "cavity": wire.cavity,
                "circuit": computed.circuit(wire.circuit),
                "colour": wire_colour(wire.colour).name if wire.colour else say("page.not_stated"),
                "code": wire.colour,
                "swatch": Markup(swatch_svg(wire.colour)) if wire.colour else None,
                "size": say("family_page.size", mm2=wire.size_mm2) if wire.size_mm2 is not None else "",
                "carries": listed(_through(wire), "comma"),
                "note": wire.note,
            }
            for _, wire in plug.each()
        ],
        "plating": plug.plating and say("family_page.plug_plating", plating=plug.plating),
        "reads": reads and say("family_page.reads", pins=reads.pins, volts=reads.volts, pull_up_ohms=reads.pull_up_ohms),
        "loops": [say("family_page.loop", cavities=one) for one in plug.loops]
        or ([say("family_page.no_loop")] if plug.loops_stated else []),
        "cranks": cranks_words(plug.cranks),
        "note": plug.note,
    }


def _through(wire: Wire) -> Iterator[str]:
    """What goes through a wire, and how thick it is over its insulation, as far as it is stated."""
    if wire.carries_a is not None:
        yield say("family_page.carries", amps=wire.carries_a)
    if wire.gives_volts is not None:
        yield say("family_page.gives", volts=typed(wire.gives_volts))
    if wire.outer_mm is not None:
        yield say("family_page.outer", mm=wire.outer_mm)
    if wire.side is not None:
        yield say("family_page.side", side=wire.side)


def _application(computed: Computed, family: Family, one: Application) -> dict[str, Any]:
    seat = computed.seat_of(family, one)
    part = computed.book.part(one.came_with) if one.came_with else None
    more = (
        one.engine,
        one.drive,
        built_words(one),
        when_words(one.when, "built"),
        say("family_page.with_lever", lever=one.lever) if one.lever else None,
        say("answer.optional_cavities", cavities=one.optional_cavities) if one.optional_cavities else None,
        cranks_words(one.cranks),
        *(tried_words(record) for record in one.fitted),
        one.note,
    )
    plug = family.plugs.get(one.plug or "")
    return {
        "vehicle": one.vehicle,
        "years": one.years or say("page.not_stated"),
        "gearbox": one.gearbox or say("page.not_stated"),
        "more": listed(filter(None, more), "semicolon"),
        "plug": computed.plug_called(plug) if plug else one.plug,
        "plug_anchor": f"Plug-{urls.anchor(plug.name)}" if plug else None,
        "came_with": part.number if part else one.came_with,
        "came_with_url": urls.part_url(part) if part else None,
        "seat_anchor": urls.seat_anchor(seat) if seat else None,
    }
