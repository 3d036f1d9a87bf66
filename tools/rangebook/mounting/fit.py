"""A candidate's holes and slots against the bolts of a gearbox, about the shaft.

The bolts of a seat stand where the original's mount has them. The candidate takes them if, turned as a whole by some
angle, it has for each bolt a hole of its own in which the bolt's middle can stand: a hole or slot is the set of points
no farther than the clearance, (hole - bolt) / 2, from its middle line, an arc about the shaft. It is never turned over.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from rangebook.book.model import Bolt, Mount, Shaft
from rangebook.mounting.arcs import EVERYWHERE, Intervals, around, both, width
from rangebook.reasons.codes import (
    BoltSizeNotStated,
    BoltsNotStated,
    Bore,
    Hole,
    HolesElsewhere,
    MirrorImage,
    MountFits,
    MountNotStated,
    NoHoleForBolt,
    SameMount,
    ShaftNotStated,
    ShaftShapeDiffers,
    ShaftSize,
    ShaftSizeDiffers,
    SpacerApart,
    SpacerDiffers,
    SpacerNotStated,
    TooFewHoles,
    Turn,
)
from rangebook.reasons.reason import Detail, Of, Outcome, Reason, Side, Subject

SPACER_MM = 0.5
"""Spacers that differ by no more than this are the same."""

SHAFT_MM = 0.1
"""Shafts that differ by no more than this across are the same. Common practice, no source: a calliper reads to this."""

_ROUNDING_MM = 1e-9


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
    """Whether the holes take the bolts, and the turn that is left. ``bore`` where the holes are made for other bolts; ``reason`` where
    they do not take them or it is not known."""

    fits: bool | None
    turn_deg: float | None = None
    bore: Bore | None = None
    reason: Reason | None = None


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
            if number in taken or (mind_spacers and not _same_spacer(bolt, hole)):
                continue
            half = half_travel(bolt, hole)
            if half is None:
                continue
            left = both(allowed, around(bolt.at_deg - hole.at_deg, half))
            if left:
                place(index + 1, left, (*taken, number))

    place(0, EVERYWHERE, ())
    return tuple(found)


def _same_spacer(bolt: Bolt, hole: Bolt) -> bool:
    return abs((bolt.spacer_mm or 0) - (hole.spacer_mm or 0)) <= SPACER_MM + _ROUNDING_MM


def fit_mounts(seat: Mount | None, candidate: Mount | None, same_name: bool = False) -> MountFit:
    """Whether ``candidate`` goes on where ``seat`` was. ``same_name``: both are one and the same mount of one family."""
    if seat is None or candidate is None:
        return MountFit(None, (_about(_lacking(seat is None, candidate is None), MountNotStated()),))
    if same_name:
        turn, own = _free_turn(seat.bolts, candidate.bolts), _own_turn(candidate.bolts)
        left = None if turn is None else _turn(turn, own)
        return MountFit(True, (_about(Side.CANDIDATE, SameMount(seat.name, left)),), turn, own)
    shaft, bolted = _shaft(seat.shaft, candidate.shaft), _bolts(seat.bolts, candidate.bolts)
    against = tuple(one for one in (shaft, bolted.reason) if isinstance(one, Reason) and one.outcome is Outcome.AGAINST)
    if against:
        return MountFit(False, against)
    missing = tuple(one for one in (shaft, bolted.reason) if isinstance(one, Reason))
    if missing or bolted.turn_deg is None or isinstance(shaft, Reason):
        return MountFit(None, missing)
    own = _own_turn(candidate.bolts)
    fits = MountFits(shaft, len(seat.bolts), bolted.bore, _turn(bolted.turn_deg, own))
    return MountFit(True, (_about(Side.CANDIDATE, fits),), bolted.turn_deg, own)


def _about(side: Side, detail: Detail) -> Reason:
    return Reason(detail, Subject(side, Of.MOUNT))


def _lacking(original: bool, candidate: bool) -> Side:
    """Who lacks something."""
    return Side.BOTH if original and candidate else Side.ORIGINAL if original else Side.CANDIDATE


def _turn(left: float, own: float | None) -> Turn:
    lost = own is not None and own - left > _SPARE_DEG
    # A tenth of a degree is finer than anybody sets a switch.
    return Turn(round(left, 1), round(own, 1) if own is not None and lost else None, left < SCANT_TURN_DEG <= (own or 0))


def _free_turn(seat: Sequence[Bolt], candidate: Sequence[Bolt]) -> float | None:
    return _bolts(seat, candidate).turn_deg


def _own_turn(bolts: Sequence[Bolt]) -> float | None:
    return _free_turn(bolts, bolts)


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


def _bolts(seat: Sequence[Bolt], candidate: Sequence[Bolt]) -> _Bolted:
    if not seat or not candidate:
        return _Bolted(None, reason=_about(_lacking(not seat, not candidate), BoltsNotStated()))
    if len(candidate) < len(seat):
        return _Bolted(False, reason=_about(Side.CANDIDATE, TooFewHoles(len(seat), len(candidate))))
    bolts, holes = tuple(seat), tuple(candidate)
    lacks = any(bolt.bolt_mm is None for bolt in bolts), any(hole.hole_mm is None for hole in holes)
    if any(lacks):
        return _Bolted(None, reason=_about(_lacking(*lacks), BoltSizeNotStated()))
    minded = _turns(bolts, holes, True)
    if minded:
        for _, taken in minded:
            pairs = _pairs(bolts, holes, taken)
            if not any(_one_spacer_only(*pair) for pair in pairs):
                return _Bolted(True, max(width(left) for left, _ in minded), _bore(pairs))
        return _Bolted(None, reason=_spacers_not_stated(_pairs(bolts, holes, minded[0][1])))
    unminded = _turns(bolts, holes, False)
    if unminded:
        pairs = _pairs(bolts, holes, unminded[0][1])
        if any(one.spacer_mm is None or other.spacer_mm is None for one, other in pairs):
            return _Bolted(None, reason=_spacers_not_stated(pairs))
        return _Bolted(False, reason=_about(Side.CANDIDATE, SpacerDiffers(tuple(_spacers(pairs)))))
    mirrored = tuple(Bolt(h.at_mm, -h.at_deg, h.bolt_mm, h.hole_mm, h.slot_deg, h.spacer_mm) for h in holes)
    detail = MirrorImage() if _turns(bolts, mirrored, False) else _apart(bolts, holes)
    return _Bolted(False, reason=_about(Side.CANDIDATE, detail))


def _pairs(bolts: Sequence[Bolt], holes: Sequence[Bolt], taken: Sequence[int]) -> list[tuple[Bolt, Bolt]]:
    return [(bolt, holes[number]) for bolt, number in zip(bolts, taken, strict=True)]


def _one_spacer_only(bolt: Bolt, hole: Bolt) -> bool:
    """Where a spacer is stated on one side and nothing is said on the other, equal is a guess."""
    return (bolt.spacer_mm is None) != (hole.spacer_mm is None) and bool(bolt.spacer_mm or hole.spacer_mm)


def _spacers_not_stated(pairs: Sequence[tuple[Bolt, Bolt]]) -> Reason:
    """Whose spacers are to be measured: where one side states them it is the other's."""
    open_ = [pair for pair in pairs if (pair[0].spacer_mm is None) != (pair[1].spacer_mm is None)]
    open_ = open_ or [pair for pair in pairs if pair[0].spacer_mm is None]
    side = _lacking(any(bolt.spacer_mm is None for bolt, _ in open_), any(hole.spacer_mm is None for _, hole in open_))
    return _about(side, SpacerNotStated(tuple(bolt.at_deg for bolt, _ in open_)))


def _spacers(pairs: Sequence[tuple[Bolt, Bolt]]) -> Iterator[SpacerApart]:
    for bolt, hole in pairs:
        if not _same_spacer(bolt, hole):
            assert bolt.spacer_mm is not None and hole.spacer_mm is not None
            yield SpacerApart(bolt.at_deg, bolt.spacer_mm, hole.spacer_mm)


def _bore(pairs: Sequence[tuple[Bolt, Bolt]]) -> Bore | None:
    for bolt, hole in pairs:
        if hole.bolt_mm and bolt.bolt_mm and hole.bolt_mm != bolt.bolt_mm:
            return Bore(hole.bolt_mm, bolt.bolt_mm)
    return None


def _apart(bolts: Sequence[Bolt], holes: Sequence[Bolt]) -> Detail:
    for bolt in bolts:
        if not any(half_travel(bolt, hole) is not None for hole in holes):
            assert bolt.bolt_mm is not None
            return NoHoleForBolt(bolt.bolt_mm, bolt.at_mm, tuple(Hole(hole.hole_mm or 0.0, hole.at_mm) for hole in holes))
    return HolesElsewhere(tuple(bolt.at_deg for bolt in bolts), tuple(hole.at_deg for hole in holes))
