"""One file for each family: how each of its parts is proved, and what each single fault of it would make a meter read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from rangebook.book.model import Family, Part
from rangebook.desk.layers import layer_lines, of_part
from rangebook.desk.metered import stated
from rangebook.desk.notes import notes_of
from rangebook.desk.proof_sheets import tables
from rangebook.desk.prove import reading_rules
from rangebook.fitting.seats import Seat
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.edition import OWN
from rangebook.site.facts.qr import code_of
from rangebook.site.model.colours import colour_row
from rangebook.site.model.faces import face_id, face_outline, face_rows
from rangebook.site.model.proving import ProofWords, faults, meter_words, proof_words
from rangebook.site.model.signals import signal_rows
from rangebook.site.shared import urls


def proofs(computed: Computed, family: Family) -> dict[str, Any]:
    """The proofs of a family, its parts keyed by their normalised numbers."""
    parts = {part.key: _part(computed, family, part) for part in family.parts}
    at_plugs = [sheet for part in parts.values() for sheet in part["sheets"] if sheet["face"]]
    faces = sorted({sheet["face"] for sheet in at_plugs})
    return {
        "edition": OWN,
        "family": {"id": family.id, "title": family.title, "url": urls.family_url(family.id)},
        "faces": {face: face_rows(computed.book.connectors, face) for face in faces},
        "outlines": {face: face_outline(computed.book.connectors, face) for face in faces},
        "colours": {code: colour_row(code) for code in sorted({code for sheet in at_plugs for _, code in sheet["wires"] if code})},
        "meter": meter_words(),
        "reading": reading_rules(),
        "faults": faults(),
        "notes": [list(one) for one in notes_of(family)],
        "parts": parts,
    }


def _part(computed: Computed, family: Family, part: Part) -> dict[str, Any]:
    return {
        "number": part.number,
        "url": urls.part_url(part),
        "face": face_id(part.sockets, computed.book.connectors),
        "pins": list(part.pins or ()),
        "positions": list(family.positions),
        "signals": [
            [one["pin"], one["name"], one["unit"], one["ends"], [cell["text"] for cell in one["cells"]]]
            for one in signal_rows(computed, family, part)
        ],
        "contacts": stated(part, family.positions),
        "sheets": [_sheet(computed, one) for one in proof_words(computed, part)],
        "code": code_of(computed, part.number),
        **({"layers": list(layer_lines(computed.book, *of_part(computed.book, part)))} if computed.book.layers else {}),
    }


def _wires(seats: Sequence[Seat]) -> list[list[str]]:
    """The cavities that carry a wire, each with its colour; without one where the vehicles' are not all alike."""
    colours = [{cavity: wire.colour or "" for cavity, wire in seat.plug.wires.items()} for seat in seats]
    return (
        [[cavity, code if all(one.get(cavity) == code for one in colours) else ""] for cavity, code in colours[0].items()] if seats else []
    )


def _sheet(computed: Computed, one: ProofWords) -> dict[str, Any]:
    return {
        "where": one.where,
        "short": one.short,
        "seats": [urls.seat_key(seat) for seat in one.seats],
        "plugs": list(dict.fromkeys(seat.plug.name for seat in one.seats)),
        "face": (face_id(one.seats[0].plug.sockets, computed.book.connectors) or "") if one.seats else "",
        "wires": _wires(one.seats),
        "pins": one.sheet.moved,
        "positions": list(one.positions),
        "lines": [[line.a, line.b, line.names, list(line.says)] for line in one.lines],
        "insulation": [list(how) for how in one.insulation],
        "notes": list(one.notes),
        "asks": [line for line, probe in enumerate(one.sheet.proof.lines) if probe in one.sheet.proof.asked],
        "tells": [[line, list(way)] for line, way in one.sheet.tells],
        "sure": one.sure,
        **tables(one.sheet.faults),
    }
