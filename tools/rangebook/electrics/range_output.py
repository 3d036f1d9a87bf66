"""What a module reads the range from: a part's ladders, code lines and powered outputs.

Contacts that stand for one position or two (the starter interlock, the backup lamps, a park signal) are no range output, even
where they are beside one and some module listens to them: what reads the ladder does not see them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import inf
from typing import Protocol

from rangebook.book.model import CASE, Contact, KeyPath, Part
from rangebook.electrics.bundles import bundles_of, contact_ohms, spans
from rangebook.electrics.codes import GROUNDS
from rangebook.electrics.relation import DEFAULT_TOLERANCE_PERCENT

OHM = "ohm"
"""The unit of a ladder's figures."""


@dataclass(frozen=True)
class CircuitRoles:
    """Which circuits carry a code, which another signal, and with which a mistake can hurt someone."""

    code: frozenset[str]
    signal: frozenset[str]
    safety: frozenset[str]


class _Circuit(Protocol):
    """What is asked of a circuit on the controlled list."""

    @property
    def role(self) -> str:
        """What it does."""

    @property
    def safety(self) -> bool:
        """Whether a mistake with it can hurt someone."""


def roles_of(circuits: Mapping[str, _Circuit]) -> CircuitRoles:
    """The roles of the circuits on a list, by their names."""
    by_role = {role: frozenset(name for name, one in circuits.items() if one.role == role) for role in ("code", "signal")}
    return CircuitRoles(by_role["code"], by_role["signal"], frozenset(name for name, one in circuits.items() if one.safety))


@dataclass(frozen=True)
class Output:
    """One output. ``values`` by position, ``None`` where not stated, infinite where open; ``low`` and ``high`` what may be read there.

    ``pins`` are the two ends of a contact, or the pin of a signal. ``unit`` is empty for a contact that only opens and closes. ``path`` and
    ``key`` lead to the figures in the entry.
    """

    pins: tuple[str, ...]
    unit: str
    values: Mapping[str, float | None]
    low: Mapping[str, float]
    high: Mapping[str, float]
    path: KeyPath
    key: str


@lru_cache(maxsize=256)
def outputs(part: Part, positions: tuple[str, ...], roles: CircuitRoles) -> tuple[Output, ...]:
    """The range outputs of a part, those with figures first; none where it has neither ladder, code line nor powered output.

    Empty too where a line that carries part of the code is not stated, or something is stated for a position that the lever
    lacks: that may be what tells positions apart.
    """
    pins = part.pins or {}
    known = set(positions)
    if any(not (one.closed or set()) <= known or not set(one.ohms or ()) <= known for one in part.contacts or ()):
        return ()
    if any(not set(one.values) <= known for one in part.signals):
        return ()
    grouped: dict[frozenset[str], list[Contact]] = {}
    for contact in part.contacts or ():
        # To a module one ground is as good as another.
        ends = (CASE if pins.get(end) in GROUNDS else end for end in (contact.a, contact.b))
        grouped.setdefault(frozenset(ends), []).append(contact)
    ladders, lines = [], []
    for contacts in grouped.values():
        names = [pins[end] for end in (contacts[0].a, contacts[0].b) if end in pins]
        if not roles.safety.isdisjoint(names):
            continue
        if any(contact.ohms is not None for contact in contacts):
            ladders.append(_of_ladder(part, contacts, positions))
        elif any(name in roles.code or name in roles.signal for name in names):
            lines.append(_of_contacts(contacts, positions, ""))
    powered = [_of_signal(part, index, positions) for index, one in enumerate(part.signals) if pins.get(one.pin) not in roles.safety]
    coded = [pin for pin, name in pins.items() if name in roles.code]
    listed = bundles_of(part).listed
    if not ladders and not powered and not any(pin in listed for pin in coded):
        return ()
    if any(pin not in listed for pin in coded):
        return ()
    return (*ladders, *powered, *lines)


def _of_ladder(part: Part, contacts: Sequence[Contact], positions: Sequence[str]) -> Output:
    """What is between the two ends of a ladder over the whole part, as a verdict goes by it; grounds are one end only here."""
    if len({frozenset((one.a, one.b)) for one in contacts}) > 1:
        return _of_contacts(contacts, positions, OHM)
    row = spans(part, contacts[0].a, contacts[0].b, tuple(positions))
    known = {at: span for at, span in zip(positions, row, strict=True) if span is not None}
    values = {at: known[at].nominal if at in known else None for at in positions}
    low, high = ({at: span[end] for at, span in known.items()} for end in (1, 2))
    return Output((contacts[0].a, contacts[0].b), OHM, values, low, high, *_figures(contacts))


def _of_contacts(contacts: Sequence[Contact], positions: Sequence[str], unit: str) -> Output:
    """Contacts side by side between the same two pins are one."""
    first = contacts[0]
    stated = [DEFAULT_TOLERANCE_PERCENT if one.tolerance_percent is None else one.tolerance_percent for one in contacts]
    slack = max(stated) / 100
    values = {position: _together([contact_ohms(one, position) for one in contacts]) for position in positions}
    known = {position: value for position, value in values.items() if value is not None}
    low = {position: value * (1 - slack) if value != inf else inf for position, value in known.items()}
    high = {position: value * (1 + slack) for position, value in known.items()}
    return Output((first.a, first.b), unit, values, low, high, *_figures(contacts))


def _figures(contacts: Sequence[Contact]) -> tuple[KeyPath, str]:
    """The way to the figures in the entry, and their key."""
    laddered = next((one for one in contacts if one.ohms is not None), contacts[0])
    return laddered.path, "ohms" if laddered.ohms is not None else "closed"


def _together(ohms: Sequence[float | None]) -> float | None:
    if 0 in ohms:
        return 0.0
    if None in ohms:
        return None
    siemens = sum(1 / one for one in ohms if one)
    return 1 / siemens if siemens else inf


def _of_signal(part: Part, index: int, positions: Sequence[str]) -> Output:
    signal = part.signals[index]
    values = {position: signal.values.get(position) for position in positions}
    slack = signal.tolerance or 0
    low = {position: value - slack for position, value in values.items() if value is not None}
    high = {position: value + slack for position, value in values.items() if value is not None}
    return Output((signal.pin,), signal.kind or "not_stated", values, low, high, signal.path, "values")
