"""Interchange that the facts show: what fits though nobody has said so, and in which directions two parts stand in for each other."""

from __future__ import annotations

from dataclasses import dataclass

from rangebook.book.model import Part
from rangebook.electrics.behaviour import behaviour
from rangebook.electrics.relation import CONDUCTS, PathKind
from rangebook.fitting.check_behaviour import own_wiring
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import VerdictKind


@dataclass(frozen=True, slots=True)
class Evidence:
    """How much was compared: wires, positions, and how many closed paths and resistances among them agreed."""

    wires: int
    positions: int
    closed: int
    resistances: int


def said(fitter: Fitter, old: Part, new: Part) -> bool:
    """Whether the makers say, directly or over others, that ``new`` takes the place of ``old``."""
    return any(one is new for one in fitter.successors(old))


def evidence(seat: Seat) -> Evidence:
    """What a part that fits a seat straight has been compared on."""
    original = own_wiring(seat)
    seen = behaviour(original.part, original.pairs, seat.positions)
    paths = [one.path for row in seen.pairs.values() for one in row]
    return Evidence(len(seat.plug.wires), len(seat.positions), sum(path in CONDUCTS for path in paths), paths.count(PathKind.OHMS))


def directions(fitter: Fitter, one: Part, other: Part) -> tuple[bool | None, bool | None]:
    """Whether ``other`` fits every seat that ``one`` came with, and the other way round; ``None`` where a part has no seat
    or some verdict is not known and none is against it."""
    return _for_all(fitter, one, other), _for_all(fitter, other, one)


def _for_all(fitter: Fitter, original: Part, candidate: Part) -> bool | None:
    kinds = {fitter.verdict(seat, candidate).kind for seat in fitter.seats_of.get(original.key, ())}
    if not kinds:
        return None
    if kinds & {VerdictKind.NO, VerdictKind.REWIRE}:
        return False
    return None if VerdictKind.UNKNOWN in kinds else True
