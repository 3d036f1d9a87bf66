"""Proof sheets in words: between which two terminals, what to read, and what is said of each fault."""

from __future__ import annotations

from dataclasses import dataclass

from rangebook.book.model import CASE, Part
from rangebook.desk.proof_sheets import Sheet, sheets
from rangebook.electrics.diagnosis import CLOSED_BELOW_OHMS, OPEN_ABOVE_OHMS, Explanation, Row
from rangebook.electrics.relation import PathKind, Relation
from rangebook.fitting.seats import Seat
from rangebook.site.facts.computed import Computed
from rangebook.site.shared.measures import ohms
from rangebook.words.lists import listed

METER = (
    f"Nothing else connected. Closed reads under {CLOSED_BELOW_OHMS:g} ohm, open over {OPEN_ABOVE_OHMS / 1e6:g} megohm or OL "
    "(common practice). Hold the probes together first, and take off what the meter shows."
)

FAULTS = {
    "stuck_open": ("The contact {0} – {1} does not close", "Do not fit this switch."),
    "stuck_closed": ("The contact {0} – {1} does not open", "Do not fit this switch."),
    "detent+": (
        "One detent off: it reads as the next position of the lever",
        "See that the lever is where you think it is, set the switch anew, and prove it again. Do not start the engine before.",
    ),
    "detent-": (
        "One detent off: it reads as the position before",
        "See that the lever is where you think it is, set the switch anew, and prove it again. Do not start the engine before.",
    ),
    "swapped": (
        "{0} and {1} have changed places",
        "See that you count the pins from the side that the drawing shows. Through the wires: the wires may be swapped in the plug.",
    ),
}
"""Kind of fault -> what is wrong (with its two ends put in) and what to do."""


@dataclass(frozen=True, slots=True)
class ProbeLine:
    """One probe pair: its ends as they are labelled, what they are for, and what to read in each position, in words."""

    a: str
    b: str
    names: str
    says: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ProofWords:
    """One sheet in words. ``sure`` is false where something of the part stays unproved even if every reading is right."""

    where: str
    short: str
    seats: tuple[Seat, ...]
    positions: tuple[str, ...]
    lines: tuple[ProbeLine, ...]
    notes: tuple[str, ...]
    sure: bool
    sheet: Sheet


def proof_words(computed: Computed, part: Part) -> list[ProofWords]:
    """The proof sheets of a part, computed once: on the bench first, then through the wires of its plugs."""
    key = ("proof", part.family, part.path)
    found = computed.drawn.get(key)
    if found is None:
        found = computed.drawn[key] = [_words(computed, part, one) for one in sheets(computed.fitter, part)]
    return found


def fault_kind(one: Explanation) -> str:
    """The key of an explanation in :data:`FAULTS`; ``good`` for the good part."""
    return f"detent{'+' if one.about[0] == '1' else '-'}" if one.kind == "detent" else one.kind


def end(terminal: str) -> str:
    """A terminal as a mechanic calls it."""
    return "housing" if terminal == CASE else terminal


def relation_words(found: Relation | None) -> str:
    """What a meter should show; resistances with the least and the most that will do."""
    if found is None or found.path is PathKind.UNKNOWN:
        return "not stated"
    if found.path is not PathKind.OHMS:
        return "closed" if found.path is PathKind.JOINED else "open"
    assert found.ohms is not None and found.tolerance_percent is not None
    slack = found.ohms * found.tolerance_percent / 100
    return f"{ohms(_four_digits(found.ohms))} Ω ({ohms(_four_digits(found.ohms - slack))} to {ohms(_four_digits(found.ohms + slack))})"


def _four_digits(value: float) -> float:
    return float(f"{value:.4g}")


def _words(computed: Computed, part: Part, sheet: Sheet) -> ProofWords:
    proof = sheet.proof
    wires = sheet.seats[0].plug.wires if sheet.seats else {}

    def name(terminal: str) -> str:
        if terminal == CASE:
            return "housing"
        wire = wires.get(terminal)
        return computed.circuit((wire.circuit if wire else None) or (part.pins or {}).get(terminal))

    lines = tuple(
        ProbeLine(one.a, one.b, f"{name(one.a)} – {name(one.b)}", tuple(relation_words(_known(read)) for read in one.expected))
        for one in proof.probes
    )
    notes = [f"The contact {end(a)} – {end(b)} cannot be proved from here in {listed(at)}." for (a, b), at in proof.unproved]
    notes += [f"What the contact {end(a)} – {end(b)} does is not stated in every position: it stays unproved." for a, b in proof.unstated]
    if part.contacts is None and not part.signals:
        notes.append("What closes in which position is not in the book, so there is nothing to prove it by.")
    if part.signals:
        notes.append("Its powered outputs cannot be proved with an ohmmeter: see what to measure under power.")
    return ProofWords(_where(sheet), _short_where(sheet), sheet.seats, proof.positions, lines, tuple(notes), not notes, sheet)


def _known(found: Relation) -> Relation | None:
    return None if found.path is PathKind.UNKNOWN else found


def _short_where(sheet: Sheet) -> str:
    if not sheet.seats:
        return "On the bench"
    first = sheet.seats[0]
    plugs = listed(dict.fromkeys(seat.plug.name for seat in sheet.seats))
    return f"At plug {plugs}{'' if first.positions == first.family.positions else ', lever ' + ' '.join(first.positions)}"


def _where(sheet: Sheet) -> str:
    if not sheet.seats:
        return "On the bench, at its pins"
    names = listed(dict.fromkeys(f"{seat.plug.name} ({seat.family.title})" for seat in sheet.seats))
    return f"Through the wires of the plug {names}, the far ends unplugged"


def row_tokens(row: Row) -> list[int | list[float | None] | None]:
    """A row for the browser: 1 closed, 0 open, ``None`` not known, ``[ohms, tolerance in percent]``."""
    return [_token(one) for one in row]


def _token(one: Relation | None) -> int | list[float | None] | None:
    if one is None:
        return None
    return [one.ohms, one.tolerance_percent] if one.path is PathKind.OHMS else int(one.path is PathKind.JOINED)
