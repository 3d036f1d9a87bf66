"""One file for each family: its parts, the seats that they may have come off, and the answer for each seat."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

from rangebook.book.model import Family, Fitting, Part
from rangebook.desk.setting import setting_of
from rangebook.fitting.seats import Seat
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.edition import OWN
from rangebook.site.model.answer import Order, SeatShown, Shown, shown_seat
from rangebook.site.model.chain import chains
from rangebook.site.model.colours import colour_row
from rangebook.site.model.faces import face_outline, face_rows
from rangebook.site.model.setting import in_words
from rangebook.site.shared import urls


def answers(computed: Computed, family: Family) -> dict[str, Any]:
    """The answers for a family. Seats are keyed by family and seat id, parts by their normalised number; what is empty is
    left out."""
    taken = {part.key: computed.fitter.seats_taken_by(part) for part in family.parts}
    seats: dict[str, Seat] = {urls.seat_key(seat): seat for seat in computed.seats_by_family.get(family.id, ())}
    for found in taken.values():
        seats.update({urls.seat_key(seat): seat for seat, _ in found})
    settings: dict[Fitting, str] = {}
    shown = {key: shown_seat(computed, seat) for key, seat in seats.items()}
    faces = {face for one in shown.values() for face in (one.connector, *(two.renewed_to for two in one.candidates))}
    colours = {wire.colour for seat in seats.values() for wire in seat.plug.wires.values() if wire.colour}
    return {
        "edition": OWN,
        "family": {"id": family.id, "title": family.title, "url": urls.family_url(family.id)},
        "parts": {part.key: _part(computed, part, taken[part.key]) for part in family.parts},
        "seats": {key: _seat(shown[key], partial(_setting, computed, settings, seat)) for key, seat in seats.items()},
        "settings": {name: _full(in_words(one)) for one, name in settings.items()},
        "faces": {face: face_rows(computed.book.connectors, face) for face in sorted(faces) if face},
        "outlines": {face: face_outline(computed.book.connectors, face) for face in sorted(faces) if face},
        "colours": {code: colour_row(code) for code in sorted(colours)},
    }


def _setting(computed: Computed, known: dict[Fitting, str], seat: Seat, key: str) -> str | None:
    """By which name among the settings that of a part on a seat is found; each is there once."""
    said = setting_of(seat, computed.book.by_number[key])
    return (
        known.setdefault(said, str(len(known)))
        if any((said.set_in, said.method, said.set_by, said.torque_nm, said.bolts_nm, said.cautions))
        else None
    )


def _part(computed: Computed, part: Part, taken: Sequence[tuple[Seat, str]]) -> dict[str, Any]:
    return _full(
        {
            "number": part.number,
            "url": urls.part_url(part),
            "status": part.status,
            "note": part.note,
            "seats": [[urls.seat_key(seat), how] for seat, how in taken],
            "chains": [
                {
                    "steps": [
                        _full(
                            {
                                "number": one.number,
                                "url": one.url,
                                "status": one.status,
                                "since": one.since,
                                "needs": list(one.needs),
                                "note": one.note,
                            }
                        )
                        for one in chain.steps
                    ],
                    "words": chain.words,
                }
                for chain in chains(computed, part)
            ],
        }
    )


def _seat(seat: SeatShown, setting: Callable[[str], str | None]) -> dict[str, Any]:
    return _full(
        {
            "family": seat.family,
            "title": seat.family_title,
            "url": seat.url,
            "built": seat.built,
            "renewed": list(seat.renewed),
            "plug_title": seat.plug_title,
            "wires": seat.wires,
            "face": seat.connector,
            "wired": [list(one) for one in seat.wired],
            "loops": [list(one) for one in seat.loops],
            "cranks": seat.cranks,
            "cranks_in": seat.cranks_in,
            "lamps_in": seat.lamps_in,
            "came_with": seat.came_with,
            "came_with_status": seat.came_with_status,
            "positions": " ".join(seat.positions),
            "known": seat.known,
            "vehicles": list(seat.vehicles),
            "measure_first": seat.measure_first,
            "candidates": [_candidate(one, setting(one.key)) for one in seat.candidates],
        }
    )


def _candidate(one: Shown, setting: str | None) -> dict[str, Any]:
    return _full(
        {
            "number": one.number,
            "url": one.url,
            "family": one.family,
            "status": one.status,
            "status_words": one.status_words if one.status != "current" else "",
            "verdict": str(one.verdict),
            "group": str(one.group),
            "warning": one.warning,
            "work": list(one.work),
            "brief": one.brief,
            "orders": [_order(two) for two in one.orders],
            "also": list(one.also),
            "beside": [[two.kind, two.what, two.how_many or 1] for two in one.beside],
            "moves": [_full({"old": two.old, "new": two.new, "colour": two.colour, "circuit": two.circuit}) for two in one.moves],
            "renewed_to": one.renewed_to,
            "loops": [list(two) for two in one.loops],
            "seal": one.seal or None,
            "blanks": one.blanks or None,
            "moves_why": one.moves_why,
            "idle": list(one.idle),
            "idle_words": one.idle_words,
            "why": list(one.why),
            "checks": [[str(two.outcome), two.check, two.text] for two in one.checks],
            "setting": setting,
            "note": one.note,
            "unsaid": one.unsaid,
            "tried": list(one.tried),
            "known": one.known,
            "stands_on": one.stands_on,
        }
    )


def _order(one: Order) -> dict[str, Any]:
    facts = {"number": one.number, "title": one.title, "url": one.url, "uses": one.uses, "seal": one.seal or None, "more": one.more or None}
    return _full({**facts, "cautions": list(one.cautions)})


def _full(facts: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in facts.items() if value not in (None, "", [], {})}
