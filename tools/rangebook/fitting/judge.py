"""The verdict of one candidate on one seat: mount, then mating, then behaviour; safety apart from all of them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from rangebook.book.book import Book
from rangebook.book.model import CASE, Part
from rangebook.electrics.bundles import bundles_of
from rangebook.fitting.check_behaviour import Wiring, check_behaviour
from rangebook.fitting.check_mating import check_mating, no_way, ways_onto
from rangebook.fitting.check_mount import check_mount
from rangebook.fitting.mating import Way
from rangebook.fitting.rewiring import MAX_EQUAL, Rewiring, Task, search
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import RANK, Reason, Says, Verdict, Word, settle
from rangebook.fitting.words import joined, moves, plural

_NO_MOVES: Mapping[str, str] = MappingProxyType({})


def judge(book: Book, seat: Seat, part: Part) -> Verdict:
    """The verdict of ``part`` on ``seat``, computed from what the book states and from nothing else."""
    mounted = tuple(check_mount(book, seat, part))
    best = _best_way(book, seat, part, try_wires=settle(Word.STRAIGHT, mounted) is not Word.NO)
    checked = (*mounted, *best.checked)
    word = settle(best.word, checked)
    if word in (Word.NO, Word.UNKNOWN):
        return Verdict(part, word, unused_pins=best.unused_pins, checked=checked)
    return Verdict(part, word, best.needs, best.moves, best.unused_pins, best.equal_answers, checked)


def _best_way(book: Book, seat: Seat, part: Part, try_wires: bool) -> Verdict:
    """As it is, then with kits, then with wires moved, then with kits and wires moved."""
    found = ways_onto(book, seat, part)
    if not found:
        reason = no_way(book, seat, part)
        return Verdict(part, settle(Word.STRAIGHT, [reason]), checked=(reason,))
    trials = []
    for way in found:
        trials.append(_try(book, seat, part, way))
        if trials[-1].fits:
            return trials[-1]
    if try_wires:
        for way, trial in zip(found, trials, strict=True):
            if trial.word is Word.NO:
                moved = _with_wires_moved(book, seat, part, way)
                if moved is not None:
                    return moved
    return min(trials, key=lambda trial: RANK[trial.word])


def _try(book: Book, seat: Seat, part: Part, way: Way) -> Verdict:
    """One way of bringing the plug onto the part, each wire in the place that the way gives it."""
    needs, mating = check_mating(book, seat, part, way)
    if settle(Word.STRAIGHT, mating) is Word.NO:
        return Verdict(part, Word.NO, checked=tuple(mating))
    place = {cavity: way.cavity(cavity) for cavity in seat.plug.wires}
    wiring = _wiring(book, part, place)
    checked = (*mating, *check_behaviour(seat, wiring), *_idle_pins(wiring))
    word = settle(Word.WITH_PARTS if way.kits else Word.STRAIGHT, checked)
    all_moved = {old: new for old, new in place.items() if new is not None} if way.kits else {}
    return Verdict(part, word, tuple(needs), MappingProxyType(all_moved), _unused(wiring), 1, checked)


def _with_wires_moved(book: Book, seat: Seat, part: Part, way: Way) -> Verdict | None:
    """The same with wires moved between the cavities of the plug.

    ``rewire`` if some moving makes the behaviour agree; ``unknown`` if one might, depending on what is not stated, or if
    the search was given up; ``None`` if there is none.
    """
    needs, mating = check_mating(book, seat, part, way)
    own = book.family_of(part).positions
    if settle(Word.STRAIGHT, mating) is Word.NO or any(position not in own for position in seat.positions):
        return None
    natural = {cavity: new for cavity in seat.plug.wires if (new := way.cavity(cavity)) is not None}
    plug = book.connectors.get(way.kits[-1].new if way.kits else seat.plug.connector)
    slots = plug.cavities if plug else tuple(dict.fromkeys([*natural.values(), *(part.pins or ())]))
    reads = seat.plug.reads

    def judged(place: Mapping[str, str]) -> Word:
        ordered = {cavity: place[cavity] for cavity in natural}
        return settle(Word.REWIRE, check_behaviour(seat, _wiring(book, part, ordered)))

    def searched(accepted: frozenset[Word]) -> Rewiring:
        free = frozenset(reads.pins) if reads else frozenset()
        accept = lambda place: judged(place) in accepted  # noqa: E731
        return search(Task(seat.original, part, natural, slots, seat.positions, seat.circuits, free, accept))

    found = searched(frozenset({Word.REWIRE}))
    if found.place is None and found.complete and not (_all_stated(seat.original) and _all_stated(part)):
        found = searched(frozenset({Word.REWIRE, Word.UNKNOWN}))
    if found.place is None:
        if found.complete:
            return None
        text = f"whether moving wires would help was not settled: {plural(len(natural), 'wire')}, given up after {found.steps} steps"
        return Verdict(part, Word.UNKNOWN, checked=(*mating, Reason("behaviour", Says.MISSING, text)))
    wiring = _wiring(book, part, found.place)
    moved = {old: new for old, new in found.place.items() if new != natural[old]}
    checked = (*mating, _moves_reason(found, moved, judged(found.place)), *check_behaviour(seat, wiring), *_idle_pins(wiring))
    return Verdict(
        part,
        settle(Word.REWIRE, checked),
        tuple(needs),
        MappingProxyType(dict(found.place) if way.kits else moved),
        _unused(wiring),
        found.equal,
        checked,
    )


def _moves_reason(found: Rewiring, moved: Mapping[str, str], word: Word) -> Reason:
    if word is Word.UNKNOWN:
        text = f"as the wires lie it does something else; if {moves(moved)} were moved it might agree, depending on what is not stated"
        return Reason("behaviour", Says.MISSING, text)
    text = f"agrees if {plural(len(moved), 'wire')} move{'s' if len(moved) == 1 else ''}: {moves(moved)}; no fewer will do"
    if found.equal > 1:
        count = f"more than {MAX_EQUAL}" if found.equal >= MAX_EQUAL else str(found.equal)
        text += f"; either way round, there are {count} ways with as few moves"
    return Reason("behaviour", Says.FOR, text)


def _all_stated(part: Part) -> bool:
    """Whether nothing about a part's pins and contacts is left open, in any position."""
    if part.pins is None or part.contacts is None:
        return False
    listed = bundles_of(part).listed
    positions = {position for one in part.contacts for position in one.ohms or ()}
    return all(pin in listed for pin in part.pins) and all(
        one.closed is not None or (one.ohms is not None and positions <= set(one.ohms)) for one in part.contacts
    )


def _wiring(book: Book, part: Part, place: Mapping[str, str | None]) -> Wiring:
    return Wiring(part, {**place, CASE: CASE}, book.family_of(part).positions)


def _unused(wiring: Wiring) -> tuple[str, ...]:
    met = set(wiring.pin_of.values())
    return tuple(pin for pin in wiring.part.pins or () if pin not in met)


def _idle_pins(wiring: Wiring) -> list[Reason]:
    unused = _unused(wiring)
    if not unused:
        return []
    one = len(unused) == 1
    text = f"pin{'' if one else 's'} {joined(unused)} stay{'s' if one else ''} without a wire, and that is right"
    return [Reason("behaviour", Says.FOR, text)]
