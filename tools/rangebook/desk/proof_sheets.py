"""The proof sheets of a part with the readings of every single fault: what a page needs to say what a meter's readings tell."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import inf
from typing import Any

from rangebook.book.book import Book
from rangebook.book.model import CASE, Part
from rangebook.desk.metered import told_by
from rangebook.electrics.behaviour import PinOf
from rangebook.electrics.cells import Between, Cell, Common, Either, Row
from rangebook.electrics.faults import Explanation, Faults, faults_of
from rangebook.electrics.insulation import Known, circuits_of, outputs_of
from rangebook.electrics.proof import ProofSheet, proof_sheet
from rangebook.electrics.relation import PathKind
from rangebook.fitting.check_mating import place_of
from rangebook.fitting.check_needs import together
from rangebook.fitting.check_safety import known_circuits
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.on_lever import on_lever
from rangebook.fitting.seats import Seat, circuits_on
from rangebook.reasons.reason import Check, Outcome


@dataclass(frozen=True, slots=True)
class Sheet:
    """One place to prove a part: on the bench where ``seats`` is empty, else at the plug of these seats, which are all alike.

    ``faults`` are what the good part reads at the lines of ``proof``, one by one, and each single fault that something here would show.
    """

    seats: tuple[Seat, ...]
    proof: ProofSheet
    faults: Faults
    moved: Mapping[str, str | None] = field(default_factory=dict)
    """Terminal -> the pin of the part that it meets, where that has another label: through a kit, or with wires moved."""
    tells: tuple[tuple[int, tuple[int, ...]], ...] = ()
    """Place of a line -> the places of the part's contacts that a reading there tells of, as ``told_by`` has them."""


Outputs = tuple[tuple[str, frozenset[str]], ...]
"""Terminals of guarded circuits, each with the positions in which it may be joined to anything."""


@dataclass(frozen=True, slots=True)
class ProvedAt:
    """Where a part is proved: on the bench where ``seats`` is empty, else at the plug of these, which are all alike. ``part`` has its
    positions by the lever's names there, ``others`` are those that it may be taken for; the rest is as for ``faults_of``."""

    seats: tuple[Seat, ...]
    part: Part
    pin_of: PinOf
    positions: tuple[str, ...]
    circuits: Known
    others: tuple[Part, ...]


def places(fitter: Fitter, part: Part) -> Iterator[ProvedAt]:
    """The bench, then each plug that the part came on or goes on."""
    family = fitter.book.family_of(part)
    others = look_alikes(fitter.book, part)
    circuits = circuits_of(part, circuits_on(fitter.book, family))
    yield ProvedAt((), part, bench_pins(part), family.positions, circuits, tuple(others))
    alike: dict[tuple[Part, PinOf, tuple[str, ...], Outputs], list[Seat]] = {}
    for seat, place in _seats(fitter, part):
        pin_of = (*place.items(), (CASE, CASE))
        here = on_lever(fitter.book, seat.positions, seat.family, together(fitter.book, seat, part)).part
        outputs = tuple(outputs_of(pin_of, known_circuits(seat, here, place)).items())
        alike.setdefault((here, pin_of, seat.positions, outputs), []).append(seat)
    for (here, pin_of, lever, _), seats in alike.items():
        first = seats[0]
        # Another family's part can be the wrong one as well, where it bolts on and plugs in.
        further = [one.part for one in fitter.candidates(first) if one.part not in others and _is_look_alike(one.part, part)]
        can_be = [one for one in (*others, *further) if _can_be_on(fitter, first, one)]
        alike_here = tuple(on_lever(fitter.book, lever, first.family, together(fitter.book, first, one)).part for one in can_be)
        yield ProvedAt(tuple(seats), here, pin_of, lever, known_circuits(first, here, dict(pin_of)), alike_here)


def _can_be_on(fitter: Fitter, seat: Seat, part: Part) -> bool:
    """Whether a part can be on a vehicle at all, right or wrong: nothing speaks against its bolting on and plugging in."""
    checked = fitter.verdict(seat, part).checked
    return not any(one.check in (Check.MOUNT, Check.MATING) and one.outcome is Outcome.AGAINST for one in checked)


def sheets(fitter: Fitter, part: Part) -> list[Sheet]:
    """A part's proof on the bench, then through the wires of each plug that it came on or goes on."""
    found = []
    for one in places(fitter, part):
        sheet = sheet_of(one.part, one.pin_of, one.positions, one.circuits, one.seats, one.others)
        lines = [(line.a, line.b) for line in sheet.proof.lines]
        found.append(replace(sheet, tells=tuple(told_by(part, one.part, one.pin_of, lines))))
    return found


def bench_pins(part: Part) -> tuple[tuple[str, str], ...]:
    """The terminals on the bench: every pin, and the housing."""
    return tuple((pin, pin) for pin in (*(part.pins or ()), CASE))


def look_alikes(book: Book, part: Part) -> list[Part]:
    """The other parts of a family with the same connectors, of which it is stated what closes where."""
    family = book.family_of(part)
    return [one for one in family.parts if _is_look_alike(one, part)]


def _is_look_alike(one: Part, part: Part) -> bool:
    return one is not part and bool(one.sockets and one.sockets == part.sockets and one.contacts)


def _seats(fitter: Fitter, part: Part) -> Iterable[tuple[Seat, Mapping[str, str | None]]]:
    """Where the part sits, and which of its pins each wire meets there, through a kit between or moved wires too."""
    found = dict.fromkeys(seat for seat, how in fitter.seats_taken_by(part) if how == "came_with" or fitter.verdict(seat, part).goes_on)
    for seat in (*found, *(one for one in fitter.seats_gone_on(part) if one not in found)):
        place = place_of(fitter.book, seat, fitter.verdict(seat, part))
        if place is not None:
            yield seat, place


def sheet_of(
    part: Part, pin_of: PinOf, positions: tuple[str, ...], circuits: Known, seats: Sequence[Seat] = (), others: Sequence[Part] = ()
) -> Sheet:
    """The sheet of a part at the given terminals. ``pin_of``, ``circuits`` and ``others`` as for ``faults_of``."""
    proof = proof_sheet(part, pin_of, positions, circuits)
    lines = [(one.a, one.b) for one in proof.lines]
    faults = faults_of(part, pin_of, positions, circuits, lines, others)
    return Sheet(tuple(seats), proof, faults, {terminal: pin for terminal, pin in pin_of if terminal != pin})


def tables(faults: Faults) -> dict[str, Any]:
    """What readings are matched with, as JSON data: ``rows`` holds each row of readings once, ``good`` the place of a row for each line,
    ``known`` are ``[kind, ends, line and place of its row for each line that reads otherwise, bundles that it touches, places of
    the positions in which it does, place of its contact, whether it shows by itself]``; ``net`` is what two of them are reckoned from."""
    rows: dict[Row, int] = {}
    good = [rows.setdefault(row, len(rows)) for row in faults.good]
    known = [
        [
            fault_kind(one.explanation),
            list(one.about),
            [number for line, row in one.changed.items() for number in (line, rows.setdefault(row, len(rows)))],
            None if one.zone is None else sorted(one.zone),
            None if one.acts is None else sorted(one.acts),
            one.contact,
            int(one.shown),
        ]
        for one in faults.faults
    ]
    net = _net_data(faults, [rows.setdefault(row, len(rows)) for row in faults.net.raw])
    return {"rows": [[cell_token(one) for one in row] for row in rows], "good": good, "known": known, "net": net}


def _net_data(faults: Faults, raw: list[int]) -> dict[str, Any]:
    net = faults.net
    return {
        "contacts": [
            [
                one.a,
                one.b,
                one.bundle,
                int(one.ladder),
                int(one.one_way),
                one.percent,
                ["open" if ohms == inf else ohms for ohms in one.ohms],
            ]
            for one in net.contacts
        ],
        "pins": dict(net.pins),
        "tied": {terminal: list(tied) for terminal, tied in net.tied.items()},
        "loose": sorted(net.loose),
        "powered": sorted(net.powered),
        "electronics": net.electronics,
        "raw": raw,
        "zones": [sorted(one) for one in faults.zones],
    }


def cell_token(cell: Cell) -> Any:
    """A cell as JSON data: 1 closed, 0 open, ``None`` not known, ``[ohms, tolerance in percent]``; else its kind with its figures, no path
    as ``None``."""
    match cell:
        case Between(low, high):
            return {"between": [low, _finite(high)]}
        case Either(of):
            return {"either": [cell_token(one) for one in of]}
        case Common(low, high, times, beside):
            return {"common": [_finite(low), _finite(high), int(times), int(beside)]}
        case None:
            return None
    return [cell.ohms, cell.tolerance_percent] if cell.path is PathKind.OHMS else int(cell.path is PathKind.JOINED)


def _finite(ohms: float) -> float | None:
    return None if ohms == inf else ohms


def fault_kind(one: Explanation) -> str:
    """What a fault is called in the catalogue: its kind, and of one detent off also which way; ``good`` for the good part."""
    return f"detent{'+' if int(one.about[0]) > 0 else '-'}" if one.kind == "detent" else one.kind


def explanation_data(one: Explanation) -> dict[str, Any]:
    """What explains readings, as JSON data."""
    if one.kind == "pair":
        return {"kind": one.kind, "of": [explanation_data(each) for each in one.of]}
    return {"kind": fault_kind(one), "about": list(one.about)}
