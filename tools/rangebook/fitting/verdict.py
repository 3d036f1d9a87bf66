"""The verdict of one candidate on one seat: mount, then mating, then behaviour; safety apart from all of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

from rangebook.book.book import Book
from rangebook.book.model import CASE, Part
from rangebook.electrics.behaviour import Disagreement, Path, Relation, compare
from rangebook.electrics.safety import Hazard, hazards
from rangebook.electrics.signals import compare_signals
from rangebook.fitting.mating import Way, ways
from rangebook.fitting.parcel import Needed, pack
from rangebook.fitting.seats import Seat, mount_of
from rangebook.mounting.fit import fit_mounts


class Word(StrEnum):
    """The verdicts, best first."""

    STRAIGHT = "straight"
    WITH_PARTS = "with_parts"
    REWIRE = "rewire"
    UNKNOWN = "unknown"
    NO = "no"


RANK = {word: rank for rank, word in enumerate(Word)}
"""Verdict -> its place, 0 the best."""

FITS = frozenset({Word.STRAIGHT, Word.WITH_PARTS})
"""The verdicts with which a part counts as fitting a seat."""


class Says(StrEnum):
    """What one reason comes to."""

    FOR = "for"
    AGAINST = "against"
    MISSING = "missing"


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing that was checked: ``check`` is ``mount``, ``mating``, ``behaviour`` or ``safety``, ``text`` a plain sentence."""

    check: str
    says: Says
    text: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a part can stand in on a seat.

    ``moves`` maps each cavity of the vehicle's plug whose wire has to be handled to the cavity that it goes to;
    ``unused_pins`` are the part's pins that get no wire. ``checked`` is everything that was looked at; ``reasons`` is
    what of it decides the verdict.
    """

    part: Part
    word: Word
    needs: tuple[Needed, ...] = ()
    moves: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    unused_pins: tuple[str, ...] = ()
    checked: tuple[Reason, ...] = ()

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """What decides: all that is against it for ``no``, all that is missing for ``unknown``, else all that is for it."""
        wanted = {Word.NO: Says.AGAINST, Word.UNKNOWN: Says.MISSING}.get(self.word, Says.FOR)
        return tuple(reason for reason in self.checked if reason.says is wanted)

    @property
    def fits(self) -> bool:
        """Whether the part fits as it is or with parts that can be ordered."""
        return self.word in FITS


def judge(book: Book, seat: Seat, part: Part) -> Verdict:
    """The verdict of ``part`` on ``seat``, computed from what the book states and from nothing else."""
    mounted = list(_mount(book, seat, part))
    trials = [_try(book, seat, part, way) for way in _ways(book, seat, part)]
    best = min(trials, key=lambda trial: RANK[trial.word]) if trials else _no_way(book, seat, part)
    checked = (*mounted, *best.checked)
    word = _settle(best.word, checked)
    if word in FITS or word is Word.REWIRE:
        return Verdict(part, word, best.needs, best.moves, best.unused_pins, checked)
    return Verdict(part, word, (), MappingProxyType({}), best.unused_pins, checked)


def _settle(word: Word, checked: Iterable[Reason]) -> Word:
    """Anything against makes it ``no``, else anything missing makes it ``unknown``, whatever else speaks for it."""
    said = {reason.says for reason in checked}
    if Says.AGAINST in said:
        return Word.NO
    return Word.UNKNOWN if Says.MISSING in said else word


def _mount(book: Book, seat: Seat, part: Part) -> Iterable[Reason]:
    original = seat.original
    same_name = part.family == original.family and part.mount is not None and part.mount == original.mount
    mount = mount_of(book, part)
    if part.key == original.key and mount is None:
        yield Reason("mount", Says.FOR, "it is the part that it came with")
        return
    fit = fit_mounts(seat.mount, mount, same_name)
    says = {True: Says.FOR, False: Says.AGAINST, None: Says.MISSING}[fit.fits]
    for text in fit.reasons:
        if fit.turn_deg:
            text += f"; {fit.turn_deg:.1f}° of turn to set it"
        yield Reason("mount", says, text)


def _ways(book: Book, seat: Seat, part: Part) -> list[Way]:
    if part.connector is None:
        # The part that the vehicle was built with has been on this plug, whatever its housing is called.
        return [Way(())] if part.key == seat.original.key else []
    return ways(book, seat.plug.connector, part.connector)


def _no_way(book: Book, seat: Seat, part: Part) -> Verdict:
    plug = seat.plug.connector
    if part.connector is None:
        text = "which connector this one has is not stated: compare its housing with the plug"
        return Verdict(part, Word.UNKNOWN, checked=(Reason("mating", Says.MISSING, text),))
    for name in (part.connector, plug):
        if name not in book.connectors:
            text = f"the connector {name} is not in the book, so whether the plug goes on is not known"
            return Verdict(part, Word.UNKNOWN, checked=(Reason("mating", Says.MISSING, text),))
    mine, theirs = book.connectors[part.connector], book.connectors[plug]
    text = f"the vehicle's plug ({theirs.title}) does not go on this one's housing ({mine.title}), and no kit in the book leads there"
    return Verdict(part, Word.NO, checked=(Reason("mating", Says.AGAINST, text),))


def _try(book: Book, seat: Seat, part: Part, way: Way) -> Verdict:
    """One way of bringing the plug onto the part, its wires each in the place that the way gives them."""
    needs, mating = _mating(book, seat, part, way)
    if any(reason.says is Says.AGAINST for reason in mating):
        return Verdict(part, Word.NO, checked=tuple(mating))
    candidate_pins: dict[str, str | None] = {cavity: way.cavity(cavity) for cavity in seat.plug.wires}
    candidate_pins[CASE] = CASE
    checked = [*mating, *_behaviour(book, seat, part, candidate_pins)]
    unused = _unused(part, candidate_pins)
    if unused:
        plural = len(unused) > 1
        text = f"pin{'s' if plural else ''} {_and(unused)} stay{'' if plural else 's'} without a wire, and that is right"
        checked.append(Reason("behaviour", Says.FOR, text))
    moves = {old: new for old, new in candidate_pins.items() if old != CASE and new is not None} if way.kits else {}
    word = _settle(Word.WITH_PARTS if way.kits else Word.STRAIGHT, checked)
    return Verdict(part, word, tuple(needs), MappingProxyType(moves), unused, tuple(checked))


def _mating(book: Book, seat: Seat, part: Part, way: Way) -> tuple[list[Needed], list[Reason]]:
    if not way.kits:
        same = part.connector is None or part.connector == seat.plug.connector
        connector = book.connectors.get(part.connector or seat.plug.connector)
        title = connector.title if connector else seat.plug.connector
        text = f"the plug goes on: {'the same connector' if same else 'it mates'} ({title})"
        return [], [Reason("mating", Says.FOR, text)]
    needs, reasons = [], []
    lost = [cavity for cavity in seat.plug.wires if way.cavity(cavity) is None]
    if lost:
        names = " and then ".join(kit.number for kit in way.kits)
        reasons.append(
            Reason("mating", Says.AGAINST, f"kit {names} has no place for the wire{'s' if len(lost) > 1 else ''} in {_and(lost)}")
        )
    wires = len(seat.plug.wires)
    for kit in way.kits:
        packed = pack(kit, wires, wires - len(seat.optional), book.connectors.get(kit.new))
        needs.append(packed.needed)
        reasons.append(Reason("mating", Says.FOR if packed.fits else Says.AGAINST, packed.text))
    return needs, reasons


def _behaviour(book: Book, seat: Seat, part: Part, candidate_pins: Mapping[str, str | None]) -> Iterable[Reason]:
    original_pins = {terminal: terminal for terminal in seat.terminals}
    own = book.family_of(part).positions
    lacking = [position for position in seat.positions if position not in own]
    if lacking:
        yield Reason("behaviour", Says.AGAINST, f"this one has no position {_and(lacking)}; the lever has")
    positions = [position for position in seat.positions if position in own]
    itself = part.key == seat.original.key and all(old == new for old, new in candidate_pins.items())
    if itself:
        yield Reason("behaviour", Says.FOR, "it is the part that it came with")
    else:
        apart = compare(seat.original, original_pins, part, candidate_pins, positions)
        powered = compare_signals(seat.original, original_pins, part, candidate_pins, positions)
        # Where an output is powered, what a meter would see between its pins without power says nothing.
        yield from _worded(apart, seat)
        for one in powered:
            yield Reason("behaviour", Says.AGAINST if one.sure else Says.MISSING, one.text)
        if not apart and not powered:
            count = len(seat.plug.wires)
            text = f"{count} wire{'s' if count != 1 else ''} and the housing: the same in {' '.join(positions)}"
            yield Reason("behaviour", Says.FOR, text)
    for hazard in hazards(part, candidate_pins, seat.circuits, own):
        if itself and not hazard.sure:
            continue  # what is not stated about the part that the vehicle was built with cannot speak against it
        yield Reason("safety", Says.AGAINST if hazard.sure else Says.MISSING, _hazard_words(hazard))


def _hazard_words(hazard: Hazard) -> str:
    where = f"between cavities {hazard.a} ({hazard.guard.feed}) and {hazard.b} ({hazard.guard.out}) in {_and(hazard.positions)}"
    if hazard.sure:
        return f"{hazard.guard.danger}: with this one there is a path {where}"
    return f"{hazard.guard.danger}: whether this one has a path {where} is not stated: measure it"


def _worded(apart: Sequence[Disagreement], seat: Seat) -> Iterable[Reason]:
    """One reason for each two terminals and each way of differing, its positions together."""
    gaps: dict[tuple[str, str], set[str]] = {}
    grouped: dict[tuple[str, str, str], list[str]] = {}
    for one in apart:
        if one.sure:
            text = f"{_relation(one.original)} in the original, {_relation(one.candidate)} in this one"
            if one.original.path is Path.OHMS and one.candidate.path is Path.OHMS:
                text += f" ({one.original.tolerance_percent:g} % would do)"
            grouped.setdefault((one.a, one.b, text), []).append(one.position)
        else:
            for side, relation in (("the original", one.original), ("this one", one.candidate)):
                if relation.path is Path.UNKNOWN:
                    gaps.setdefault((side, _pair(one.a, one.b, seat)), set()).add(one.position)
    for (a, b, text), positions in grouped.items():
        yield Reason("behaviour", Says.AGAINST, f"{_pair(a, b, seat)}: in {_and(positions)} {text}")
    by_side: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for (side, pair), positions in gaps.items():
        ordered = tuple(position for position in seat.positions if position in positions)
        by_side.setdefault((side, ordered), []).append(pair)
    for (side, ordered), pairs in by_side.items():
        shown = "; ".join(pairs[:3]) + (f"; and {len(pairs) - 3} more" if len(pairs) > 3 else "")
        everywhere = "every position" if len(ordered) == len(seat.positions) else " ".join(ordered)
        yield Reason(
            "behaviour", Says.MISSING, f"what {side} does in {everywhere} is not stated; measure it {shown}"
        )


def _pair(a: str, b: str, seat: Seat) -> str:
    return f"between {_terminal(a, seat)} and {_terminal(b, seat)}"


def _terminal(terminal: str, seat: Seat) -> str:
    if terminal == CASE:
        return "the housing"
    names = sorted(seat.circuits.get(terminal, ()))
    return f"cavity {terminal} ({'/'.join(names)})" if names else f"cavity {terminal}"


def _relation(relation: Relation) -> str:
    if relation.path is Path.OHMS:
        return f"{relation.ohms:.4g} ohm"
    return {Path.JOINED: "closed", Path.OPEN: "open"}[relation.path]


def _unused(part: Part, candidate_pins: Mapping[str, str | None]) -> tuple[str, ...]:
    met = set(candidate_pins.values())
    return tuple(pin for pin in part.pins or () if pin not in met)


def _and(words: Sequence[str]) -> str:
    words = list(words)
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
