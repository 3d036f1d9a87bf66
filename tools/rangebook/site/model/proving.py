"""Proof sheets in words: between which two terminals, what to read, and what is said of each fault."""

from __future__ import annotations

from dataclasses import dataclass

from rangebook.book.model import CASE, Part
from rangebook.desk.proof_sheets import Sheet, sheets
from rangebook.electrics.cells import CLOSED_BELOW_OHMS, OPEN_ABOVE_OHMS
from rangebook.electrics.faults import KINDS
from rangebook.electrics.insulation import OTHERS
from rangebook.electrics.relation import PathKind, Relation
from rangebook.fitting.seats import Seat
from rangebook.site.facts.computed import Computed
from rangebook.words.catalogue import Words, say
from rangebook.words.measures import ohms

FAULT_KINDS = tuple(kind for one in KINDS for kind in (("detent+", "detent-") if one == "detent" else (one,)))


def meter_words() -> Words:
    """How the meter is held, and what counts as closed and as open."""
    return say("proof.meter", closed_ohms=CLOSED_BELOW_OHMS, open_megohms=OPEN_ABOVE_OHMS / 1e6)


def faults() -> dict[str, tuple[Words, Words]]:
    """Kind of fault -> what is wrong, with ``{0}``, ``{1}`` and ``{2}`` for its two ends and its position, and what to do."""
    return {kind: (say("proof.fault", kind=kind, a="{0}", b="{1}", position="{2}"), say("proof.to_do", kind=kind)) for kind in FAULT_KINDS}


@dataclass(frozen=True, slots=True)
class ProbeLine:
    """One probe pair: its ends as they are labelled, what they are for, and what to read in each position, in words."""

    a: str
    b: str
    names: str
    says: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ProofWords:
    """One sheet in words. ``sure`` is false where something of the part stays unproved even if every reading is right.

    ``insulation`` says how the insulation is measured, each with the place of its line."""

    where: str
    short: str
    seats: tuple[Seat, ...]
    positions: tuple[str, ...]
    lines: tuple[ProbeLine, ...]
    insulation: tuple[tuple[int, str], ...]
    notes: tuple[str, ...]
    sure: bool
    sheet: Sheet


def proof_words(computed: Computed, part: Part) -> list[ProofWords]:
    """The proof sheets of a part, computed once: on the bench first, then through the wires of its plugs."""
    return computed.once(("proof", part.family, part.path), lambda: [_words(computed, part, one) for one in sheets(computed.fitter, part)])


def end(terminal: str) -> str:
    """A terminal as a mechanic calls it."""
    return say("proof.housing") if terminal == CASE else say("proof.others") if terminal == OTHERS else terminal


def relation_words(found: Relation | None, a: str = "", b: str = "") -> str:
    """What a meter should show between two terminals; resistances with the least and the most that will do."""
    if found is None or found.path is PathKind.UNKNOWN:
        return say("page.not_stated")
    if found.path in (PathKind.ONE_WAY, PathKind.ONE_WAY_BACK):
        ends = (a, b) if found.path is PathKind.ONE_WAY else (b, a)
        return say("proof.one_way", a=end(ends[0]), b=end(ends[1]))
    if found.path is not PathKind.OHMS:
        return say("family_page.closed") if found.path is PathKind.JOINED else say("family_page.open")
    assert found.ohms is not None and found.tolerance_percent is not None
    slack = found.ohms * found.tolerance_percent / 100
    nominal, least, most = (ohms(_four_digits(value)) for value in (found.ohms, found.ohms - slack, found.ohms + slack))
    return say("proof.ohms", nominal=nominal, least=least, most=most)


def _four_digits(value: float) -> float:
    return float(f"{value:.4g}")


def _words(computed: Computed, part: Part, sheet: Sheet) -> ProofWords:
    proof = sheet.proof
    wires = sheet.seats[0].plug.wires if sheet.seats else {}

    def name(terminal: str) -> str:
        if terminal == CASE:
            return say("proof.housing")
        wire = wires.get(terminal)
        return computed.circuit((wire.circuit if wire else None) or (part.pins or {}).get(terminal))

    def names(a: str, b: str) -> str:
        return say("proof.insulation_names", name=name(a)) if b == OTHERS else f"{name(a)} – {name(b)}"

    lines = tuple(
        ProbeLine(one.a, one.b, names(one.a, one.b), tuple(relation_words(_known(read), one.a, one.b) for read in one.expected))
        for one in proof.lines
    )
    insulation = tuple(
        (at, say("proof.insulation", terminal=one.terminal, tied=tuple(map(end, one.tied))))
        for at, one in enumerate(proof.insulation, len(proof.probes))
    )
    unproved: dict[tuple[str, ...], list[str]] = {}
    for (a, b), where in proof.unproved:
        unproved.setdefault(tuple(where), []).append(say("proof.pair", a=end(a), b=end(b)))
    notes = [
        say("proof.unproved_anywhere", contacts=contacts)
        if where == proof.positions
        else say("proof.unproved", contacts=contacts, positions=where)
        for where, contacts in unproved.items()
    ]
    notes += [say("proof.unstated", a=end(a), b=end(b)) for a, b in proof.unstated]
    notes += [
        say("proof.left_out", terminal=one.terminal, left_out=tuple(map(end, one.left_out))) for one in proof.insulation if one.left_out
    ]
    if any(read.path in (PathKind.ONE_WAY, PathKind.ONE_WAY_BACK) for one in proof.lines for read in one.expected):
        notes.append(say("proof.diode"))
    lever = dict.fromkeys(proof.positions)
    for one in part.contacts or ():
        into = tuple(at for at in one.overlaps if at in lever)
        if into:
            notes.append(say("proof.overlaps", a=end(one.a), b=end(one.b), positions=into))
    notes += [say("proof.deferred", terminal=one) for one in proof.deferred]
    if part.contacts is None and not part.signals:
        notes.append(say("proof.no_contacts"))
    if part.signals:
        notes.append(say("proof.powered"))
    return ProofWords(
        _where(computed, sheet),
        _short_where(computed, sheet),
        sheet.seats,
        proof.positions,
        lines,
        insulation,
        tuple(notes),
        not notes,
        sheet,
    )


def _known(found: Relation) -> Relation | None:
    return None if found.path is PathKind.UNKNOWN else found


def _short_where(computed: Computed, sheet: Sheet) -> str:
    if not sheet.seats:
        return say("proof.bench_short")
    first = sheet.seats[0]
    plugs = tuple(dict.fromkeys(map(computed.seat_called, sheet.seats)))
    lever = () if first.positions == first.family.positions else first.positions
    renewed = tuple(kit.number for kit in first.renewal)
    return say("proof.plug_short", plugs=plugs, lever=lever, renewed=renewed, moved=bool(sheet.moved))


def _where(computed: Computed, sheet: Sheet) -> str:
    if not sheet.seats:
        return say("proof.bench")
    called = ((computed.seat_called(seat), seat.family.title) for seat in sheet.seats)
    return say("proof.plug", plugs=tuple(dict.fromkeys(say("proof.plug_of", plug=plug, family=family) for plug, family in called)))
