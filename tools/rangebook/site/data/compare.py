"""One file for each family: on each of its plugs, every part that there is an answer for, wire by wire, and where each two differ."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rangebook.book.model import CASE, Family, Wire
from rangebook.desk.layers import layer_lines, of_part, of_plug
from rangebook.electrics.signals import compare_signals
from rangebook.fitting.on_lever import on_lever
from rangebook.fitting.overlay import Laid, Row, lay, marks, pairs_of
from rangebook.fitting.seats import Seat
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.edition import OWN
from rangebook.site.model.answer import says_of, vehicle_words, wire_words
from rangebook.site.model.colours import colour_row
from rangebook.site.model.faces import face_id
from rangebook.site.model.proving import relation_words
from rangebook.site.shared import urls
from rangebook.words.catalogue import say
from rangebook.words.lists import listed, sentence
from rangebook.words.reasons import reason_words

NO_POSITION = "no such position"


def compares(computed: Computed, family: Family) -> dict[str, Any]:
    """The seats of a family, keyed as in the answers.

    A seat's ``parts`` are keyed by number: ``place`` and ``pins`` for each wire (the cavity of the part's housing, and what its pin is
    for: ``None`` not stated, an empty text no pin), or no ``place`` where the plug is not known to go on. Its ``pairs`` are
    ``[terminal, terminal, rows, marks, {number: place in rows}]``: a row holds words for each position, and ``marks[i][j]`` says
    position by position whether row ``j`` is the same as (``=``), different from (``!``) or not known beside (``?``) row ``i``.
    Between two terminals that no pair names there is no contact in any part that is laid over.
    """
    seats = {urls.seat_key(seat): _seat(computed, seat) for seat in computed.seats_by_family.get(family.id, ())}
    colours = {row[1] for seat in seats.values() for row in seat["wires"] if row[1]}
    return {
        "edition": OWN,
        "family": {"id": family.id, "title": family.title, "url": urls.family_url(family.id)},
        "seats": seats,
        "colours": {code: colour_row(code) for code in sorted(colours)},
    }


def _seat(computed: Computed, seat: Seat) -> dict[str, Any]:
    laid = [lay(computed.book, seat, verdict) for verdict in computed.candidates(seat)]
    return {
        "plug": computed.plug_words(seat.plug),
        "face": face_id(seat.plug.sockets, computed.book.connectors),
        "vehicles": [vehicle_words(one) for one in seat.applications],
        "came_with": seat.original.number,
        "positions": list(seat.positions),
        "says": [*says_of(seat), *_layers(computed, seat, laid)],
        "wires": [_wire(computed, one) for one in seat.plug.wires.values()],
        "parts": {one.verdict.part.number: _part(computed, seat, one) for one in laid},
        "pairs": [_pair(seat, laid, pair) for pair in pairs_of(seat, laid)],
    }


def _layers(computed: Computed, seat: Seat, laid: list[Laid]) -> Iterator[str]:
    """From which layers the plug and each part are; nothing in a book of one."""
    yield from map(sentence, layer_lines(computed.book, *of_plug(computed.book, seat.plug)))
    for one in laid:
        for words in layer_lines(computed.book, *of_part(computed.book, one.verdict.part)):
            yield say("layers.of_part", number=one.verdict.part.number, words=words)


def _wire(computed: Computed, wire: Wire) -> list[str | None]:
    return [wire.cavity, wire.colour, wire_words(computed, wire)]


def _part(computed: Computed, seat: Seat, laid: Laid) -> dict[str, Any]:
    part = laid.verdict.part
    facts: dict[str, Any] = {"key": part.key, "family": part.family, "url": urls.part_url(part)}
    if laid.place is None:
        return facts
    place = laid.place
    facts["place"] = [place[cavity] for cavity in seat.plug.wires]
    facts["pins"] = [_pin(computed, laid, place[cavity]) for cavity in seat.plug.wires]
    facts["idle"] = [pin for pin in part.pins or () if pin not in place.values()]
    facts["kits"] = listed(kit.number for kit in laid.kits)
    if part.key != seat.original.key:
        apart = compare_signals(
            seat.inside, seat.meets, on_lever(computed.book, seat.positions, seat.family, part).part, {**place, CASE: CASE}, laid.positions
        )
        facts["powered"] = [
            {"terminal": one.terminal, "outcome": str(one.reason.outcome), "text": reason_words(one.reason)} for one in apart
        ]
    return facts


def _pin(computed: Computed, laid: Laid, cavity: str | None) -> str | None:
    pins = laid.pins
    if pins is None:
        return None
    return computed.circuit(pins[cavity]) if cavity is not None and cavity in pins else ""


def _pair(seat: Seat, laid: list[Laid], pair: tuple[str, str]) -> list[Any]:
    rows: dict[Row, int] = {}
    of = {}
    for one in laid:
        row = one.row(pair, seat.positions)
        if row is not None:
            of[one.verdict.part.number] = rows.setdefault(row, len(rows))
    return [
        *pair,
        [[NO_POSITION if cell is None else relation_words(cell, *pair) for cell in row] for row in rows],
        [[marks(one, other) for other in rows] for one in rows],
        of,
    ]
