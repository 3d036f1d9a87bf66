"""The proof sheets of a part with the readings of every single fault: what a page needs to say what a meter's readings tell."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from rangebook.book.model import CASE, Part
from rangebook.desk.prove import bench_pins
from rangebook.electrics.behaviour import PinOf
from rangebook.electrics.diagnosis import Explanation, Row, signatures
from rangebook.electrics.insulation import Known, circuits_of, outputs_of
from rangebook.electrics.proof import ProofSheet, proof_sheet
from rangebook.fitting.check_mating import place_of
from rangebook.fitting.check_needs import together
from rangebook.fitting.check_safety import known_circuits
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.on_lever import on_lever
from rangebook.fitting.seats import Seat, circuits_on
from rangebook.fitting.verdict import VerdictKind


@dataclass(frozen=True, slots=True)
class Sheet:
    """One place to prove a part: on the bench where ``seats`` is empty, else at the plug of these seats, which are all alike.

    ``known`` are the good part and each single fault that something here would show, the good part first, each with what would
    be read at the lines of ``proof``, one by one.
    """

    seats: tuple[Seat, ...]
    proof: ProofSheet
    known: tuple[tuple[Explanation, tuple[Row, ...]], ...]
    by_label: bool = True
    """Whether each wire meets the pin of its own label."""


Outputs = tuple[tuple[str, frozenset[str]], ...]
"""Terminals of guarded circuits, each with the positions in which it may be joined to anything."""


def sheets(fitter: Fitter, part: Part) -> list[Sheet]:
    """A part's proof on the bench, then through the wires of each plug that it came on or goes on as it is."""
    positions = fitter.book.family_of(part).positions
    family = fitter.book.family_of(part)
    found = [sheet_of(part, bench_pins(part), positions, circuits_of(part, circuits_on(fitter.book, family)))]
    alike: dict[tuple[Part, PinOf, tuple[str, ...], Outputs], list[Seat]] = {}
    for seat, place in _seats(fitter, part):
        pin_of = (*place.items(), (CASE, CASE))
        here = on_lever(fitter.book, seat.positions, seat.family, together(fitter.book, seat, part)).part
        outputs = tuple(outputs_of(pin_of, known_circuits(seat, here, place)).items())
        alike.setdefault((here, pin_of, seat.positions, outputs), []).append(seat)
    for (here, pin_of, lever, _), seats in alike.items():
        found.append(sheet_of(here, pin_of, lever, known_circuits(seats[0], here, dict(pin_of)), seats))
    return found


def _seats(fitter: Fitter, part: Part) -> Iterable[tuple[Seat, Mapping[str, str | None]]]:
    """Where the part sits with no kit between and no wire moved, and which of its pins each wire meets there."""
    for seat, how in fitter.seats_taken_by(part):
        verdict = fitter.verdict(seat, part)
        place = place_of(fitter.book, seat, verdict)
        if place is not None and (how == "came_with" or verdict.kind is VerdictKind.STRAIGHT):
            yield seat, place


def sheet_of(part: Part, pin_of: PinOf, positions: tuple[str, ...], circuits: Known, seats: Sequence[Seat] = ()) -> Sheet:
    """The sheet of a part at the given terminals. ``pin_of`` and ``circuits`` as for :func:`proof_sheet`."""
    proof = proof_sheet(part, pin_of, positions, circuits)
    known = signatures(part, pin_of, positions, circuits) if proof.lines else []
    return Sheet(
        tuple(seats),
        proof,
        tuple((one.explanation, tuple(one.row(line.a, line.b) for line in proof.lines)) for one in known),
        all(terminal == pin for terminal, pin in pin_of),
    )
