"""One vehicle with two answers and nothing that tells which.

Two applications of the same vehicle and gearbox, in the whole book, whose years and months of building overlap have the same plug (its
connector and wires) and came with the same part, or differ in ``engine``, ``drive``, ``lever`` or ``note``, in their months, or in
what they say under ``when``. Where one of them does not say which plug or part it has, nothing is contradicted.

Why it matters: somebody with this vehicle in the bay gets two answers and picks one. What tells them apart may be the engine, or the
month on the plate; it has to be written down.

Fails:

    kind: switch
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
          3: {circuit: backup_feed, colour: BN}
          4: {circuit: backup_out, colour: WH}
          5: {circuit: range_signal, colour: BU}
          6: {circuit: range_return, colour: BK}
      four-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
          3: {circuit: backup_feed, colour: BN}
          4: {circuit: backup_out, colour: WH}
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2010, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
      - {vehicle: Corran Delver 2.4, years: 2009-2012, gearbox: Tamblin Short, plug: four-wire, came_with: TB-20417}

Mended:

    kind: switch
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
          3: {circuit: backup_feed, colour: BN}
          4: {circuit: backup_out, colour: WH}
          5: {circuit: range_signal, colour: BU}
          6: {circuit: range_return, colour: BK}
      four-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
          3: {circuit: backup_feed, colour: BN}
          4: {circuit: backup_out, colour: WH}
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2010, gearbox: Tamblin Short, drive: two-wheel, plug: six-wire, came_with: TB-20417}
      - {vehicle: Corran Delver 2.4, years: 2009-2012, gearbox: Tamblin Short, drive: four-wheel, plug: four-wire, came_with: TB-20417}
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from dataclasses import dataclass
from typing import Any

from rangebook.book.model import Application, Family, Plug, Sockets, When
from rangebook.book.numbers import normalise
from rangebook.fitting.conditions import together
from rangebook.lint.context import WholeBook
from rangebook.lint.rule import BookCheck, Line, Problem, Severity, Told, place_of, problem, rule

_EVER = 9999

_Face = tuple[Sockets, frozenset[tuple[str, tuple[str, ...]]]]


@dataclass(frozen=True, slots=True)
class Row:
    """One application as this rule sees it: years and months of building, first and last, and the answer that it gives."""

    family: Family
    stated: Application
    years: tuple[int, int]
    months: tuple[str, str]
    plug: _Face | None
    part: str | None

    def differs(self, other: Row) -> tuple[str, str | None, str | None] | None:
        """What is certainly not the same in the two answers, and what the two say; ``None`` where nothing is."""
        if self.part and other.part and self.part != other.part:
            return "part", self.stated.came_with, other.stated.came_with
        if self.plug and other.plug and self.plug != other.plug:
            return "plug", self.stated.plug, other.stated.plug
        return None

    def overlaps(self, other: Row) -> bool:
        """Whether some vehicle may be in both; the same month of the change in both counts."""
        return _meet(self.years, other.years) and _meet(self.months, other.months) and _both(self.stated.when, other.stated.when)


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding at the later in the book of each two applications that give two answers for one vehicle."""
    groups: dict[Hashable, list[Row]] = {}
    for family in context.book.families.values():
        plugs = {name: _face(plug) for name, plug in family.plugs.items()}
        for one in family.applications:
            if _is_backwards(one):
                continue
            told_by = (one.vehicle, one.gearbox, one.engine, one.drive, one.lever, one.note)
            groups.setdefault(told_by, []).append(_line(family, one, plugs))
    for lines in groups.values():
        if len(lines) > 1:
            yield from _clashes(lines)


def _clashes(lines: list[Row]) -> Iterator[Problem]:
    """Two by two in the order of their first years, past ones left behind; one finding for each line that clashes."""
    order = {id(line): place for place, line in enumerate(lines)}
    told: dict[int, tuple[Row, Row, tuple[str, str | None, str | None]]] = {}
    running: list[Row] = []
    for line in sorted(lines, key=lambda one: one.years):
        running = [one for one in running if one.years[1] >= line.years[0]]
        for one in running:
            first, second = sorted((one, line), key=lambda each: order[id(each)])
            what = second.differs(first)
            if what and id(second) not in told and one.overlaps(line):
                told[id(second)] = (second, first, what)
        running.append(line)
    for second, first, what in sorted(told.values(), key=lambda one: order[id(one[0])]):
        stated = second.stated
        where = place_of(first.family.entry, first.stated.path).line
        code, own, other = what
        yield problem(
            second.family,
            (*stated.path, "vehicle"),
            code,
            vehicle=stated.vehicle,
            years=stated.years or "",
            own=own,
            other=other,
            line=Line(where),
            file=None if first.family is second.family else first.family.entry.file,
            other_years=first.stated.years,
        )


def _line(family: Family, one: Application, plugs: dict[str, _Face]) -> Row:
    since, until = one.built
    built = (since or "0000", until or str(_EVER))
    months = (built[0] if len(built[0]) > 4 else f"{built[0]}-01", built[1] if len(built[1]) > 4 else f"{built[1]}-12")
    if one.first_year is not None:
        years = (one.first_year, _EVER if one.last_year is None else one.last_year)
    else:
        # A model year may begin in the calendar year before it.
        years = (int(built[0][:4]), int(built[1][:4]) + 1)
    part = normalise(one.came_with) if one.came_with else None
    return Row(family, one, years, months, plugs.get(one.plug or ""), part)


def _face(plug: Plug) -> _Face:
    """What makes two plugs one, by whatever name: the connector, and which cavity carries which circuit."""
    return plug.sockets, frozenset((cavity, wire.circuits) for cavity, wire in plug.wires.items())


def _both(one: When | None, other: When | None) -> bool:
    """Whether a vehicle may meet both conditions."""
    return one is None or other is None or not all(False in truths for truths in together((one, other)))


def _is_backwards(one: Application) -> bool:
    """Years that ``years-backwards`` tells about say nothing here."""
    return one.first_year is not None and one.last_year is not None and one.first_year > one.last_year


def _meet(one: tuple[Any, Any], other: tuple[Any, Any]) -> bool:
    return bool(max(one[0], other[0]) <= min(one[1], other[1]))


_SAME = [
    ": line {line}",
    {"given": "file", "yes": " of {file}"},
    " is for the same vehicle and gearbox",
    {"given": "other_years", "yes": " ({other_years})"},
    ", and nothing tells them apart",
]
_FIX = "say what tells them apart: `engine`, `drive`, `from` or `to`, `when`, or a `note` on what to look at; or correct the years"

MESSAGES = {
    "part": Told(["{vehicle} {years} came with {own}, there with {other}", *_SAME], _FIX),
    "plug": Told(["{vehicle} {years} has plug {own}, there {other}", *_SAME], _FIX),
}

RULE = rule(__name__, __doc__, Severity.WARNING, BookCheck(WholeBook, check_book), messages=MESSAGES)
