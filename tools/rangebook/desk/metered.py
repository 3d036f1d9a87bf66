"""Which of a part's contacts a meter's reading tells by itself, so that what was measured can be written down as a fact of the part."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import inf
from typing import Any

from rangebook.book.model import Contact, Part
from rangebook.electrics.behaviour import PinOf
from rangebook.electrics.bundles import contact_ohms

Pair = tuple[str, str]


def told_by(part: Part, here: Part, pin_of: PinOf, lines: Sequence[Pair]) -> list[tuple[int, tuple[int, ...]]]:
    """Place of a line, and the places of the contacts of ``part`` that are in series between its ends: there is no other way from one to
    the other, whatever else is closed. Closed there, all of them are; open, one of them.

    ``here`` is the part as it is measured, with whatever else is joined to it there; ``lines`` are pairs of terminals. A line with a diode
    in its way tells of none: what a meter shows there goes by the meter.
    """
    places = {id(one): place for place, one in enumerate(part.contacts or ())}
    pins = dict(pin_of)
    found = []
    for line, (one, other) in enumerate(lines):
        way = _only_way(here, pins.get(one), pins.get(other))
        if way and all(id(contact) in places and not contact.one_way for contact in way):
            found.append((line, tuple(places[id(contact)] for contact in way)))
    return found


def _only_way(here: Part, start: str | None, end: str | None) -> list[Contact]:
    """The contacts on the one way between two pins, in their order; none where there are several ways, or there is no way."""
    if start is None or end is None:
        return []
    back = _reached(here, start, None)
    way: list[Contact] = []
    at = end
    while (last := back.get(at)) is not None:
        way.append(last)
        at = last.a if at == last.b else last.b
    return way[::-1] if not any(one.b in _reached(here, one.a, one) for one in way) else []


def _reached(here: Part, start: str, left_out: Contact | None) -> dict[str, Contact | None]:
    """Each pin that can be joined to one without a contact -> the last contact on the way there."""
    back: dict[str, Contact | None] = {start: None}
    todo = [start]
    while todo:
        at = todo.pop()
        for one in here.contacts or ():
            if one is not left_out and at in (one.a, one.b):
                beyond = one.b if at == one.a else one.a
                if beyond not in back:
                    back[beyond] = one
                    todo.append(beyond)
    return back


def stated(part: Part, positions: Iterable[str]) -> list[dict[str, Any]]:
    """The contacts of a part as an entry has them, ``ohms`` as pairs in the lever's order, and under ``states`` what is stated of each in
    every position: ohms, 0 closed, ``"open"``, ``None`` not known."""
    order = tuple(positions)
    return [
        {
            "pins": [one.a, one.b],
            **({"closed": list(one.listed)} if one.listed is not None else {}),
            **({"overlaps": list(one.overlaps)} if one.overlaps else {}),
            **({"one_way": True} if one.one_way else {}),
            **({"ohms": [[at, "open" if ohms is None else ohms] for at, ohms in one.ohms.items()]} if one.ohms is not None else {}),
            **({"tolerance_percent": one.tolerance_percent} if one.tolerance_percent is not None else {}),
            **({"rated_a": one.rated_a} if one.rated_a is not None else {}),
            "states": [_state(contact_ohms(one, at)) for at in order],
        }
        for one in part.contacts or ()
    ]


def _state(ohms: float | None) -> float | str | None:
    return "open" if ohms == inf else ohms
