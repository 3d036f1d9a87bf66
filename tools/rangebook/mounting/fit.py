"""A candidate's holes and slots against the bolts of a gearbox, about the shaft.

The bolts of a seat stand where the original's mount has them. The candidate takes them if, turned as a whole by some
angle, it has for each bolt a hole of its own in which the bolt's middle can stand: a hole or slot is the set of points
no farther than the clearance, (hole - bolt) / 2, from its middle line, an arc about the shaft. It is never turned over.

That ties the housing to the gearbox; what ties the contacts to the shaft is the hub. At one of those turns its mark has to stand where the
original's did, in every position of the lever.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from rangebook.book.model import Bolt, Mount, Shaft
from rangebook.mounting.arcs import EVERYWHERE, FULL, Intervals, around, both, width
from rangebook.mounting.bounds import slot_limit_deg, widest_hole_mm
from rangebook.mounting.hub import detents, turns
from rangebook.reasons.codes import (
    BoltSizeNotStated,
    BoltsNotStated,
    Bore,
    Detent,
    DetentsDiffer,
    Hole,
    HolesElsewhere,
    HoleTooWide,
    HubElsewhere,
    HubNotStated,
    MirrorImage,
    MotionDiffers,
    MotionNotStated,
    MountFits,
    MountNotStated,
    MovedAlike,
    NoHoleForBolt,
    OrderDiffers,
    SameMount,
    ShaftNotStated,
    ShaftShapeDiffers,
    ShaftSize,
    ShaftSizeDiffers,
    SlotTooLong,
    SpacerApart,
    SpacerDiffers,
    SpacerNotStated,
    SpareEar,
    SpareEarMayFoul,
    TooFewHoles,
    Turn,
    WideHole,
)
from rangebook.reasons.reason import Detail, Of, Outcome, Reason, Side, Subject

SHAFT, SNAP_IN = "shaft", "snap_in"
"""Motions of a mount that have a law of their own: the shaft goes through, and has to be of its size; what snaps in has no bolts."""

SPACER_MM = 0.5
"""Spacers that differ by no more than this are the same."""

SHAFT_MM = 0.1
"""Shafts that differ by no more than this across are the same. Common practice, no source: a calliper reads to this."""

_ROUNDING_MM = 1e-9

HUB_DEG = 2.0
"""A hub, and each detent, may stand so far off. Common practice, no source: a protractor reads to a degree, on either part."""

SCANT_TURN_DEG = 2.0
"""With less turn than this left, setting the switch may not be possible. Common practice, no source."""

_SPARE_DEG = 0.05
"""What of its own turn a switch has to have lost before it is told."""


@dataclass(frozen=True, slots=True)
class MountFit:
    """``fits`` is ``None`` where it is not known, ``reasons`` say why. ``turn_deg`` is how far the switch can be turned about the shaft
    for setting it once the bolts are in, ``own_turn_deg`` how far it could be on bolts that stand in the middle of its slots; ``None``
    where it does not fit or is not known."""

    fits: bool | None
    reasons: tuple[Reason, ...]
    turn_deg: float | None = None
    own_turn_deg: float | None = None


@dataclass(frozen=True, slots=True)
class _Bolted:
    """Whether the holes take the bolts, and the turn that is left; ``set_deg`` is as much of it as the hub stands right in, all of it where
    that is not known. ``bore`` where the holes are made for other bolts; ``reasons`` where they do not take them or it is not known."""

    fits: bool | None
    turn_deg: float | None = None
    set_deg: float = 0.0
    bore: Bore | None = None
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True)
class _Standing:
    """By how much the candidate may be turned so that its hub stands right, ``None`` where that is not known; ``reason`` where it does not
    at any turn, or it is not known."""

    turns: Intervals | None
    reason: Reason | None = None


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to give each bolt a hole of its own: the turns at which it can be, each bolt with its hole, and the holes left over."""

    turns: Intervals
    pairs: tuple[tuple[Bolt, Bolt], ...]
    spare: tuple[Bolt, ...]


def half_travel(bolt: Bolt, hole: Bolt) -> float | None:
    """How far, in degrees either way about the shaft, a hole may be off a bolt and still take it; ``None``: not at all.

    Both must have their sizes stated.
    """
    assert bolt.bolt_mm is not None and hole.hole_mm is not None
    clearance = (hole.hole_mm - bolt.bolt_mm) / 2
    off = abs(bolt.at_mm - hole.at_mm)
    if clearance < -_ROUNDING_MM or off > clearance + _ROUNDING_MM:
        return None
    # The round end of the slot: the bolt's middle is no farther than the clearance from the end of the middle line.
    product = 2 * bolt.at_mm * hole.at_mm
    if product == 0:
        return 180.0
    cosine = (bolt.at_mm**2 + hole.at_mm**2 - max(clearance, 0.0) ** 2) / product
    end = math.degrees(math.acos(min(1.0, max(-1.0, cosine))))
    return hole.slot_deg / 2 + end


@lru_cache(maxsize=65536)
def _turns(bolts: tuple[Bolt, ...], holes: tuple[Bolt, ...], mind_spacers: bool) -> tuple[tuple[Intervals, tuple[int, ...]], ...]:
    """Every way to give each bolt a hole of its own, with the angles by which the candidate may then be turned."""
    found: list[tuple[Intervals, tuple[int, ...]]] = []

    def place(index: int, allowed: Intervals, taken: tuple[int, ...]) -> None:
        if index == len(bolts):
            found.append((allowed, taken))
            return
        bolt = bolts[index]
        for number, hole in enumerate(holes):
            if number in taken or (mind_spacers and not _may_be_alike(bolt, hole)):
                continue
            half = half_travel(bolt, hole)
            if half is None:
                continue
            left = both(allowed, around(bolt.at_deg - hole.at_deg, half))
            if left:
                place(index + 1, left, (*taken, number))

    place(0, EVERYWHERE, ())
    return tuple(found)


def _may_be_alike(bolt: Bolt, hole: Bolt) -> bool:
    """Whether nothing that is stated says that the spacers differ."""
    return None in (bolt.spacer_mm, hole.spacer_mm) or abs(bolt.spacer_mm - hole.spacer_mm) <= SPACER_MM + _ROUNDING_MM  # type: ignore[operator]


def fit_mounts(seat: Mount | None, candidate: Mount | None, same_name: bool = False, lever: Sequence[str] = ()) -> MountFit:
    """Whether ``candidate`` goes on where ``seat`` was. ``same_name``: both are one and the same mount of one family, which need not state
    what is shared. ``lever`` are the positions in which the hub has to stand right; without any the hub is not looked at, so that
    nothing that might fit on some lever is refused."""
    if seat is None or candidate is None:
        return MountFit(None, (_about(_lacking(seat is None, candidate is None), MountNotStated()),))
    if same_name:
        doubts = tuple(_beyond([(bolt, bolt) for bolt in candidate.bolts], seat, candidate))
        return MountFit(None, doubts) if doubts else same_mount(candidate)
    motions = motion_of(seat), motion_of(candidate)
    moved = _moved(*motions)
    by_shaft = {*motions} <= {None, SHAFT}
    shaft = _shaft(seat.shaft, candidate.shaft) if by_shaft or seat.shaft or candidate.shaft else None
    hub = _hub(seat, candidate, lever) if lever else _Standing(EVERYWHERE)
    bolted = _snapped(seat, candidate, hub.turns, lever) if SNAP_IN in motions else _bolts(seat, candidate, hub.turns, lever)
    found = [*([moved] if moved else []), *([shaft] if isinstance(shaft, Reason) else [])]
    found += [*bolted.reasons, *([hub.reason] if hub.reason else [])]
    against = tuple(one for one in found if one.outcome is Outcome.AGAINST)
    if against:
        return MountFit(False, against)
    if found or not bolted.fits or isinstance(shaft, Reason):
        return MountFit(None, tuple(found))
    own = _own_turn(candidate)
    turn = None if bolted.turn_deg is None else _turn(bolted.turn_deg, own, bolted.set_deg)
    motion = motions[0]
    if motion in (None, SHAFT) and shaft and turn:
        return MountFit(True, (_about(Side.CANDIDATE, MountFits(shaft, len(seat.bolts), bolted.bore, turn)),), bolted.turn_deg, own)
    alike = MovedAlike(motion or SHAFT, shaft, len(seat.bolts) if turn else 0, bolted.bore, turn)
    return MountFit(True, (_about(Side.CANDIDATE, alike),), bolted.turn_deg, own)


def motion_of(mount: Mount) -> str | None:
    """How the gearbox moves a switch of this mount: as it says, else by the shaft where it has one; ``None`` where that is not known."""
    return mount.motion or (SHAFT if mount.shaft else None)


def _moved(seat: str | None, candidate: str | None) -> Reason | None:
    """Unlike motions never fit. Where nobody says anything of a fork or the like, it is not asked for."""
    if seat and candidate:
        return _about(Side.CANDIDATE, MotionDiffers(seat, candidate)) if seat != candidate else None
    stated = seat or candidate
    return _about(_lacking(seat is None, candidate is None), MotionNotStated(stated)) if stated and stated != SHAFT else None


def same_mount(mount: Mount) -> MountFit:
    """That a part goes on where one of the same mount was."""
    own = _own_turn(mount)
    turn = None if own is None else _turn(own, own, own)
    return MountFit(True, (_about(Side.CANDIDATE, SameMount(mount.name, turn)),), own, own)


def _about(side: Side, detail: Detail) -> Reason:
    return Reason(detail, Subject(side, Of.MOUNT))


def _lacking(original: bool, candidate: bool) -> Side:
    """Who lacks something."""
    return Side.BOTH if original and candidate else Side.ORIGINAL if original else Side.CANDIDATE


def _turn(left: float, own: float | None, right: float) -> Turn:
    """The turn that is ``left``; it is scant where it, or what of it the hub stands ``right`` in, is hardly enough to set the switch."""
    lost = own is not None and own - left > _SPARE_DEG
    # A tenth of a degree is finer than anybody sets a switch.
    return Turn(round(left, 1), round(own, 1) if own is not None and lost else None, min(left, right) < SCANT_TURN_DEG <= (own or 0))


def _own_turn(mount: Mount) -> float | None:
    """How far a switch can be turned on bolts in the middle of its own slots, whatever its spacers; ``None`` where that is not known."""
    bolts = mount.bolts
    if not bolts or any(bolt.bolt_mm is None or bolt.hole_mm is None for bolt in bolts):
        return None
    return max((width(turns) for turns, _ in _turns(bolts, bolts, True)), default=None)


def _shaft(seat: Shaft | None, candidate: Shaft | None) -> ShaftSize | Reason:
    """The shaft that both have, or what is against it or missing."""
    one, other = seat or Shaft(None, None), candidate or Shaft(None, None)
    if one.shape and other.shape and one.shape != other.shape:
        detail = ShaftShapeDiffers(ShaftSize(one.shape, one.across_mm), ShaftSize(other.shape, other.across_mm))
        return _about(Side.CANDIDATE, detail)
    if one.across_mm and other.across_mm and abs(one.across_mm - other.across_mm) > SHAFT_MM + _ROUNDING_MM:
        return _about(Side.CANDIDATE, ShaftSizeDiffers(one.across_mm, other.across_mm))
    lacks = [None in (shaft.shape, shaft.across_mm) for shaft in (one, other)]
    if one.shape is None or any(lacks):
        return _about(_lacking(*lacks), ShaftNotStated())
    return ShaftSize(one.shape, one.across_mm)


def _hub(seat: Mount, candidate: Mount, lever: Sequence[str]) -> _Standing:
    """Where the candidate's hub stands as the original's did, detent by detent: names alone do not tell."""
    shared = [position for position in lever if position in candidate.positions]
    places = [candidate.positions.index(position) for position in shared]
    if places not in (sorted(places), sorted(places, reverse=True)):
        own = tuple(position for position in candidate.positions if position in shared)
        return _Standing(None, _about(Side.CANDIDATE, OrderDiffers(tuple(shared), own)))
    one, other = detents(seat), detents(candidate)
    turned = _apart(turns(seat), turns(candidate), shared)
    stands = _apart(one, other, shared)
    if _all_within(turned.values()) and (right := _all_within(stands.values())):
        lacks = [not set(shared) <= set(known) for known in (one, other)]
        missing = _about(_lacking(*lacks), HubNotStated(_looked_at(seat, lever))) if any(lacks) else None
        return _Standing(right if stands else None, missing)
    first = next(iter(turned))
    known = [turns(mount) for mount in (seat, candidate)]
    steps = tuple(Detent(at, *(round(by[at] - by[first], 1) for by in known)) for at in turned)
    return _Standing(None, _about(Side.CANDIDATE, DetentsDiffer(steps)))


def _apart(one: Mapping[str, float], other: Mapping[str, float], positions: Sequence[str]) -> dict[str, float]:
    """By how much the other has to be turned in each position that both state."""
    return {position: one[position] - other[position] for position in positions if position in one and position in other}


def _all_within(turned: Iterable[float]) -> Intervals:
    """The turns at which every detent is where it should be."""
    left = EVERYWHERE
    for one in turned:
        left = both(left, around(one, HUB_DEG))
    return left


def _looked_at(seat: Mount, lever: Sequence[str]) -> str:
    """In which position hubs are held against each other."""
    stated = seat.hub and seat.hub.position
    return stated if stated in lever and stated else "N" if "N" in lever else lever[0]


def _bolts(seat: Mount, candidate: Mount, right: Intervals | None, lever: Sequence[str]) -> _Bolted:
    """Whether the bolts find holes, at a turn that is ``right`` for the hub where that is known."""
    bolts, holes = seat.bolts, candidate.bolts
    if not bolts or not holes:
        return _Bolted(None, reasons=(_about(_lacking(not bolts, not holes), BoltsNotStated()),))
    if len(holes) < len(bolts):
        return _Bolted(False, reasons=(_about(Side.CANDIDATE, TooFewHoles(len(bolts), len(holes))),))
    lacks = any(bolt.bolt_mm is None for bolt in bolts), any(hole.hole_mm is None for hole in holes)
    if any(lacks):
        return _Bolted(None, reasons=(_about(_lacking(*lacks), BoltSizeNotStated()),))
    ways = _ways(bolts, holes, True)
    standing = ways if right is None else [way for way in ways if both(way.turns, right)]
    if standing:
        doubts = [tuple(_doubts(way, seat, candidate)) for way in standing]
        clear = [way for way, reasons in zip(standing, doubts, strict=True) if not reasons]
        if clear:
            turn = max(width(way.turns) for way in clear)
            at_hub = turn if right is None else max(width(both(way.turns, right)) for way in clear)
            return _Bolted(True, turn, at_hub, _bore(clear[0].pairs))
        return _Bolted(None, reasons=min(doubts, key=len))
    return _Bolted(False, reasons=(_about(Side.CANDIDATE, _refusal(seat, candidate, ways, lever)),))


def _snapped(seat: Mount, candidate: Mount, right: Intervals | None, lever: Sequence[str]) -> _Bolted:
    """What snaps in stands as it was made to stand: there are no bolts, and it is not turned for setting."""
    if right is None or both(right, around(0.0, _ROUNDING_MM)):
        return _Bolted(True)
    return _Bolted(False, reasons=(_about(Side.CANDIDATE, _hub_elsewhere(seat, candidate, lever)),))


def _hub_elsewhere(seat: Mount, candidate: Mount, lever: Sequence[str]) -> Detail:
    one, other = detents(seat), detents(candidate)
    at = next(position for position in dict.fromkeys((_looked_at(seat, lever), *lever)) if position in one and position in other)
    return HubElsewhere(at, one[at] % FULL, other[at] % FULL)


def _refusal(seat: Mount, candidate: Mount, ways: Sequence[_Way], lever: Sequence[str]) -> Detail:
    """Why no hole takes each bolt: the hub stands elsewhere, the spacers differ, or the holes are in other places."""
    bolts, holes = seat.bolts, candidate.bolts
    if ways:
        return _hub_elsewhere(seat, candidate, lever)
    unminded = _ways(bolts, holes, False)
    if unminded:
        return SpacerDiffers(tuple(_spacers(unminded[0].pairs)))
    mirrored = tuple(replace(hole, at_deg=-hole.at_deg) for hole in holes)
    return MirrorImage() if _turns(bolts, mirrored, False) else _elsewhere(bolts, holes)


def _ways(bolts: tuple[Bolt, ...], holes: tuple[Bolt, ...], mind_spacers: bool) -> list[_Way]:
    return [
        _Way(
            turns,
            tuple((bolt, holes[number]) for bolt, number in zip(bolts, taken, strict=True)),
            tuple(hole for number, hole in enumerate(holes) if number not in taken),
        )
        for turns, taken in _turns(bolts, holes, mind_spacers)
    ]


def _doubts(way: _Way, seat: Mount, candidate: Mount) -> Iterator[Reason]:
    """What keeps a way from being known to do."""
    open_ = [pair for pair in way.pairs if None in (pair[0].spacer_mm, pair[1].spacer_mm)]
    if open_:
        # Whose spacers are to be measured: each of them that is not stated.
        side = _lacking(any(bolt.spacer_mm is None for bolt, _ in open_), any(hole.spacer_mm is None for _, hole in open_))
        yield _about(side, SpacerNotStated(tuple(bolt.at_deg for bolt, _ in open_)))
    fouls = tuple(SpareEar(one.at_mm, one.at_deg, one.spacer_mm) for one in way.spare if one.spacer_mm is None or one.spacer_mm > 0)
    if fouls:
        yield _about(Side.CANDIDATE, SpareEarMayFoul(fouls))
    yield from _beyond(way.pairs, seat, candidate)


def _beyond(pairs: Sequence[tuple[Bolt, Bolt]], seat: Mount, candidate: Mount) -> Iterator[Reason]:
    """Holes too wide for their bolts and slots as long as a detent: with such figures much would fit that does not."""
    sized = [(hole.hole_mm, bolt.bolt_mm, widest_hole_mm(bolt.bolt_mm)) for bolt, hole in pairs if hole.hole_mm and bolt.bolt_mm]
    wide = tuple(WideHole(hole, bolt, round(most, 1)) for hole, bolt, most in sized if hole > most + _ROUNDING_MM)
    if wide:
        yield _about(Side.CANDIDATE, HoleTooWide(wide))
    limit = slot_limit_deg(seat, candidate)
    long = tuple(hole.slot_deg for _, hole in pairs if hole.slot_deg >= limit)
    if long:
        yield _about(Side.CANDIDATE, SlotTooLong(long, limit))


def _spacers(pairs: Sequence[tuple[Bolt, Bolt]]) -> Iterator[SpacerApart]:
    for bolt, hole in pairs:
        if not _may_be_alike(bolt, hole):
            assert bolt.spacer_mm is not None and hole.spacer_mm is not None
            yield SpacerApart(bolt.at_deg, bolt.spacer_mm, hole.spacer_mm)


def _bore(pairs: Sequence[tuple[Bolt, Bolt]]) -> Bore | None:
    for bolt, hole in pairs:
        if hole.bolt_mm and bolt.bolt_mm and hole.bolt_mm != bolt.bolt_mm:
            return Bore(hole.bolt_mm, bolt.bolt_mm)
    return None


def _elsewhere(bolts: Sequence[Bolt], holes: Sequence[Bolt]) -> Detail:
    for bolt in bolts:
        if not any(half_travel(bolt, hole) is not None for hole in holes):
            assert bolt.bolt_mm is not None
            return NoHoleForBolt(bolt.bolt_mm, bolt.at_mm, tuple(Hole(hole.hole_mm or 0.0, hole.at_mm) for hole in holes))
    return HolesElsewhere(tuple(bolt.at_deg for bolt in bolts), tuple(hole.at_deg for hole in holes))
