"""The answer for one seat, in words: what to fit, what else to order, which wires to move, which pins stay idle, and why.

The family page and the client data show the same objects, so a phone and a printed sheet cannot disagree.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from rangebook.book.model import Application
from rangebook.desk.fit_words import application_words, footing_words
from rangebook.fitting.interchange import evidence, said
from rangebook.fitting.parcel import Needed
from rangebook.fitting.seats import Seat
from rangebook.fitting.standing import weakest
from rangebook.fitting.verdict import Reason, Says, Verdict, Word
from rangebook.site import urls
from rangebook.site.computed import Computed
from rangebook.site.drawings.wire_colours import wire_colour
from rangebook.site.model.known import known_words
from rangebook.site.words import STATUS, VERDICTS, counted, listed, sentence


class Group(StrEnum):
    """Under which heading a candidate stands, in the order of the page."""

    FIT = "fit"
    SHELF = "shelf"
    UNKNOWN = "unknown"
    WITHDRAWN = "withdrawn"
    NO = "no"


GROUPS = {
    Group.FIT: "Fit this",
    Group.SHELF: "Would fit too, but is no longer sold under this number",
    Group.UNKNOWN: "Not known: measure first",
    Group.WITHDRAWN: "Withdrawn: do not fit",
    Group.NO: "Looks alike and does not fit",
}
"""Heading of each group."""

_GOES_ON = frozenset({Word.STRAIGHT, Word.WITH_PARTS, Word.REWIRE})
_ORDER = {group: place for place, group in enumerate(Group)}
MARKS = {Says.FOR: "speaks for it", Says.AGAINST: "speaks against it", Says.MISSING: "is missing"}
"""What one check came to, in words."""


@dataclass(frozen=True, slots=True)
class Order:
    """One thing to order beside the switch: a kit, what of its bag is used, and what has to be bought on top."""

    number: str
    title: str
    url: str | None
    uses: str


@dataclass(frozen=True, slots=True)
class Move:
    """One wire: from cavity ``old`` of the vehicle's plug to ``new``, with its colour and circuit in words."""

    old: str
    new: str
    colour: str
    code: str | None
    circuit: str


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that was looked at: ``says`` is ``for``, ``against`` or ``missing``."""

    says: str
    check: str
    text: str


@dataclass(frozen=True, slots=True)
class Candidate:
    """One part on one seat. ``why`` holds at most two sentences, ``checks`` everything; ``unsaid`` is what was compared where
    the part fits though no maker says so, else empty. ``known`` tells where the part is known from and when it was looked at,
    ``stands_on`` the weakest source of all that the verdict was computed from."""

    number: str
    key: str
    url: str
    family: str
    status: str | None
    status_words: str
    verdict: Word
    words: str
    short: str
    group: Group
    orders: tuple[Order, ...]
    moves: tuple[Move, ...]
    moves_why: str
    idle: tuple[str, ...]
    why: tuple[str, ...]
    checks: tuple[Check, ...]
    note: str | None
    unsaid: str
    known: str
    stands_on: str


@dataclass(frozen=True, slots=True)
class SeatAnswer:
    """One seat with its candidates, what to fit first. ``known`` tells where its family, and so its plug, is known from."""

    id: str
    anchor: str
    family: str
    family_title: str
    url: str
    plug: str
    plug_title: str
    connector: str
    wires: int
    came_with: str
    positions: tuple[str, ...]
    vehicles: tuple[str, ...]
    optional: tuple[str, ...]
    known: str
    candidates: tuple[Candidate, ...]

    def group(self, group: Group) -> list[Candidate]:
        """The candidates under one heading."""
        return [one for one in self.candidates if one.group is group]


def group_of(verdict: Verdict) -> Group:
    """Where a verdict stands: what fits and is sold before what fits and is not, whatever the verdict among them."""
    if verdict.word is Word.UNKNOWN:
        return Group.UNKNOWN
    if verdict.word not in _GOES_ON:
        return Group.NO
    if verdict.part.status == "withdrawn":
        return Group.WITHDRAWN
    return Group.FIT if verdict.part.status in ("current", None) else Group.SHELF


def seat_answer(computed: Computed, seat: Seat) -> SeatAnswer:
    """The answer for a seat."""
    verdicts = sorted(computed.candidates(seat), key=lambda one: _ORDER[group_of(one)])
    connector = computed.book.connectors.get(seat.plug.connector)
    return SeatAnswer(
        id=urls.seat_id(seat),
        anchor=urls.seat_anchor(seat),
        family=seat.family.id,
        family_title=seat.family.title,
        url=urls.seat_url(seat),
        plug=seat.plug.name,
        plug_title=connector.title if connector else seat.plug.connector,
        connector=seat.plug.connector,
        wires=len(seat.plug.wires),
        came_with=seat.original.number,
        positions=seat.positions,
        vehicles=tuple(vehicle_words(one) for one in seat.applications),
        optional=seat.optional,
        known=known_words(seat.family.sources),
        candidates=tuple(candidate(computed, seat, one) for one in verdicts),
    )


def candidate(computed: Computed, seat: Seat, verdict: Verdict) -> Candidate:
    """One verdict in words."""
    part, (words, short, _) = verdict.part, VERDICTS[verdict.word]
    moves, moves_why = _moves(computed, seat, verdict)
    return Candidate(
        number=part.number,
        key=part.key,
        url=urls.part_url(part),
        family=computed.family_title(part) if part.family != seat.family.id else "",
        status=part.status,
        status_words=STATUS.get(part.status, part.status or ""),
        verdict=verdict.word,
        words=words,
        short=short,
        group=group_of(verdict),
        orders=tuple(order(computed, seat, one) for one in verdict.needs),
        moves=moves,
        moves_why=moves_why,
        idle=verdict.unused_pins if verdict.word in _GOES_ON else (),
        why=_why(verdict),
        checks=tuple(Check(str(one.says), one.check, one.text) for one in verdict.checked),
        note=part.note,
        unsaid=_unsaid(computed, seat, verdict),
        known=known_words(part.sources),
        stands_on=footing_words(weakest(computed.book, seat, verdict)),
    )


def order(computed: Computed, seat: Seat, needed: Needed) -> Order:
    """What one kit of a verdict comes to on the counter."""
    kit = computed.book.kits.get(needed.kit or "")
    if kit is None:
        return Order(needed.kit or "", "", None, "")
    uses = []
    if needed.seal:
        uses.append(f"use its rear seal for {counted(needed.seal, 'wire')}")
        if seat.optional:
            uses[-1] += f" (where {listed(seat.optional)} carries no wire, the one for fewer)"
    elif kit.seals is None:
        uses.append("which rear seals are in the bag is not stated")
    if needed.blanks:
        uses.append(f"{counted(needed.blanks, 'blanking plug')} for the holes that stay empty")
        if kit.blanks is None:
            uses.append("how many blanking plugs are in the bag is not stated")
        elif needed.blanks > kit.blanks:
            uses.append(f"the bag holds {kit.blanks}: order {needed.blanks - kit.blanks} more")
    return Order(kit.number, kit.title, urls.kit_url(kit.id), sentence("; ".join(uses)))


def vehicle_words(application: Application) -> str:
    """One vehicle in one line, its note included."""
    note = f" ({application.note})" if application.note else ""
    return f"{application_words(application)}{note}"


def _moves(computed: Computed, seat: Seat, verdict: Verdict) -> tuple[tuple[Move, ...], str]:
    """The wires to handle, and in one sentence which of them change their place. A wire that keeps it is listed too if a kit
    renews the plug, for it is cut off with the rest."""
    found = []
    for old, new in verdict.moves.items():
        wire = seat.plug.wires.get(old)
        colour = wire_colour(wire.colour).name if wire and wire.colour else "colour not stated"
        found.append(Move(old, new, colour, wire.colour if wire else None, computed.circuit(wire.circuit if wire else None)))
    if not found:
        return (), ""
    apart = [f"{move.old} to {move.new}" for move in found if move.old != move.new]
    same = [move.old for move in found if move.old == move.new]
    if not apart:
        return tuple(found), "Every wire keeps its number"
    more = f". There are {verdict.equal_answers} ways that are as good; this is one" if verdict.equal_answers > 1 else ""
    text = listed(apart)
    return tuple(found), f"{text}; {listed(same)} {'keeps its' if len(same) == 1 else 'keep their'} number{more}" if same else text + more


def _why(verdict: Verdict) -> tuple[str, ...]:
    """The two sentences that say most: what is against it, what to measure first, or behaviour and mount where it fits."""
    reasons = verdict.reasons
    if verdict.word in _GOES_ON:
        first: dict[str, Reason] = {}
        for reason in reasons:
            first.setdefault(reason.check, reason)
        chosen = [first[check] for check in ("behaviour", "mount", "mating") if check in first]
    elif verdict.measure_first is not None:
        chosen = [verdict.measure_first, *(reason for reason in reasons if reason is not verdict.measure_first)]
    else:
        chosen = list(reasons)
    return tuple(sentence(reason.text) for reason in chosen[:2])


def _unsaid(computed: Computed, seat: Seat, verdict: Verdict) -> str:
    """How much was compared where a part fits a seat as it is and no maker says that one takes the other's place."""
    part, original = verdict.part, seat.original
    if verdict.word is not Word.STRAIGHT or part.key == original.key:
        return ""
    if said(computed.fitter, original, part) or said(computed.fitter, part, original):
        return ""
    seen = evidence(seat)
    agreed = [counted(seen.wires, "wire"), counted(seen.positions, "position"), counted(seen.closed, "closed path")]
    if seen.resistances:
        agreed.append(counted(seen.resistances, "resistance"))
    return f"No maker says so; it was found by computing: {listed(agreed)} agree"
