"""A candidate's holes and slots against the bolts of a gearbox, about the shaft.

The bolts of a seat stand where the original's mount has them. The candidate takes them if, turned as a whole by some
angle, it has for each bolt a hole of its own in which the bolt's middle can stand: a hole or slot is the set of points
no farther than the clearance, (hole - bolt) / 2, from its middle line, an arc about the shaft. It is never turned over.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from rangebook.book.model import Bolt, Mount, Shaft
from rangebook.mounting.arcs import EVERYWHERE, Intervals, around, both, width

SPACER_MM = 0.5
"""Spacers that differ by no more than this are the same."""

SHAFT_MM = 0.1
"""Shafts that differ by no more than this across are the same. Common practice, no source: a calliper reads to this."""

_ROUNDING_MM = 1e-9


@dataclass(frozen=True, slots=True)
class MountFit:
    """``fits`` is ``None`` where it is not known. ``reasons`` are plain sentences; ``turn_deg`` is how far the switch can
    be turned about the shaft for setting it once the bolts are in, ``own_turn_deg`` how far it could be on bolts that stand
    in the middle of its slots; ``None`` where it does not fit or is not known."""

    fits: bool | None
    reasons: tuple[str, ...]
    turn_deg: float | None = None
    own_turn_deg: float | None = None


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
        whose = "neither part" if seat is None and candidate is None else "the original" if seat is None else "this one"
        verb = "says" if whose == "neither part" else "does not say"
        return MountFit(None, (f"{whose} {verb} how it bolts on: measure shaft, bolt holes and spacers",))
    if same_name:
        return MountFit(
            True, (f"it bolts on the same way ({seat.name})",), _free_turn(seat.bolts, candidate.bolts), _own_turn(candidate.bolts)
        )
    reasons: list[str] = []
    shaft, shaft_words = _shaft(seat.shaft, candidate.shaft)
    if shaft is False:
        reasons.append(shaft_words)
    bolts, turn, bolt_words = _bolts(seat.bolts, candidate.bolts)
    if bolts is False:
        reasons.append(bolt_words)
    if reasons:
        return MountFit(False, tuple(reasons))
    if shaft is None or bolts is None:
        return MountFit(None, tuple(words for known, words in ((shaft, shaft_words), (bolts, bolt_words)) if known is None))
    return MountFit(True, (f"{shaft_words}; {bolt_words}",), turn, _own_turn(candidate.bolts))


def _free_turn(seat: Sequence[Bolt], candidate: Sequence[Bolt]) -> float | None:
    known, turn, _ = _bolts(seat, candidate)
    return turn if known else None


def _own_turn(bolts: Sequence[Bolt]) -> float | None:
    return _free_turn(bolts, bolts)


def _shaft(seat: Shaft | None, candidate: Shaft | None) -> tuple[bool | None, str]:
    one, other = seat or Shaft(None, None), candidate or Shaft(None, None)
    if one.shape and other.shape and one.shape != other.shape:
        return False, f"another shaft: {_shaft_words(one)} on this gearbox, {_shaft_words(other)} in this one"
    if one.across_mm and other.across_mm and abs(one.across_mm - other.across_mm) > SHAFT_MM + _ROUNDING_MM:
        return False, f"another shaft: {one.across_mm:g} mm across on this gearbox, {other.across_mm:g} mm in this one"
    if None in (one.shape, other.shape, one.across_mm, other.across_mm):
        whose = "the original" if None in (one.shape, one.across_mm) else "this one"
        return None, f"the shaft of {whose} is not stated in full: measure its shape and its size across"
    return True, f"same shaft ({_shaft_words(one)})"


def _shaft_words(shaft: Shaft) -> str:
    size = f", {shaft.across_mm:g} mm" if shaft.across_mm else ""
    return f"{shaft.shape}{size}"


def _bolts(seat: Sequence[Bolt], candidate: Sequence[Bolt]) -> tuple[bool | None, float | None, str]:
    if not seat or not candidate:
        whose = "the original" if not seat else "this one"
        return None, None, f"the bolt holes of {whose} are not stated: measure where they stand about the shaft"
    if len(candidate) < len(seat):
        return False, None, f"{_count(len(seat), 'bolt')} on this gearbox, {_count(len(candidate), 'hole')} in this one"
    bolts, holes = tuple(seat), tuple(candidate)
    if any(bolt.bolt_mm is None for bolt in bolts) or any(hole.hole_mm is None for hole in holes):
        whose = "the original's bolts" if any(bolt.bolt_mm is None for bolt in bolts) else "this one's holes"
        return None, None, f"the size of {whose} is not stated: measure it"
    minded = _turns(bolts, holes, True)
    if minded:
        # Where a spacer is stated on one side and nothing is said on the other, equal is a guess.
        for _, taken in minded:
            pairs = [(bolt, holes[number]) for bolt, number in zip(bolts, taken, strict=True)]
            if all((bolt.spacer_mm is None) == (hole.spacer_mm is None) or not (bolt.spacer_mm or hole.spacer_mm) for bolt, hole in pairs):
                turn = max(width(left) for left, _ in minded)
                return True, turn, f"its holes take the {_count(len(bolts), 'bolt')}{_loose(pairs)}"
        return None, None, "whether the spacers are the same is not stated: measure them"
    unminded = _turns(bolts, holes, False)
    if unminded:
        _, taken = unminded[0]
        if any(bolt.spacer_mm is None or holes[number].spacer_mm is None for bolt, number in zip(bolts, taken, strict=True)):
            return None, None, "whether the spacers are the same is not stated for every bolt: measure them"
        return False, None, f"the bolts stand right but the spacers do not: {_spacers(bolts, holes, taken)}"
    mirrored = tuple(Bolt(h.at_mm, -h.at_deg, h.bolt_mm, h.hole_mm, h.slot_deg, h.spacer_mm) for h in holes)
    if _turns(bolts, mirrored, False):
        return False, None, "its bolt holes are the mirror image: it would only go on turned over"
    return False, None, _apart(bolts, holes)


def _spacers(bolts: Sequence[Bolt], holes: Sequence[Bolt], taken: Sequence[int]) -> str:
    words = []
    for bolt, number in zip(bolts, taken, strict=True):
        hole = holes[number]
        if not _same_spacer(bolt, hole):
            words.append(f"at {bolt.at_deg:g}° a spacer of {bolt.spacer_mm:g} mm on this gearbox, {hole.spacer_mm:g} mm in this one")
    return "; ".join(words)


def _loose(pairs: Sequence[tuple[Bolt, Bolt]]) -> str:
    for bolt, hole in pairs:
        if hole.bolt_mm and bolt.bolt_mm and hole.bolt_mm != bolt.bolt_mm:
            return f" (its holes are made for {hole.bolt_mm:g} mm bolts, this gearbox has {bolt.bolt_mm:g} mm)"
    return ""


def _apart(bolts: Sequence[Bolt], holes: Sequence[Bolt]) -> str:
    for bolt in bolts:
        if not any(half_travel(bolt, hole) is not None for hole in holes):
            return (
                f"no hole of this one takes the {bolt.bolt_mm:g} mm bolt that stands {bolt.at_mm:g} mm from the shaft; its holes: "
                + ", ".join(f"{hole.hole_mm:g} mm wide at {hole.at_mm:g} mm" for hole in holes)
            )
    return (
        f"the bolts stand at {_angles(bolts)} on this gearbox and the holes at {_angles(holes)} in this one: "
        "no turn about the shaft brings them together"
    )


def _angles(bolts: Sequence[Bolt]) -> str:
    return ", ".join(f"{bolt.at_deg:g}°" for bolt in bolts)


def _count(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
