"""The proof sheets of a part with the readings of every single fault: what a page needs to say what a meter's readings tell."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rangebook.book.model import Part
from rangebook.desk.prove import bench_pins, plug_circuits, plug_pins
from rangebook.electrics.behaviour import PinOf
from rangebook.electrics.diagnosis import Explanation, Row, signatures
from rangebook.electrics.insulation import circuits_of, outputs_of
from rangebook.electrics.proof import ProofSheet, proof_sheet
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
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


def sheets(fitter: Fitter, part: Part) -> list[Sheet]:
    """A part's proof on the bench, then through the wires of each plug that it came on or goes on as it is."""
    positions = fitter.book.family_of(part).positions
    found = [sheet_of(part, bench_pins(part), positions)]
    alike: dict[tuple[PinOf, tuple[str, ...], tuple[str, ...]], list[Seat]] = {}
    for seat in _seats(fitter, part):
        pin_of = plug_pins(seat)
        alike.setdefault((pin_of, seat.positions, tuple(outputs_of(pin_of, plug_circuits(seat, part)))), []).append(seat)
    found += [sheet_of(part, pin_of, lever, seats) for (pin_of, lever, _), seats in alike.items()]
    return found


def _seats(fitter: Fitter, part: Part) -> Iterable[Seat]:
    """Where the part sits with each wire of the plug on its own pin: no kit between them, and no wire moved."""
    for seat, how in fitter.seats_taken_by(part):
        if how == "came_with" or fitter.verdict(seat, part).kind is VerdictKind.STRAIGHT:
            yield seat


def sheet_of(part: Part, pin_of: PinOf, positions: tuple[str, ...], seats: Sequence[Seat] = ()) -> Sheet:
    """The sheet of a part at the given terminals. ``pin_of`` as for :func:`proof_sheet`."""
    circuits = plug_circuits(seats[0], part) if seats else circuits_of(part)
    proof = proof_sheet(part, pin_of, positions, circuits)
    known = signatures(part, pin_of, positions, circuits) if proof.lines else []
    return Sheet(
        tuple(seats),
        proof,
        tuple((one.explanation, tuple(one.row(line.a, line.b) for line in proof.lines)) for one in known),
    )
