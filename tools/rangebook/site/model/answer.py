"""The answer for one seat, in words: what to fit, what else to order, which wires to move, which pins stay idle, and why.

What it says is derived in :mod:`rangebook.desk.answer`; the family page and the client data show the same objects, so a phone and a
printed sheet cannot disagree.
"""

from __future__ import annotations

from dataclasses import dataclass

from rangebook.book.model import Application, Cranks, Part, Socket, Wire
from rangebook.desk.answer import Candidate, leading_reasons, seat_answer
from rangebook.desk.layers import candidate_lines
from rangebook.desk.measuring import measure_words
from rangebook.desk.worklists import settles_most
from rangebook.electrics.meaning import means_of
from rangebook.fitting.kit_contents import Needed
from rangebook.fitting.mating import READY_MADE, loops_in
from rangebook.fitting.seats import Seat
from rangebook.fitting.standing import Group
from rangebook.fitting.verdict import Verdict, VerdictKind
from rangebook.reasons.codes import Also, IdlePins
from rangebook.reasons.reason import Of, Outcome, Reason, Side, Subject
from rangebook.site.drawings.wire_colours import wire_colour
from rangebook.site.facts.computed import Computed
from rangebook.site.model.faces import face_id
from rangebook.site.model.known import known_words
from rangebook.site.shared import urls
from rangebook.words.book import (
    also_words,
    application_words,
    gone_words,
    group_words,
    provenance_words,
    status_short,
    status_words,
    tried_words,
    unsaid_words,
    verdict_short,
    verdict_words,
    withdrawn_words,
)
from rangebook.words.catalogue import Words, say
from rangebook.words.lists import listed, sentence
from rangebook.words.reasons import brief_words, reason_words


@dataclass(frozen=True, slots=True)
class Order:
    """One thing to order beside the switch: a kit, what of its bag is used, and what has to be bought on top: ``seal`` is the number of
    wire holes of the rear seal out of it, 0 where there is none, ``more`` are the blanking plugs in no bag; and what goes wrong."""

    number: str
    title: str
    url: str | None
    uses: str
    seal: int = 0
    more: int = 0
    cautions: tuple[str, ...] = ()


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
    """One thing that was looked at, and what came of it."""

    outcome: Outcome
    check: str
    text: str


@dataclass(frozen=True, slots=True)
class Shown:
    """One part on one seat. ``why`` holds at most two sentences, ``checks`` everything; ``unsaid`` is what was compared where the
    part fits though no maker says so, else empty. ``also`` are parts and pieces that are needed beside the kits to order, ``work`` is
    what else has to be done, and ``beside`` both as data; ``brief`` says in six words why it must not be fitted, empty where it may.
    ``known`` tells where the part is known from and when it was looked at,
    ``stands_on`` the weakest source of all that the verdict was computed from, and ``layers`` from which layers that is, where a book has
    several. ``renewed_to`` is the connector of the plug that a
    kit supplies, ``seal`` the number of holes of its rear seal and ``blanks`` of its blanking plugs, empty and 0 where none does.
    ``badge`` is the verdict that it looks like, with ``words`` and ``short`` in it: a part that its maker has withdrawn looks like one
    that does not fit, and ``warning`` says what to fit instead.
    """

    number: str
    key: str
    url: str
    family: str
    status: str | None
    status_words: str
    verdict: VerdictKind
    badge: VerdictKind
    words: str
    short: str
    warning: str
    group: Group
    orders: tuple[Order, ...]
    also: tuple[str, ...]
    work: tuple[str, ...]
    brief: str
    beside: tuple[Also, ...]
    moves: tuple[Move, ...]
    moves_why: str
    loops: tuple[tuple[str, ...], ...]
    """The cavities that each jumper joins in the plug that goes onto the part."""
    renewed_to: str
    seal: int
    blanks: int
    idle: tuple[str, ...]
    idle_words: str
    why: tuple[str, ...]
    checks: tuple[Check, ...]
    note: str | None
    unsaid: str
    known: str
    stands_on: str
    layers: tuple[str, ...]
    tried: tuple[str, ...]
    """What was tried of it in the bay on these vehicles."""


@dataclass(frozen=True, slots=True)
class SeatShown:
    """One seat with its candidates, what to fit first. Where its plug has been ``renewed`` with kits since the vehicle was built,
    ``wired`` are its wires: cavity, colour's code and circuit in words. ``built`` is the key of the seat as it was. ``known``
    tells where its family, and so its plug, is known from; ``measure_first`` what would settle most of what is not known, empty
    where nothing is.
    """

    id: str
    anchor: str
    family: str
    family_title: str
    url: str
    plug: str
    plug_called: str
    plug_title: str
    connector: str
    built: str
    renewed: tuple[str, ...]
    wires: int
    wired: tuple[tuple[str, str, str], ...]
    came_with: str
    came_with_status: str
    positions: tuple[str, ...]
    vehicles: tuple[str, ...]
    optional: tuple[str, ...]
    known: str
    measure_first: str
    candidates: tuple[Shown, ...]
    loops: tuple[tuple[str, ...], ...] = ()
    """The cavities that each jumper in the plug joins."""
    cranks: str = ""
    cranks_in: str = ""
    """Where the engine cranks where that is said, and the positions in which the road check looks for it."""
    lamps_in: str = ""
    """The positions in which the backup lamps light."""

    def group(self, group: Group) -> list[Shown]:
        """The candidates under one heading."""
        return [one for one in self.candidates if one.group is group]


def shown_seat(computed: Computed, seat: Seat) -> SeatShown:
    """The answer for a seat, put into words once."""
    return computed.once(("seat", seat.key), lambda: _shown_seat(computed, seat))


def _shown_seat(computed: Computed, seat: Seat) -> SeatShown:
    answer = seat_answer(computed.fitter, seat, computed.candidates(seat))
    return SeatShown(
        id=urls.seat_id(seat),
        anchor=urls.seat_anchor(seat),
        family=seat.family.id,
        family_title=seat.family.title,
        url=urls.seat_url(seat),
        plug=seat.plug.name,
        plug_called=computed.seat_called(seat),
        plug_title=computed.plug_title(seat.plug),
        connector=face_id(seat.plug.sockets, computed.book.connectors) or "",
        built=urls.built_key(seat) if seat.renewal else "",
        renewed=tuple(kit.number for kit in seat.renewal),
        wires=len(seat.plug.wires),
        wired=tuple((one.cavity, one.colour or "", wire_words(computed, one)) for one in seat.plug.wires.values()),
        came_with=seat.original.number,
        came_with_status=gone_words(seat.original.status),
        positions=seat.positions,
        vehicles=tuple(vehicle_words(one) for one in seat.applications),
        optional=seat.optional,
        known=known_words(seat.family.sources),
        measure_first=measure_words(most) if (most := settles_most((seat, one.verdict) for one in answer.candidates)) else "",
        candidates=tuple(shown_candidate(computed, seat, one, answer.best) for one in answer.candidates),
        loops=seat.plug.loops,
        cranks=sentence(cranks_words(seat.cranks) or ""),
        cranks_in=listed(seat.cranks_in),
        lamps_in=listed(seat.reverse),
    )


def cranks_words(cranks: Cranks | None) -> Words | None:
    """Where and by what an engine cranks, where that is said."""
    return None if cranks is None else say("family_page.cranks", by=cranks.by, positions=cranks.positions or (), side=cranks.side)


def shown_candidate(computed: Computed, seat: Seat, found: Candidate, best: Part | None) -> Shown:
    """One candidate in words. ``best`` is what to fit instead of one that is withdrawn."""
    verdict = found.verdict
    withdrawn = found.group is Group.WITHDRAWN
    part = verdict.part
    moves, moves_why = ((), "") if withdrawn else _moves(computed, seat, verdict)
    idle = verdict.unused_pins if verdict.goes_on and not withdrawn else ()
    layers = tuple(candidate_lines(computed.book, seat, part))
    return Shown(
        number=part.number,
        key=part.key,
        url=urls.part_url(part),
        family=computed.family_title(part) if part.family != seat.family.id else "",
        status=part.status,
        status_words=status_words(part.status),
        verdict=verdict.kind,
        badge=VerdictKind.NO if withdrawn else verdict.kind,
        words=group_words(Group.WITHDRAWN) if withdrawn else verdict_words(verdict.kind),
        short=status_short("withdrawn") if withdrawn else verdict_short(verdict.kind),
        warning=sentence(withdrawn_words(best)) if withdrawn else "",
        group=found.group,
        orders=() if withdrawn else tuple(order(computed, seat, one) for one in verdict.needs),
        also=() if withdrawn else tuple(sentence(also_words(one)) for one in verdict.also if one.kind != "work"),
        work=() if withdrawn else tuple(sentence(also_words(one)) for one in verdict.also if one.kind == "work"),
        brief=_brief(found),
        beside=() if withdrawn else verdict.also,
        moves=moves,
        moves_why=moves_why,
        renewed_to=renewed_to(computed, verdict) if verdict.goes_on and not withdrawn else "",
        seal=(verdict.needs[-1].seal or 0) if verdict.needs and not withdrawn else 0,
        loops=tuple(loop for leg in verdict.way.legs for loop in loops_in(seat.plug, leg)) if verdict.way and verdict.goes_on else (),
        blanks=(verdict.needs[-1].blanks or 0) if verdict.needs and not withdrawn else 0,
        idle=idle,
        idle_words=sentence(reason_words(Reason(IdlePins(idle), Subject(Side.CANDIDATE, Of.PIN, idle)))) if idle else "",
        why=() if withdrawn else tuple(sentence(reason_words(reason)) for reason in leading_reasons(verdict)),
        checks=tuple(Check(one.outcome, one.check, reason_words(one)) for one in verdict.checked),
        note=part.note,
        unsaid=sentence(unsaid_words(found.unsaid)) if found.unsaid else "",
        known=known_words(part.sources),
        stands_on="; ".join([provenance_words(found.known_from), *layers]),
        layers=layers,
        tried=tuple(tried_words(record, accord) for record, accord in found.tried),
    )


def _brief(found: Candidate) -> str:
    if found.group is Group.WITHDRAWN:
        return say("answer.brief_withdrawn")
    against = next((one for one in leading_reasons(found.verdict) if one.outcome is Outcome.AGAINST), None)
    return sentence(brief_words(against)) if against and found.verdict.kind is VerdictKind.NO else ""


def renewed_to(computed: Computed, verdict: Verdict) -> str:
    """The face of the plugs as they are when the kits of a verdict are in; empty where the vehicle's own stay as they are."""
    if verdict.way is None or not verdict.way.kits:
        return ""
    return face_id(tuple(Socket(leg.plug.name, leg.last) for leg in verdict.way.legs), computed.book.connectors) or ""


def order(computed: Computed, seat: Seat, needed: Needed) -> Order:
    """What one kit of a verdict comes to on the counter."""
    kit = computed.book.kits.get(needed.kit or "")
    if kit is None:
        return Order(needed.kit or "", "", None, "")
    uses: list[Words] = []
    if needed.seal:
        uses.append(say("order.seal", seal=needed.seal, optional=seat.optional))
    elif kit.seals is None and kit.joins not in READY_MADE:
        uses.append(say("order.seals_not_stated"))
    if needed.blanks:
        uses.append(say("order.blanks", blanks=needed.blanks))
        if needed.to_order is None:
            uses.append(say("order.blanks_not_stated"))
        elif needed.to_order:
            uses.append(say("order.blanks_short", held=kit.blanks, more=needed.to_order))
    words = sentence(listed(uses, "semicolon"))
    return Order(kit.number, kit.title, urls.kit_url(kit.id), words, needed.seal or 0, needed.to_order or 0, kit.cautions)


def vehicle_words(application: Application) -> str:
    """One vehicle in one line, its note included."""
    return say("answer.vehicle", vehicle=application_words(application), note=application.note)


def wire_words(computed: Computed, wire: Wire | None) -> str:
    """What a wire is for; where several share its terminal, what each of them is for, those beside it with their colour."""
    others = (
        say(
            "order.beside",
            colour=wire_colour(one.colour).name if one.colour else say("order.no_colour"),
            circuit=computed.circuit(one.circuit),
            note=one.note,
        )
        for one in (wire.others if wire else ())
    )
    return listed([computed.circuit(wire.circuit if wire else None), *others], "semicolon")


def says_of(seat: Seat) -> list[str]:
    """What is to be known of a seat's plug and lever beside its wires: the jumpers in the plug, and what positions mean."""
    jumpers = (say("family_page.loop", cavities=one) for one in seat.plug.loops)
    means = (say("family_page.means", position=name, meaning=meaning) for name, meaning in means_of(seat.family) if name in seat.positions)
    return [*jumpers, *map(sentence, means)]


def _moves(computed: Computed, seat: Seat, verdict: Verdict) -> tuple[tuple[Move, ...], str]:
    """The wires to handle, and in one sentence which of them change their place. A wire that keeps it is listed too if a kit
    renews the plug, for it is cut off with the rest."""
    found = []
    for old, new in verdict.moves.items():
        wire = seat.plug.wires.get(old)
        colour = wire_colour(wire.colour).name if wire and wire.colour else say("order.no_colour")
        fanned = verdict.way.every_cavity(old) if verdict.way and verdict.way.plug_cavity(old) == new else (new,)
        found.append(Move(old, listed(fanned, "comma"), colour, wire.colour if wire else None, wire_words(computed, wire)))
    if not found:
        return (), ""
    apart = tuple(say("order.move", old=move.old, new=move.new) for move in found if move.old != move.new)
    same = tuple(move.old for move in found if move.old == move.new)
    ways = verdict.equal_answers if verdict.equal_answers > 1 else 0
    return tuple(found), say("order.moves", apart=apart, same=same, ways=ways)
