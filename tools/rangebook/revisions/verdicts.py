"""Which verdicts differ between two states of a book, and which of these differences somebody should look at first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from rangebook.book.book import Book
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.kit_contents import Needed
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import GOES_ON, RANK, Verdict, VerdictKind
from rangebook.reasons.codes import Also, EntryNotRead
from rangebook.reasons.reason import Check, Reason
from rangebook.revisions.safety_circuits import SafetyCircuits
from rangebook.revisions.states import States
from rangebook.revisions.touched import SeatKey, Touched, trials


class Flag(StrEnum):
    """Why a change is for safety to look at first. The first two stand before all others."""

    CHECK_DIFFERS = "check_differs"
    NOW_OFFERED = "now_offered"
    NEW_OFFERED = "new_offered"
    PART_CIRCUITS = "part_circuits"
    PLUG_CIRCUITS = "plug_circuits"
    LISTED_CIRCUIT = "listed_circuit"


@dataclass(frozen=True, slots=True)
class Alarm:
    """One such reason; ``name`` is the part's number or the plug's name where the circuits of one read otherwise, or the circuit of which
    the list says something else."""

    flag: Flag
    name: str = ""


class State(StrEnum):
    """Whether one state of the book has an answer: ``broken`` where an entry that it needs could not be taken in, ``no_vehicle`` where the
    part is in the book and no vehicle has the seat."""

    JUDGED = "judged"
    NO_VEHICLE = "no_vehicle"
    NOT_IN_BOOK = "not_in_book"
    BROKEN = "broken"


@dataclass(frozen=True)
class Side:
    """The answer in one state of the book. Without a verdict all but ``state`` is empty."""

    state: State
    kind: VerdictKind | None = None
    needs: tuple[Needed, ...] = ()
    moves: tuple[tuple[str, str], ...] = ()
    unused_pins: tuple[str, ...] = ()
    also: tuple[Also, ...] = ()
    checked: tuple[Reason, ...] = ()
    reasons: tuple[Reason, ...] = ()
    fans: tuple[tuple[str, tuple[str, ...]], ...] = ()
    """Each wire that a lead brings to several cavities, with all of these."""

    @property
    def ordered(self) -> tuple[object, ...]:
        """What has to be ordered or moved."""
        return self.needs, self.also, self.moves, self.fans

    @property
    def safety(self) -> tuple[Reason, ...]:
        """What the safety check says."""
        return tuple(reason for reason in self.checked if reason.check is Check.SAFETY)

    @property
    def waits_for(self) -> frozenset[str]:
        """The entries that cannot be read and without which the verdict is not known."""
        return frozenset(file for reason in self.reasons if isinstance(reason.detail, EntryNotRead) for file in reason.detail.files)


class Differs(StrEnum):
    """What of a verdict differs: the verdict itself (``word``); with the same verdict what has to be ordered or moved (``order``);
    only ``reasons``."""

    WORD = "word"
    ORDER = "order"
    REASONS = "reasons"


@dataclass(frozen=True)
class VerdictChange:
    """One part on one seat. ``seat_was_there`` is whether the old book had the seat; ``safety`` says why it is for safety to
    look at first, empty where it is not."""

    seat: Seat
    number: str
    part_family: str
    old: Side
    new: Side
    seat_was_there: bool
    safety: tuple[Alarm, ...] = ()

    @property
    def differs(self) -> Differs:
        """What differs."""
        if self.old.kind is not self.new.kind or self.old.state is not self.new.state:
            return Differs.WORD
        return Differs.ORDER if self.old.ordered != self.new.ordered else Differs.REASONS

    @property
    def vehicles(self) -> tuple[str, ...]:
        """The seat's vehicles with their years, each once."""
        return tuple(dict.fromkeys(f"{one.vehicle} {one.years or ''}".strip() for one in self.seat.applications))


def verdict_changes(states: States, circuits: SafetyCircuits, touched: Touched | None = None) -> list[VerdictChange]:
    """Every verdict that differs, safety first, then by what it comes to. Only what can differ is judged."""
    old, new = states.fitters
    touched = touched or Touched(old, new)
    pairs: dict[tuple[SeatKey, str], None] = {}
    for fitter in (new, old):
        pairs |= dict.fromkeys(listed_on(fitter, (seat for seat in fitter.seats if seat.key in touched.seats)))
        parts = [part for key in touched.parts if (part := fitter.book.by_number.get(key)) is not None]
        for seat, part in trials(fitter, parts, touched.seats):
            if fitter.tells(seat, fitter.verdict(seat, part)):
                pairs[seat.key, part.key] = None
    return compared(states, pairs, circuits)


def listed_on(fitter: Fitter, seats: Iterable[Seat]) -> Iterator[tuple[SeatKey, str]]:
    """Each seat with every part that there is an answer for."""
    for seat in seats:
        for verdict in fitter.candidates(seat):
            if fitter.book.by_number[verdict.part.key] is verdict.part:
                yield seat.key, verdict.part.key


def compared(states: States, pairs: Iterable[tuple[SeatKey, str]], circuits: SafetyCircuits) -> list[VerdictChange]:
    """The verdicts of these parts on these seats that differ, in the order of :func:`verdict_changes`."""
    return _sorted(_compared(states, pairs, circuits))


def _compared(states: States, pairs: Iterable[tuple[SeatKey, str]], circuits: SafetyCircuits) -> Iterator[VerdictChange]:
    old_fitter, new_fitter = states.fitters
    old_seats, new_seats = ({seat.key: seat for seat in fitter.seats} for fitter in states.fitters)
    for seat_key, number in pairs:
        old_seat, new_seat = old_seats.get(seat_key), new_seats.get(seat_key)
        old = _side(old_fitter, old_seat, seat_key, number)
        new = _side(new_fitter, new_seat, seat_key, number)
        if old == new or _says_nothing(old, new):
            continue
        seat = new_seat or old_seat
        part = new_fitter.book.by_number.get(number) or old_fitter.book.by_number.get(number)
        assert seat is not None and part is not None
        safety = tuple(_safety(old, new, old_seat is not None, _alarms(circuits, seat_key, number)))
        yield VerdictChange(seat, part.number, part.family, old, new, old_seat is not None, safety)


def _side(fitter: Fitter, seat: Seat | None, seat_key: SeatKey, number: str) -> Side:
    part = fitter.book.by_number.get(number)
    if seat is None or part is None:
        if _is_lost(fitter.book, seat, seat_key, number):
            return Side(State.BROKEN)
        return Side(State.NOT_IN_BOOK if part is None else State.NO_VEHICLE)
    verdict: Verdict = fitter.verdict(seat, part)
    moves, fans = tuple(verdict.moves.items()), tuple(verdict.fans.items())
    return Side(State.JUDGED, verdict.kind, verdict.needs, moves, verdict.unused_pins, verdict.also, verdict.checked, verdict.reasons, fans)


def _is_lost(book: Book, seat: Seat | None, seat_key: SeatKey, number: str) -> bool:
    family, _, original, _ = seat_key
    lost_seat = seat is None and ((family not in book.families and family in book.lost_ids) or _is_lost_number(book, original))
    return lost_seat or _is_lost_number(book, number)


def _is_lost_number(book: Book, number: str) -> bool:
    return number not in book.by_number and number in book.lost_numbers


def _says_nothing(old: Side, new: Side) -> bool:
    """What does not fit and was not there before, or is not there any more, is no change to anybody."""
    return {old.kind, new.kind} <= {None, VerdictKind.NO} and (old.kind is None or new.kind is None)


def _safety(old: Side, new: Side, seat_was_there: bool, about: Iterable[Alarm]) -> Iterator[Alarm]:
    if new.kind in GOES_ON and old.kind in (VerdictKind.UNKNOWN, VerdictKind.NO):
        yield Alarm(Flag.NOW_OFFERED)
    elif new.kind in GOES_ON and old.kind is None and old.state is State.NOT_IN_BOOK and seat_was_there:
        yield Alarm(Flag.NEW_OFFERED)
    if old.safety != new.safety:
        yield Alarm(Flag.CHECK_DIFFERS)
    if {old.kind, new.kind} != {VerdictKind.NO}:
        yield from about


def _alarms(circuits: SafetyCircuits, seat: SeatKey, number: str) -> Iterator[Alarm]:
    """The safety circuits that a verdict goes by and that read otherwise."""
    for change in circuits.of(seat, number):
        yield Alarm(_FLAGS[change.what], change.name)


_FLAGS = {"part": Flag.PART_CIRCUITS, "plug": Flag.PLUG_CIRCUITS, "circuit": Flag.LISTED_CIRCUIT}


def _sorted(changes: Iterable[VerdictChange]) -> list[VerdictChange]:
    def rank(side: Side) -> int:
        return len(RANK) if side.kind is None else RANK[side.kind]

    def key(one: VerdictChange) -> tuple[bool, bool, bool, int, int, int, str, str, SeatKey]:
        flags = {alarm.flag for alarm in one.safety}
        return (
            not flags,
            Flag.CHECK_DIFFERS not in flags,
            Flag.NOW_OFFERED not in flags,
            list(Differs).index(one.differs),
            rank(one.new),
            rank(one.old),
            one.part_family,
            one.number,
            one.seat.key,
        )

    return sorted(changes, key=key)
