"""What a part does in each lever position: a row for each contact, a column for each position.

Closed is a filled bar, open is a gap between two dots, a resistance is its figure, and what is not stated is a question
mark. A bar ends at its column: what a contact does between two detents is not in the book.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from rangebook.book.model import CASE, Contact, Part, Signal
from rangebook.electrics.bundles import contact_ohms
from rangebook.site.drawings.canvas import add, drawing, path, render, write
from rangebook.site.drawings.lettering import text_width, wrap

WIDTH = 360
_SIDE = 6
_TEXT = 16
_HEAD = 19
_LINE = 21
_CELL = 30
_WIDEST = 72

_UNITS = {"volts": "volts", "duty_percent": "duty in percent", "frequency_hz": "frequency in hertz"}


@dataclass(frozen=True, slots=True)
class Cell:
    """One contact in one position: ``state`` is closed, open, ohms, value or unknown; ``text`` the figure, if any."""

    state: str
    text: str
    words: str


@dataclass(frozen=True, slots=True)
class Row:
    """One contact or powered output: what it joins, what is added to that in words, and a cell for each position."""

    name: str
    about: str
    cells: tuple[Cell, ...]


def contact_chart_svg(part: Part, positions: Sequence[str], circuits: Mapping[str, str] | None = None) -> str:
    """The behaviour of ``part`` over ``positions`` in lever order, as SVG text.

    ``circuits`` gives the plain words for a circuit's name. Positions that do not fit side by side on a phone go on in
    a second band below.
    """
    return render(_Chart(part, tuple(positions), circuits or {}).draw())


def ohms_words(ohms: float) -> str:
    """A resistance as it is written on a drawing, nothing rounded away: 4700 -> ``4.7k``, 330 -> ``330``."""
    for unit, size in (("M", 1e6), ("k", 1e3)):
        if ohms >= size:
            return f"{ohms / size:.6f}".rstrip("0").rstrip(".") + unit
    return f"{ohms:.6g}"


def rows_of(part: Part, positions: Sequence[str], circuits: Mapping[str, str] | None = None) -> list[Row]:
    """The chart's rows, contacts first and then powered outputs, each in the order of the entry."""
    names = circuits or {}
    return [
        *(_contact_row(part, contact, positions, names) for contact in part.contacts or ()),
        *(_signal_row(part, signal, positions, names) for signal in part.signals),
    ]


def _contact_row(part: Part, contact: Contact, positions: Sequence[str], names: Mapping[str, str]) -> Row:
    about = _circuit(part, names, contact.a, contact.b)
    if contact.ohms is not None:
        tolerance = f" ±{contact.tolerance_percent:g}\u00a0%" if contact.tolerance_percent is not None else ""
        about = f"{about}; in\u00a0Ω{tolerance}" if about else f"in\u00a0Ω{tolerance}"
    return Row(f"{_end(contact.a)} – {_end(contact.b)}", about, tuple(_contact_cell(contact, one) for one in positions))


def _contact_cell(contact: Contact, position: str) -> Cell:
    ohms = contact_ohms(contact, position)
    if ohms is None:
        return Cell("unknown", "?", "not stated")
    if ohms == 0:
        return Cell("closed", "", "closed")
    if math.isinf(ohms):
        return Cell("open", "", "open")
    return Cell("ohms", ohms_words(ohms), f"{ohms:g} ohms")


def _signal_row(part: Part, signal: Signal, positions: Sequence[str], names: Mapping[str, str]) -> Row:
    unit = _UNITS.get(signal.kind, signal.kind) if signal.kind else "unit not stated"
    fed = ", ".join(filter(None, (signal.supply and f"supply {signal.supply}", signal.ground and f"ground {signal.ground}")))
    tolerance = f" ±{signal.tolerance:g}" if signal.tolerance is not None else ""
    about = "; ".join(filter(None, (_circuit(part, names, signal.pin), f"powered output, {unit}{tolerance}", fed)))
    cells = tuple(
        Cell("value", f"{signal.values[one]:g}", f"{signal.values[one]:g}") if one in signal.values else Cell("unknown", "?", "not stated")
        for one in positions
    )
    return Row(signal.pin, about, cells)


def _circuit(part: Part, names: Mapping[str, str], *ends: str) -> str:
    found = [(part.pins or {}).get(end) for end in ends if end != CASE]
    return " to ".join(names.get(one, one.replace("_", " ")) for one in found if one)


def _end(end: str) -> str:
    return "case" if end == CASE else end


class _Chart:
    """One drawing while it is laid out."""

    def __init__(self, part: Part, positions: tuple[str, ...], names: Mapping[str, str]) -> None:
        self.part, self.positions = part, positions
        self.rows = rows_of(part, positions, names)
        texts = [cell.text for row in self.rows for cell in row.cells]
        needed = max(
            [34.0, *(text_width(text, _TEXT) + 8 for text in texts), *(text_width(one, _HEAD, bold=True) + 8 for one in positions)]
        )
        room = WIDTH - 2 * _SIDE
        most = max(1, int(room // needed))
        bands = max(1, math.ceil(len(positions) / most))
        self.per_band = math.ceil(len(positions) / bands) if positions else 1
        self.column = min(_WIDEST, room / self.per_band)

    def draw(self) -> Element:
        body = Element("g")
        y = 4.0
        if not self.rows:
            words = "None of its contacts is in the book: measure between each two pins in every position."
            for line in wrap(words, WIDTH - 2 * _SIDE, _TEXT):
                write(body, _SIDE, y + _LINE / 2, line, _TEXT)
                y += _LINE
        else:
            for first in range(0, len(self.positions), self.per_band):
                y = self._band(body, y, first)
            y = self._legend(body, y + 4)
        root = drawing("rb-contacts", f"What {self.part.number} does in each lever position", self._desc(), WIDTH, y + 4)
        root.append(body)
        return root

    def _band(self, body: Element, y: float, first: int) -> float:
        """The chart for the positions from ``first`` on, as many as stand side by side; the height below it is given back."""
        band = self.positions[first : first + self.per_band]
        y = self._heads(body, y, band)
        for row in self.rows:
            group = add(body, "g", "rb-row", data_pins=row.name)
            y += 6
            add(group, "path", "rb-divider", d=path(["M", _SIDE, y, "H", WIDTH - _SIDE]))
            y += 6
            y = self._row_words(group, row, y)
            for index, position in enumerate(band):
                x = _SIDE + index * self.column
                _draw_cell(group, row.cells[first + index], position, x, y, self.column)
            y += _CELL + 2
        return y + 8

    def _heads(self, body: Element, y: float, band: Sequence[str]) -> float:
        for index, position in enumerate(band):
            write(body, _SIDE + (index + 0.5) * self.column, y + 13, position, _HEAD, "rb-strong", "middle")
        return y + 26

    def _row_words(self, group: Element, row: Row, y: float) -> float:
        after = text_width(row.name, _TEXT, bold=True) + 12
        write(group, _SIDE, y + _LINE / 2, row.name, _TEXT, "rb-strong")
        lines = wrap(row.about, WIDTH - 2 * _SIDE - after, _TEXT)
        for line in lines:
            write(group, _SIDE + after, y + _LINE / 2, line, _TEXT, "rb-soft")
            y += _LINE
        return y + (2 if lines else _LINE + 2)

    def _legend(self, body: Element, y: float) -> float:
        """What the signs mean: only those that are on this chart."""
        used = dict.fromkeys(cell.state for row in self.rows for cell in row.cells)
        words = {"closed": "closed", "open": "open", "unknown": "not stated: measure it"}
        x = float(_SIDE)
        for state, text in words.items():
            if state not in used:
                continue
            wide = 44 + text_width(text, _TEXT) + 14
            if x > _SIDE and x + wide > WIDTH - _SIDE:
                x, y = float(_SIDE), y + _CELL + 2
            group = add(body, "g", "rb-key")
            _draw_cell(group, Cell(state, "?" if state == "unknown" else "", ""), None, x, y, 40)
            write(group, x + 44, y + _CELL / 2, text, _TEXT)
            x += wide
        return y + _CELL

    def _desc(self) -> str:
        if not self.rows:
            return "What its contacts do is not known."
        return " ".join(
            f"{row.name}{f' ({row.about})' if row.about else ''}: "
            + ", ".join(f"{position} {cell.words}" for position, cell in zip(self.positions, row.cells, strict=True))
            + "."
            for row in self.rows
        )


def _draw_cell(parent: Element, cell: Cell, position: str | None, x: float, y: float, width: float) -> None:
    group = add(parent, "g", f"rb-state rb-state--{cell.state}", data_position=position)
    middle, half = x + width / 2, y + _CELL / 2
    left, right = x + 1.5, x + width - 1.5
    if cell.state == "closed":
        add(group, "rect", "rb-closed", x=left, y=half - 12, width=right - left, height=24, rx=4)
        if position is not None:
            write(group, middle, half, position, _TEXT, "rb-on-fill rb-strong", "middle")
    elif cell.state == "open":
        add(group, "path", "rb-open", d=path(["M", left + 2, half, "H", middle - 7, "M", middle + 7, half, "H", right - 2]))
        add(group, "circle", "rb-open-end", cx=middle - 5, cy=half, r=2.5)
        add(group, "circle", "rb-open-end", cx=middle + 5, cy=half, r=2.5)
    else:
        broken = " rb-not-stated" if cell.state == "unknown" else ""
        add(group, "rect", f"rb-value{broken}", x=left, y=half - 13, width=right - left, height=26, rx=4)
        write(group, middle, half, cell.text, _TEXT, "", "middle")
