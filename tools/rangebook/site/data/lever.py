"""One file for each family: what a meter shows between any two pins of each of its parts, in each position of the lever."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from rangebook.book.model import CASE, Contact, Family, Part, Wire
from rangebook.desk.layers import layer_lines, of_part
from rangebook.electrics.bundles import contact_ohms
from rangebook.electrics.meaning import means_of
from rangebook.electrics.meter import meter_rows
from rangebook.electrics.relation import CONDUCTS, PathKind, Relation
from rangebook.fitting.seats import Seat
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.edition import OWN
from rangebook.site.model.answer import vehicle_words, wire_words
from rangebook.site.model.colours import colour_row
from rangebook.site.model.proving import end, meter_words, proof_words, relation_words
from rangebook.site.model.signals import signal_rows
from rangebook.site.shared import urls
from rangebook.words.catalogue import say
from rangebook.words.lists import sentence

OPEN, CLOSED, NOT_STATED = 0, 1, 2
"""What a contact does, in the file; a resistance stands there as the figure that is written on the drawing."""


class _Readings:
    """Every reading of a family once, as ``[state or figure, in words]``, and where it stands in the list."""

    def __init__(self) -> None:
        self.listed: list[list[int | str]] = []
        self._at: dict[tuple[int | str, str], int] = {}

    def place(self, found: Relation, a: str, b: str) -> int:
        state: int | str = NOT_STATED if found.path is PathKind.UNKNOWN else CLOSED if found.path in CONDUCTS else OPEN
        if found.ohms is not None:
            state = _figure(found.ohms)
        key = (state, relation_words(found, a, b))
        if key not in self._at:
            self._at[key] = len(self.listed)
            self.listed.append(list(key))
        return self._at[key]


def levers(computed: Computed, family: Family) -> dict[str, Any]:
    """The parts of a family, keyed by their normalised numbers, and the plugs that they go on as they are, keyed as in the answers.

    ``readings`` are ``[state or figure, words]``. A part's ``rows`` hold a place in them for each position, its ``pairs`` are
    ``[place of a terminal, place of another, place of a row]``: two terminals that no pair names are open in every position.
    Its ``contacts`` are ``[terminal, terminal, [state or figure for each position]]``.
    """
    readings, plugs = _Readings(), {}
    parts = {}
    for part in family.parts:
        seats = [seat for one in proof_words(computed, part) if not one.sheet.moved for seat in one.seats]
        plugs.update({urls.seat_key(seat): _plug(computed, seat) for seat in seats})
        parts[part.key] = _part(computed, family, part, seats, readings)
    colours = {row[1] for plug in plugs.values() for row in plug["wires"] if row[1]}
    return {
        "edition": OWN,
        "family": {"id": family.id, "title": family.title, "url": urls.family_url(family.id)},
        "meter": meter_words(),
        "readings": readings.listed,
        "parts": parts,
        "plugs": plugs,
        "colours": {code: colour_row(code) for code in sorted(colours)},
    }


def _part(computed: Computed, family: Family, part: Part, seats: list[Seat], readings: _Readings) -> dict[str, Any]:
    terminals = [] if part.pins is None else [*part.pins, CASE]
    at = {terminal: place for place, terminal in enumerate(terminals)}
    rows: dict[tuple[int, ...], int] = {}
    pairs = []
    for (a, b), found in meter_rows(part, family.positions).items():
        row = tuple(readings.place(one, a, b) for one in found)
        pairs.append([at[a], at[b], rows.setdefault(row, len(rows))])
    drawn = [one for one in part.contacts or () if one.a in at and one.b in at and one.a != one.b]
    return {
        "number": part.number,
        "url": urls.part_url(part),
        "positions": list(family.positions),
        "terminals": [[one, "housing" if one == CASE else computed.circuit((part.pins or {}).get(one))] for one in terminals],
        "contacts": [[at[one.a], at[one.b], [_state(one, position) for position in family.positions]] for one in drawn],
        "stated": part.contacts is not None,
        "says": [
            *(sentence(say("family_page.means", position=name, meaning=meaning)) for name, meaning in means_of(family)),
            *_overlaps(drawn, family),
            *map(sentence, layer_lines(computed.book, *of_part(computed.book, part))),
        ],
        "rows": [list(row) for row in rows],
        "pairs": pairs,
        "signals": [
            [one["pin"], one["name"], one["unit"], one["ends"], [cell["text"] for cell in one["cells"]]]
            for one in signal_rows(computed, family, part)
        ],
        "plugs": [urls.seat_key(seat) for seat in seats],
    }


def _overlaps(drawn: list[Contact], family: Family) -> Iterator[str]:
    for one in drawn:
        into = tuple(at for at in one.overlaps if at in family.positions)
        if into:
            yield say("proof.overlaps", a=end(one.a), b=end(one.b), positions=into)


def _state(contact: Contact, position: str) -> int | str:
    ohms = contact_ohms(contact, position)
    if ohms is None:
        return NOT_STATED
    return OPEN if math.isinf(ohms) else CLOSED if ohms == 0 else _figure(ohms)


def ohms_words(ohms: float) -> str:
    """A resistance as it is written on a drawing, nothing rounded away: 4700 -> ``4.7k``, 330 -> ``330``."""
    for unit, size in (("M", 1e6), ("k", 1e3)):
        if ohms >= size:
            return f"{ohms / size:.6f}".rstrip("0").rstrip(".") + unit
    return f"{ohms:.6g}"


def _figure(ohms: float) -> str:
    """A resistance with no more figures than a meter has, as in ``4.7k``."""
    return ohms_words(float(f"{ohms:.4g}"))


def _plug(computed: Computed, seat: Seat) -> dict[str, Any]:
    return {
        "name": computed.plug_words(seat.plug),
        "title": computed.plug_title(seat.plug),
        "positions": list(seat.positions),
        "vehicles": [vehicle_words(one) for one in seat.applications],
        "wires": [_wire(computed, one) for one in seat.plug.wires.values()],
    }


def _wire(computed: Computed, wire: Wire) -> list[str | None]:
    """Cavity, colour's code, where it goes, and what is noted of it."""
    return [wire.cavity, wire.colour, wire_words(computed, wire), wire.note]
