"""How to prove a part with a meter, and what its readings tell."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from rangebook.book.model import CASE, Part
from rangebook.desk.fit import find_part
from rangebook.desk.notes import Note, said_of
from rangebook.desk.proof_sheets import ProvedAt, bench_pins, explanation_data, fault_kind, places, sheets, tables
from rangebook.electrics.behaviour import behaviour
from rangebook.electrics.cells import CLOSED_BELOW_OHMS, DRIFT, METER, OPEN_ABOVE_OHMS, SHUNT_SIEMENS, WORN_LEADS_OHMS, Cell, reading_fits
from rangebook.electrics.codes import CodeTable, Fault, code_table, single_faults
from rangebook.electrics.diagnosis import MOST_COMPARED, Diagnosis, Next, Reading, diagnose, further
from rangebook.electrics.faults import BESIDE_GOOD, KINDS, Explanation
from rangebook.electrics.insulation import OTHERS, circuits_of, insulation
from rangebook.electrics.ladder import Window, window_of
from rangebook.electrics.proof import ProofSheet, Telling, proof_sheet, tell_apart
from rangebook.electrics.relation import MAX_TOLERANCE_PERCENT, Relation
from rangebook.fitting.check_behaviour import own_wiring, spans_between
from rangebook.fitting.check_safety import known_circuits
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat, circuits_on
from rangebook.words.book import number_words, when_words
from rangebook.words.catalogue import Words, say


class ReadingError(ValueError):
    """A reading that cannot be understood; the message says what was expected."""


@dataclass(frozen=True, slots=True)
class Proof:
    """Everything with which a part can be proved.

    ``bench`` is for the part alone, all its pins at hand; ``at_plug`` for each seat that it came with, through the wires.
    ``codes`` with ``faults`` where it has code lines; ``windows`` are, for each seat whose module reads a ladder, the volts
    by position.
    """

    part: Part
    positions: tuple[str, ...]
    bench: ProofSheet
    at_plug: tuple[tuple[Seat, ProofSheet], ...]
    codes: CodeTable | None
    faults: tuple[Fault, ...]
    windows: tuple[tuple[Seat, dict[str, Window | None]], ...]


def prove(fitter: Fitter, number: str, seat: str = "") -> Proof:
    """The proof of one part, at the plugs that it came on or at the ``seat`` of that name. Raises ``NotInBook``, :class:`ReadingError`."""
    part = find_part(fitter.book, number)
    positions = fitter.book.family_of(part).positions
    if seat:
        named = ((_of_name(one.seats, seat)[0], one) for one in _places(fitter, part, seat))
        at_plug = tuple((of, proof_sheet(one.part, one.pin_of, one.positions, one.circuits)) for of, one in named)
    else:
        at_plug = tuple((one, _at_plug(one, part)) for one in fitter.seats_of.get(part.key, ()))
    codes = code_table(part, positions)
    return Proof(
        part,
        positions,
        proof_sheet(part, bench_pins(part), positions, circuits_of(part, circuits_on(fitter.book, fitter.book.family_of(part)))),
        at_plug,
        codes,
        tuple(single_faults(codes)) if codes and codes.known else (),
        tuple((one, _windows(one)) for one, _ in at_plug if one.plug.reads),
    )


def _of_name(seats: Sequence[Seat], name: str) -> list[Seat]:
    """The seats that a name may mean: the plug's, alone, or behind its family's id, or with the part that came there behind that too."""
    names = ((one, (one.plug.name, one.family.id, one.original.number)) for one in seats)
    return [one for one, (plug, family, came) in names if name in (plug, f"{family}/{plug}", f"{family}/{plug}/{came}")]


def _places(fitter: Fitter, part: Part, seat: str) -> list[ProvedAt]:
    """The places of a part that have a seat of that name. Raises :class:`ReadingError` where there is none."""
    known = list(places(fitter, part))
    found = [one for one in known if _of_name(one.seats, seat)]
    if not found:
        named = dict.fromkeys(one.plug.name for at in known for one in at.seats)
        raise ReadingError(say("prove.no_plug", number=part.number, plug=repr(seat), plugs=tuple(named)))
    return found


def _at_plug(seat: Seat, part: Part) -> ProofSheet:
    pin_of = tuple(seat.meets.items())
    here = seat.on_lever.part if seat.on_lever else part
    return proof_sheet(here, pin_of, seat.positions, known_circuits(seat, here, seat.meets))


def _windows(seat: Seat) -> dict[str, Window | None]:
    reads = seat.plug.reads
    assert reads is not None
    row = spans_between(own_wiring(seat), *reads.pins, seat.positions)
    return {position: span and window_of(span, reads) for position, span in zip(seat.positions, row, strict=True)}


def apart(fitter: Fitter, number: str, other: str) -> tuple[Part, Part, Telling | None]:
    """Two parts and the one probe pair that tells them apart best. Raises ``NotInBook``."""
    one, two = find_part(fitter.book, number), find_part(fitter.book, other)
    shared = [pin for pin in one.pins or () if pin in (two.pins or ())]
    positions = tuple(at for at in fitter.book.family_of(one).positions if at in fitter.book.family_of(two).positions)
    return one, two, tell_apart(one, two, (*shared, CASE), positions)


_READING = re.compile(r"\s*((?:[A-Za-z][\w-]*\.)?\w+)\s*[-:]\s*((?:[A-Za-z][\w-]*\.)?\w+)\s+([^\s=]+)\s*[ =]\s*(.+?)\s*\Z")
_OHMS = re.compile(r"\s*([0-9]{1,12}(?:[.,][0-9]{0,12})?|[.,][0-9]{1,12})\s*([kKM]?)\s*(?:[oO][hH][mM][sS]?|[\u03a9\u2126])?\s*")
_BARE = re.compile(r"[0-9.,]+")
_NO_PATH = ("open", "ol", "o.l", "o.l.", "0l", "inf", "∞")
_THOUSANDS = re.compile(r"\s*[0-9]{1,3},[0-9]{3}(?![0-9.,])")
_FACTORS = {"": 1.0, "k": 1e3, "K": 1e3, "M": 1e6}


def reading_rules() -> dict[str, Any]:
    """How what a meter shows is read, and when a path counts as closed or open, as JSON data for the browser: texts for no path, the
    patterns of a number and of one that some would read otherwise, factors by their letters, the limits, and how faults are told."""
    return {
        "no_path": list(_NO_PATH),
        "number": _OHMS.pattern,
        "unclear": _THOUSANDS.pattern,
        "factors": _FACTORS,
        "closed_below": CLOSED_BELOW_OHMS,
        "open_above": OPEN_ABOVE_OHMS,
        "widest_percent": MAX_TOLERANCE_PERCENT,
        "meter": METER,
        "drift": list(DRIFT),
        "shunt": list(SHUNT_SIEMENS),
        "worn_leads": list(WORN_LEADS_OHMS),
        "kinds": [kind for one in KINDS for kind in _called(one)],
        "beside_good": [kind for one in KINDS if one in BESIDE_GOOD for kind in _called(one)],
        "most_compared": MOST_COMPARED,
    }


def _called(kind: str) -> tuple[str, ...]:
    """A kind of fault as the catalogue has it, as by ``fault_kind``."""
    return ("detent+", "detent-") if kind == "detent" else (kind,)


def parse_ohms(text: str) -> float | None:
    """What a meter shows -> ohms, infinite for no path, ``None`` where it cannot be understood.

    ``4.3k``, ``4,3 k``, ``0.2``, ``2 M``, ``OL``. Refused: a small m, which is a thousandth and not a million, and ``1,200``, which is
    1.2 to some and 1200 to others.
    """
    if text.strip().lower() in _NO_PATH:
        return float("inf")
    found = _OHMS.fullmatch(text)
    if not found or _THOUSANDS.match(text):
        return None
    value, factor = found.groups()
    return float(value.replace(",", ".")) * _FACTORS[factor]


def units_asked(text: str, expected: Cell) -> tuple[str, ...]:
    """What a figure without a unit may mean, as texts that leave no doubt: ``4.7`` where 4.7 k is near what should be read. Empty where
    there is no doubt."""
    bare = text.strip()
    ohms = parse_ohms(bare)
    if not isinstance(expected, Relation) or not expected.ohms or ohms is None or not _BARE.fullmatch(bare) or reading_fits(expected, ohms):
        return ()
    likely = [bare + letter for letter in "kM" if DRIFT[0] <= ohms * _FACTORS[letter] / expected.ohms <= DRIFT[1]]
    return (f"{bare} ohm", *likely) if likely else ()


def parse_reading(text: str, at: ProvedAt) -> Reading:
    """``1-2 P 0.3``, ``5-case R 4.3k`` or ``3-4 N open`` -> a reading; ``2-others R open`` of an output's insulation.

    Raises :class:`ReadingError`.
    """
    found = _READING.match(text)
    if not found:
        raise ReadingError(say("prove.no_reading", reading=repr(text)))
    a, b, position, value = found.groups()
    number, terminals = at.part.number, tuple(one for one, _ in at.pin_of if one != CASE)
    if a == b:
        raise ReadingError(say("prove.same_pin", reading=repr(text)))
    if b == OTHERS:
        insulated = tuple(one.terminal for one in insulation(at.part, at.pin_of, at.positions, at.circuits)[0])
        if a not in insulated:
            raise ReadingError(say("prove.no_insulation", reading=repr(text), number=number, pins=insulated))
    for pin in (a, b) if b != OTHERS else ():
        if pin != CASE and pin not in terminals:
            raise ReadingError(say("prove.no_pin", reading=repr(text), number=number, pin=pin, pins=terminals))
    if position not in at.positions:
        raise ReadingError(say("prove.no_position", reading=repr(text), position=position, positions=at.positions))
    ohms = parse_ohms(value)
    if ohms is None:
        raise ReadingError(say("prove.no_ohms", reading=repr(text), value=value))
    if b != OTHERS and (
        units := units_asked(value, behaviour(at.part, at.pin_of, at.positions).between(a, b)[at.positions.index(position)])
    ):
        raise ReadingError(say("prove.which_unit", reading=repr(text), units=units))
    return Reading(a, b, position, ohms)


@dataclass(frozen=True, slots=True)
class Explained:
    """What explains readings: the same as the part's page says of them. ``beyond`` is a reading between terminals that no line of the sheet
    has, where none of these tells causes apart; ``notes`` what the family's own notes say of such faults."""

    part: Part
    found: Diagnosis
    beyond: Next | None
    notes: tuple[Note, ...]


def explain(fitter: Fitter, number: str, texts: Sequence[str], seat: str = "") -> Explained:
    """What explains readings taken on the bench, or at the ``seat`` of that name. Raises ``NotInBook`` and :class:`ReadingError`."""
    part = find_part(fitter.book, number)
    at = _places(fitter, part, seat)[0] if seat else next(places(fitter, part))
    readings = [parse_reading(text, at) for text in texts]
    what = (at.part, at.pin_of, at.positions, readings, at.circuits, at.others)
    told = diagnose(*what)
    kinds = {fault_kind(each) for one in told.told for each in (one.of or (one,))}
    notes = (
        tuple(said_of(fitter.book.family_of(part), part, kinds)) if told.told and told.told[0].kind not in ("good", "not_proved") else ()
    )
    return Explained(part, told, None if told.next else further(*what, told), notes)


def as_data(fitter: Fitter, number: str, seat: str = "") -> dict[str, Any]:
    """How a part is proved, as JSON data: the sheets of its page, or those of the ``seat`` of that name. Raises ``NotInBook`` and
    :class:`ReadingError`."""
    part = find_part(fitter.book, number)
    wanted = [one.seats for one in _places(fitter, part, seat)] if seat else None
    return {
        "number": part.number,
        "reading": reading_rules(),
        "sheets": [
            {
                "plugs": list(dict.fromkeys(seat.plug.name for seat in one.seats)),
                "positions": list(one.proof.positions),
                "lines": [[line.a, line.b] for line in one.proof.lines],
                **tables(one.faults),
            }
            for one in sheets(fitter, part)
            if wanted is None or one.seats in wanted
        ],
    }


def explained_data(one: Explained) -> dict[str, Any]:
    """What explains readings, as JSON data."""
    return {
        "number": one.part.number,
        "told": [explanation_data(each) for each in one.found.told],
        "next": one.found.next and one.found.next._asdict(),
        "beyond": one.beyond and one.beyond._asdict(),
        "notes": [{"head": note.head, "text": note.text} for note in one.notes],
    }


# Words ----------------------------------------------------------------------------------------------------------------


def proof_lines(proof: Proof) -> Iterator[tuple[str, str]]:
    """The proof in words, each line with its style."""
    yield "head", say("prove.head", number=number_words(proof.part))
    if proof.part.revisions:
        designs = tuple(filter(None, (when_words(one.when) for one in proof.part.revisions)))
        yield "caution", say("prove.designs", count=len(proof.part.designs), designs=designs)
    yield "plain", say("prove.meter", closed_ohms=CLOSED_BELOW_OHMS, open_megohms=OPEN_ABOVE_OHMS / 1e6)
    yield "plain", ""
    yield "head", say("prove.bench")
    yield from _sheet(proof.bench)
    for one in proof.part.contacts or ():
        if one.overlaps:
            yield "unknown", f"  {say('prove.overlaps', a=one.a, b=one.b, positions=one.overlaps)}"
    for seat, sheet in proof.at_plug:
        yield "plain", ""
        yield "head", say("prove.plug", plug=seat.plug.name)
        yield from _sheet(sheet)
    for seat, windows in proof.windows:
        yield "plain", ""
        yield "head", say("prove.module", plug=seat.plug.name)
        for position, found in windows.items():
            volts = say("prove.volts", nominal=found.nominal, low=found.low, high=found.high) if found else say("prove.no_volts")
            yield "plain", f"  {position:3} {volts}"
    if proof.codes:
        yield "plain", ""
        yield from _codes(proof.codes, proof.faults)


def relation_words(found: Relation) -> Words:
    """What a meter should show."""
    return say("prove.reads", path=found.path, ohms=found.ohms, tolerance=found.tolerance_percent)


def _sheet(sheet: ProofSheet) -> Iterator[tuple[str, str]]:
    if not sheet.lines:
        yield "plain", f"  {say('prove.nothing')}"
    else:
        rows = [[say("prove.probe"), *sheet.positions]]
        rows += [[f"{one.a} - {one.b}", *map(relation_words, one.expected)] for one in sheet.lines]
        widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
        for row in rows:
            yield "plain", "  " + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        if not sheet.exact:
            yield "plain", f"  {say('prove.not_fewest')}"
    for one in sheet.insulation:
        yield "plain", f"  {say('prove.insulation', terminal=one.terminal, tied=one.tied)}"
    yield from unproved_lines(sheet)


def unproved_lines(sheet: ProofSheet) -> Iterator[tuple[str, str]]:
    """What stays unproved of a part even if every reading of a sheet is right, each line with its style."""
    for one in sheet.insulation:
        if one.left_out:
            yield "unknown", f"  {say('prove.left_out', terminal=one.terminal, left_out=one.left_out)}"
    for terminal in sheet.deferred:
        yield "unknown", f"  {say('prove.deferred', terminal=terminal)}"
    for (a, b), where in sheet.unproved:
        yield "plain", f"  {say('prove.unproved', a=a, b=b, positions=where)}"
    for a, b in sheet.unstated:
        yield "plain", f"  {say('prove.unstated', a=a, b=b)}"


def _codes(table: CodeTable, faults: Sequence[Fault]) -> Iterator[tuple[str, str]]:
    lines = tuple(say("prove.code_line", line=line, pin=pin) for line, pin in zip(table.lines, table.pins, strict=True))
    yield "head", say("prove.codes", lines=lines)
    for position, word in table.words.items():
        yield "plain", f"  {position:3} {''.join('?' if bit is None else str(bit) for bit in word)}"
    for a, b in table.alike:
        yield "no", f"  {say('prove.alike', a=a, b=b)}"
    if not table.known:
        yield "plain", f"  {say('prove.bits_not_known')}"
        return
    yield "plain", f"  {say('prove.distance', lines=table.distance or 0, parity=table.parity)}"
    misleading = [one for one in faults if one.misleads]
    if not misleading:
        yield "plain", f"  {say('prove.no_misleading')}"
    for one in misleading:
        text = say("prove.misleading", line=one.line, shorted=one.shorted, position=one.position, believed=one.believed)
        yield "unknown", f"  {text}"


def explanation_words(one: Explanation) -> Words:
    """One explanation in words."""
    if one.kind == "pair":
        return say("prove.both_faults", one=explanation_words(one.of[0]), other=explanation_words(one.of[1]))
    a, b, position = (*one.about, "", "", "")[:3]
    return say("prove.explanation", kind=fault_kind(one), a=a, b=b, position=position, about=one.about)
