"""What the book does not know yet, as lists to work through: each line is something that somebody with a part, a vehicle or a
manual at hand can settle."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from rangebook.book.book import Book
from rangebook.book.model import Connector, Family, Kit, Part, Plug, Source
from rangebook.fitting.provenance import source_of
from rangebook.fitting.seats import Seat
from rangebook.fitting.supersession import chain_ends
from rangebook.fitting.tried import Accord, Trial, accord, trials
from rangebook.fitting.verdict import Verdict, VerdictKind
from rangebook.reasons.codes import (
    CompanionDepends,
    CompanionNotInBook,
    ConnectorNotInBook,
    Contradiction,
    Depends,
    EntryNotRead,
    FactsContradict,
)
from rangebook.reasons.reason import Of, Outcome, Reason, Side

YEARS = 5
"""A check older than this is on the list. This book's own choice; the linter hints at twice as many."""


class Work(StrEnum):
    """What is to be found out, in the order of the checks."""

    MOUNT = "mount"
    CONNECTOR = "connector"
    CONTACTS = "contacts"
    HOUSING = "housing"
    BAG = "bag"
    WIRES = "wires"
    LEVER = "lever"
    CONTRADICTION = "contradiction"
    CONDITION = "condition"
    RATING = "rating"
    ABSENT_CONNECTOR = "absent_connector"
    ABSENT_PART = "absent_part"
    ABSENT_FILE = "absent_file"


@dataclass(frozen=True, slots=True)
class Absent:
    """What no part has: a connector or a part that the book lacks, by its id or number, an entry that cannot be read, by its file, a plug
    or a kit whose facts contradict each other."""

    name: str


@dataclass(frozen=True, slots=True)
class Short:
    """A connector or kit of which something is not stated, by its id."""

    name: str


@dataclass(frozen=True, slots=True)
class Gap:
    """A part of which something is not stated: ``lacks`` are ``pins`` and ``contacts``."""

    part: Part
    lacks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Unsourced:
    """Something that no source stands for: a part, connector or kit; ``facts`` only where others of the part's facts have one."""

    owner: Part | Connector | Kit
    facts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Stale:
    """Something last looked at on ``on``, ``None`` where no source of it says a day."""

    owner: Family | Part | Connector | Kit
    on: str | None


@dataclass(frozen=True, slots=True)
class Unlooked:
    """A plug that nobody looked into for jumpers, by the first of its seats; ``pins`` are those of what came on it that no wire meets."""

    seat: Seat
    pins: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OpenChain:
    """A part whose maker's chain leads nowhere that can be bought: ``why`` is ``loops``, ``not_in_book`` or the status of its end."""

    part: Part
    end: str
    why: str


class Unsettled(StrEnum):
    """What a record of the bay leaves to be settled: it contradicts the answer; the answer is not known, and who made the record can
    measure what is missing; its vehicle is not in the book, or not named; nobody says which part it was."""

    AGAINST = "against"
    OPEN = "open"
    ABSENT_VEHICLE = "absent_vehicle"
    NO_VEHICLE = "no_vehicle"
    NO_PART = "no_part"


@dataclass(frozen=True, slots=True)
class Record:
    """A record of the bay with what it leaves to be settled."""

    trial: Trial
    why: Unsettled


@dataclass(frozen=True, slots=True)
class Measurement:
    """Something to find out (``what``) about ``owner``, and the answers that are not known until then. A mount that several parts have is
    measured once for all: ``owner`` is then the first of them that was met.

    ``settles`` are those for which nothing else is missing, ``waits`` all those that need it; each is a seat and its verdict. ``how`` is
    the reason of the first of ``waits`` that says what to do; its code says how it is found out.
    """

    owner: Part | Plug | Short | Absent
    what: Work
    how: Reason
    settles: tuple[tuple[Seat, Verdict], ...]
    waits: tuple[tuple[Seat, Verdict], ...]

    @property
    def name(self) -> str:
        """The part's number, the plug's name, the id of a connector or kit, or the file."""
        return self.owner.number if isinstance(self.owner, Part) else self.owner.name

    @property
    def key(self) -> tuple[tuple[str, ...], str]:
        """What is looked at, and how: measurements of other answers with the same key are one and the same thing to find out."""
        return _key(self.owner, self.how)

    def is_same(self, other: Measurement) -> bool:
        """Whether both are one and the same thing to find out, for other answers."""
        return self.key == other.key


def without_pinout(book: Book) -> list[Gap]:
    """Parts whose pins or contacts are not stated."""
    found = []
    for part in book.parts:
        inside = part.contacts is not None or part.signals
        lacks = tuple(name for name, there in (("pins", part.pins is not None), ("contacts", inside)) if not there)
        if lacks:
            found.append(Gap(part, lacks))
    return found


def without_source(book: Book) -> list[Unsourced]:
    """Parts, connectors and kits that no source stands for, and parts of whose facts some have none."""
    found: list[Unsourced] = []
    for part in book.parts:
        bare = tuple(name for name in part.facts if source_of(book, part, name) is None)
        if bare and len(bare) < len(part.facts):
            found.append(Unsourced(part, bare))
        elif bare or not (part.facts or part.sources):
            found.append(Unsourced(part))
    found += [Unsourced(one) for one in book.items if not isinstance(one, Family) and not one.sources]
    return found


def checked_long_ago(book: Book, day: str | None, years: int = YEARS) -> list[Stale]:
    """What was last looked at more than ``years`` before ``day`` (year-month-day), the oldest first, and what has sources without
    any day. Without a day only the latter."""
    oldest = f"{int(day[:4]) - years:04}{day[4:]}" if day else ""
    owners: tuple[Family | Part | Connector | Kit, ...] = (*book.items, *book.parts)
    found = [Stale(one, _newest(one.sources)) for one in owners if one.sources]
    return sorted((one for one in found if one.on is None or one.on < oldest), key=lambda one: one.on or "")


def _newest(sources: Iterable[Source]) -> str | None:
    return max((one.on for one in sources if one.on), default=None)


def without_jumpers(seats: Iterable[Seat]) -> list[Unlooked]:
    """Plugs of which nobody says whether a jumper is inside, where it may matter: what came on it has pins that no wire meets, of which one
    might be joined to another or to a wire by it."""
    found: dict[tuple[str, str], dict[str, None]] = {}
    plugs: dict[tuple[str, str], Seat] = {}
    for seat in seats:
        if seat.plug.loops_stated or not seat.clear:
            continue
        met = set(seat.meets.values())
        inside = {end for one in seat.original.contacts or () for end in (one.a, one.b)}
        free = [pin for pin in seat.original.pins or () if pin not in met and pin in inside]
        if free:
            key = seat.family.id, seat.plug.name
            plugs.setdefault(key, seat)
            found.setdefault(key, {}).update(dict.fromkeys(free))
    return [Unlooked(plugs[key], tuple(free)) for key, free in found.items()]


def open_chains(book: Book) -> list[OpenChain]:
    """Chains that come back to where they were, that leave the book, or that end at something that is not sold."""
    found = []
    for part in book.parts:
        for end in chain_ends(book, part):
            if end.loops or end.part is None:
                found.append(OpenChain(part, end.number, "loops" if end.loops else "not_in_book"))
            elif end.part.status != "current":
                found.append(OpenChain(part, end.number, end.part.status or "status not stated"))
    return found


def records(book: Book, seats: Iterable[Seat], verdict: Callable[[Seat, Part], Verdict]) -> list[Record]:
    """The records of the bay that leave something to be settled, those that contradict an answer first."""
    found = [Record(one, why) for one in trials(book, seats) if (why := _unsettled(one, verdict))]
    return sorted(found, key=lambda one: list(Unsettled).index(one.why))


def _unsettled(one: Trial, verdict: Callable[[Seat, Part], Verdict]) -> Unsettled | None:
    if one.part is None:
        return Unsettled.NO_PART
    if one.vehicle is None:
        return Unsettled.NO_VEHICLE
    part = one.part
    match accord(one.record.outcome, (verdict(seat, part).kind for seat in one.seats)):
        case Accord.AGREES:
            return None
        case Accord.OPEN:
            return Unsettled.OPEN
        case Accord.AGAINST:
            return Unsettled.AGAINST
        case None:
            return Unsettled.OPEN if one.application else Unsettled.ABSENT_VEHICLE


def measurements(judged: Iterable[tuple[Seat, Verdict]]) -> list[Measurement]:
    """What to find out for those of the answers that are not known, the one that settles most first."""
    waits: dict[_Key, list[tuple[Seat, Verdict]]] = {}
    alone: dict[_Key, list[tuple[Seat, Verdict]]] = {}
    how: dict[_Key, Reason] = {}
    owners: dict[_Key, _Owner] = {}
    for seat, verdict in judged:
        if verdict.kind is not VerdictKind.UNKNOWN:
            continue
        wanted: dict[_Key, Reason] = {}
        for owner, reason in _wanted(seat, verdict):
            key = _key(owner, reason)
            owners.setdefault(key, owner)
            wanted.setdefault(key, reason)
        for key, reason in wanted.items():
            waits.setdefault(key, []).append((seat, verdict))
            how.setdefault(key, reason)
            if len(wanted) == 1:
                alone.setdefault(key, []).append((seat, verdict))
    found = [Measurement(owners[key], _work(how[key]), how[key], tuple(alone.get(key, ())), tuple(listed)) for key, listed in waits.items()]
    return sorted(found, key=lambda one: (-len(one.settles), -len(one.waits), *order(one)))


def order(one: Measurement) -> tuple[str, int, str]:
    """How measurements that settle as much as each other are sorted."""
    return one.name, list(Work).index(one.what), one.how.code


def settles_most(judged: Iterable[tuple[Seat, Verdict]]) -> Measurement | None:
    """The one measurement that settles most of what is not known among these answers. What its maker has withdrawn is not asked for."""
    return next(iter(measurements((seat, one) for seat, one in judged if one.part.status != "withdrawn")), None)


_Owner = Part | Plug | Short | Absent
_Key = tuple[tuple[str, ...], str]
"""What is looked at, and how."""

_METERED = frozenset(
    {
        *("behaviour.contacts_not_stated", "behaviour.pin_not_stated", "behaviour.pair_not_stated", "safety.path_not_stated"),
        *("behaviour.signal_not_stated", "behaviour.signal_kind_not_stated", "behaviour.signal_value_not_stated"),
        "behaviour.signal_end_not_stated",
    }
)
"""Whoever meters a part at all its pins finds out all of these at once; anything else is looked at by itself."""


def _key(owner: _Owner, reason: Reason) -> _Key:
    how = "meter" if reason.code in _METERED else reason.code
    match owner:
        case Part() if reason.subject.of is Of.MOUNT and owner.mount:
            return ("mount", owner.family, owner.mount), how
        case Part():
            return ("part", owner.key), how
        case Plug():
            return ("plug", owner.family, owner.name), how
        case Short():
            return ("short", owner.name), how
        case _:
            return ("absent", owner.name), "entry"  # one entry settles whatever asks for it


def _wanted(seat: Seat, verdict: Verdict) -> Iterator[tuple[_Owner, Reason]]:
    """Each thing that has to be found out and whose it is, with the reason that says so; the one that settles most first.

    What settles nothing by itself (a search for other places of the wires that was given up) is nothing to find out.
    """
    missing = [reason for reason in verdict.checked if reason.outcome is Outcome.MISSING and reason.settles]
    for reason in sorted(missing, key=lambda one: one.weight, reverse=True):
        for owner in _owners(seat, verdict, reason):
            yield owner, reason


def _owners(seat: Seat, verdict: Verdict, reason: Reason) -> tuple[_Owner, ...]:
    subject = reason.subject
    owners: Mapping[Side, tuple[_Owner, ...]] = {
        Side.ORIGINAL: (seat.original,),
        Side.CANDIDATE: (verdict.part,),
        Side.BOTH: (seat.original, verdict.part),
        Side.PLUG: (seat.plug,),
    }
    if _is_absent(reason):
        return tuple(map(Absent, subject.names))
    if _is_short(reason):
        return tuple(map(Short, subject.names))
    if subject.side not in owners:  # facts of a kit that contradict each other
        return tuple(map(Absent, subject.names))
    return tuple(dict.fromkeys(owners[subject.side]))


def _is_absent(reason: Reason) -> bool:
    """Whether it is not a fact that is missing, but an entry: a connector that is named has none, or it cannot be read."""
    detail = reason.detail
    if isinstance(detail, FactsContradict):
        return detail.contradiction is Contradiction.UNKNOWN_CONNECTOR and reason.subject.of is Of.CONNECTOR and bool(reason.subject.names)
    return isinstance(detail, ConnectorNotInBook | CompanionNotInBook | EntryNotRead)


def _is_short(reason: Reason) -> bool:
    """Whether a fact of a connector or a kit is missing, and not one of a part."""
    subject = reason.subject
    if isinstance(reason.detail, FactsContradict):
        return False
    return subject.side is Side.KIT or (subject.of is Of.CONNECTOR and bool(subject.names))


def _work(reason: Reason) -> Work:
    subject = reason.subject
    if _is_absent(reason):
        if isinstance(reason.detail, CompanionNotInBook):
            return Work.ABSENT_PART
        return Work.ABSENT_FILE if subject.of is Of.FILE else Work.ABSENT_CONNECTOR
    if isinstance(reason.detail, FactsContradict):
        return Work.CONTRADICTION
    if isinstance(reason.detail, Depends | CompanionDepends):
        return Work.CONDITION
    if _is_short(reason):
        return Work.BAG if subject.side is Side.KIT else Work.HOUSING
    if subject.side is Side.PLUG:
        return Work.LEVER if subject.of is Of.POSITION else Work.WIRES
    return {Of.MOUNT: Work.MOUNT, Of.CONNECTOR: Work.CONNECTOR, Of.RATING: Work.RATING}.get(subject.of, Work.CONTACTS)
