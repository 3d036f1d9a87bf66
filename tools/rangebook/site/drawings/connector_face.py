"""The face of a connector: its outline by kind, the latch on top, and every cavity where it is.

The outline is schematic (its kind is known, its size is not); the places of the cavities are those of the entry's
``rows``. A row that is shorter than the longest one starts at the left, looking into the switch.

A face of more than seven columns is wider than a phone and has the class ``rb-drawing--wide``: the page puts each face into
an element with the class ``rb-scroll`` (and ``tabindex="0"`` where it is wide), in which it can be scrolled sideways.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeVar
from xml.etree.ElementTree import Element

from rangebook.book.model import Connector, Socket, Terminal, Wire, socket_and_cavity
from rangebook.site.drawings.canvas import add, drawing, figure, path, render, write
from rangebook.site.drawings.lettering import text_width, wrap
from rangebook.site.drawings.wire_colours import WireColour, draw_wire, wire_colour

Side = Literal["switch", "wire"]
Loops = Sequence[Sequence[str]]

WIDTH = 360
"""The width that a drawing is laid out for: a phone's. One with many columns is wider and has to be scrolled."""

TOUCH = 46
"""The least width and height of a cavity with the space about it: 44 pixels (WCAG 2.2, 2.5.5 target size, enhanced) where a
page leaves the drawing 345 of a phone's 390."""

SMALL = 16
"""The least font size: 14 pixels where a page leaves the drawing 315 of a phone's 360."""

_WIDEST_CAVITY = 64
_GAP = 2
"""Between a cavity's box and the edge of its place."""
_WALL = 6
"""From the inner line of the housing to the outer one."""

_NAME_HEIGHT = 30
"""Room for the name of one of several connectors."""

_HEADS = {"switch": "Switch side", "wire": "Wire side"}
_VIEWS = {
    "switch": "looking into the switch, latch up",
    "wire": "the back of the plug, where the wires go in, latch up: mirror image of the switch",
}


@dataclass(frozen=True, slots=True)
class Place:
    """Where one cavity is drawn: ``row`` from the top, ``column`` from the left of the drawing, both from 0."""

    label: str
    row: int
    column: int


def places(connector: Connector, side: Side) -> list[Place]:
    """Every cavity of a connector, as seen from ``side``, row by row and from left to right."""
    columns = max(len(row) for row in connector.rows)
    found = []
    for at, row in enumerate(connector.rows):
        seen = [(columns - 1 - index if side == "wire" else index, label) for index, label in enumerate(row) if label is not None]
        found += [Place(label, at, column) for column, label in sorted(seen)]
    return found


def face_svg(
    connector: Connector,
    side: Side,
    pins: Mapping[str, str] | None,
    wires: Mapping[str, Wire] | None,
    title: str,
    loops: Loops = (),
) -> str:
    """The face of ``connector`` from the switch's side or from the wires' side of the plug, as SVG text.

    ``pins`` (cavity -> circuit) fills the cavities that carry a pin; ``wires`` (cavity -> wire) adds each wire's colour,
    and fills the cavities that carry one where ``pins`` is ``None``. With neither it is the bare housing. ``title`` is
    the text alternative's first line, ``loops`` are the cavities that jumpers inside the plug join, each drawn as a bridge.
    Pins and wires in cavities that the housing lacks are named below, not drawn.
    Raises ``ValueError`` for a side that is neither ``switch`` nor ``wire``.
    """
    if side not in _HEADS:
        raise ValueError(f"a connector has a switch side and a wire side, not {side!r}")
    face = _Face(connector, side, pins, wires, loops)
    return render(face.draw(title))


@dataclass(frozen=True, slots=True)
class _Shape:
    """The inner line of a housing about the middle ``(0, 0)``: half sizes, and the radii of its corners."""

    half_width: float
    half_height: float
    top: tuple[float, float]
    bottom: tuple[float, float]

    def holds(self, x: float, y: float) -> bool:
        """Whether a point is inside."""
        x, rx, ry = abs(x), *(self.top if y < 0 else self.bottom)
        over_x, over_y = x - (self.half_width - rx), abs(y) - (self.half_height - ry)
        if over_x <= 0 or over_y <= 0:
            return x <= self.half_width and abs(y) <= self.half_height
        return (over_x / rx) ** 2 + (over_y / ry) ** 2 <= 1

    def d(self, grow: float, x: float, y: float) -> str:
        """The path about ``(x, y)``, ``grow`` wider all round."""
        w, h = self.half_width + grow, self.half_height + grow
        (tx, ty), (bx, by) = ((rx + grow, ry + grow) for rx, ry in (self.top, self.bottom))
        return path(
            [
                *("M", x - w + tx, y - h, "H", x + w - tx),
                *("A", tx, ty, 0, 0, 1, x + w, y - h + ty, "V", y + h - by),
                *("A", bx, by, 0, 0, 1, x + w - bx, y + h, "H", x - w + bx),
                *("A", bx, by, 0, 0, 1, x - w, y + h - by, "V", y - h + ty),
                *("A", tx, ty, 0, 0, 1, x - w + tx, y - h, "Z"),
            ]
        )


def faces_svg(
    several: Sequence[tuple[str, Connector]],
    side: Side,
    pins: Mapping[str, str] | None,
    wires: Mapping[str, Wire] | None,
    title: str,
    loops: Loops = (),
) -> str:
    """The faces of several connectors of one part or plug, one below the other, each under its name. The names stand before the labels in
    ``pins`` and ``wires``, as in ``lamp.1``, and of each cavity in ``data-cavity``."""
    faces = []
    for name, connector in several:
        own = [tuple(_of_one(name, dict.fromkeys(loop))) for loop in loops]
        laid = _Face(connector, side, pins and _of_one(name, pins), wires and _of_one(name, wires), own)
        faces.append((name, laid.draw(f"{name}: {connector.title}")))
    width = max(float(face.attrib["width"]) for _, face in faces)
    wide = " rb-drawing--wide" if width > WIDTH else ""
    height = sum(_NAME_HEIGHT + float(face.attrib["height"]) for _, face in faces)
    root = drawing(f"rb-face rb-face--{side}{wide}", title, " ".join(face.findtext("desc") or "" for _, face in faces), width, height)
    top = 0.0
    for name, face in faces:
        write(root, WIDTH / 2, top + _NAME_HEIGHT / 2, name, 19, "rb-strong", "middle")
        for cavity in face.iter("g"):
            if "data-cavity" in cavity.attrib:
                cavity.set("data-cavity", Socket(name, "").label(cavity.attrib["data-cavity"]))
        face.set("y", figure(top + _NAME_HEIGHT))
        face.set("class", "rb-face__part")
        del face.attrib["role"]
        root.append(face)
        top += _NAME_HEIGHT + float(face.attrib["height"])
    return render(root)


_Of = TypeVar("_Of")


def _of_one(name: str, labels: Mapping[str, _Of]) -> dict[str, _Of]:
    """What stands at the cavities of one of several connectors."""
    return {cavity: one for label, one in labels.items() for of, cavity in [socket_and_cavity(label)] if of == name}


class _Face:
    """One drawing while it is laid out."""

    def __init__(
        self, connector: Connector, side: Side, pins: Mapping[str, str] | None, wires: Mapping[str, Wire] | None, loops: Loops
    ) -> None:
        self.connector, self.side, self.pins, self.wires = connector, side, pins, wires
        self.loops = [loop for loop in loops if loop]
        self.filled = pins if pins is not None else wires
        self.places = places(connector, side)
        self.rows, self.columns = len(connector.rows), max(len(row) for row in connector.rows)
        labels = [place.label for place in self.places]
        self.colours = {
            label: wire_colour(wire.colour) if wire.colour else None for label, wire in (wires or {}).items() if label in labels
        }
        room = (WIDTH - 4 - 2 * (_WALL + 26)) // self.columns
        needed = max((text_width(label, SMALL, bold=True) for label in labels), default=0) + 2 * _GAP + 6
        self.pitch = max(TOUCH, math.ceil(needed), min(_WIDEST_CAVITY, room))
        self.box = self.pitch - 2 * _GAP
        self.codes = {label: _code_lines(colour, self.box - 2) for label, colour in self.colours.items()}
        self.code_lines = max((len(lines) for lines in self.codes.values()), default=1)
        self.box_height = 44 if wires is None else 46 + 18 * self.code_lines
        self.row_pitch = self.box_height + 2 * _GAP
        self.label_size = 19 if all(text_width(label, 19, bold=True) <= self.box - 4 for label in labels) else SMALL
        self.shape = self._shape()
        self.width = max(WIDTH, math.ceil(2 * (self.shape.half_width + _WALL + 2)))
        self.unplaced = [label for label in {**(pins or {}), **(wires or {})} if label not in labels]

    # The housing

    def _corners(self) -> list[tuple[float, float]]:
        """The corners of all boxes about the middle of the grid. The boxes are rounded, so some room is left beyond them."""
        found = []
        for place in self.places:
            x = (place.column - self.columns / 2) * self.pitch + _GAP
            y = (place.row - self.rows / 2) * self.row_pitch + _GAP
            found += [(x + dx, y + dy) for dx in (0, self.box) for dy in (0, self.box_height)]
        return found

    def _shape(self) -> _Shape:
        half_width, half_height = self.columns * self.pitch / 2, self.rows * self.row_pitch / 2
        corners = self._corners()
        match self.connector.outline:
            case "round":
                radius = max((math.hypot(x, y) for x, y in corners), default=TOUCH) + 8
                return _Shape(radius, radius, (radius, radius), (radius, radius))
            case "square":
                half = max(half_width, half_height) + 12
                return _Shape(half, half, (12, 12), (12, 12))
            case "oval":
                half_width, half_height = half_width + 22, half_height + 10
                options = (
                    _Shape(half_width, half_height, (rx, half_height), (rx, half_height))
                    for rx in _falling(min(half_width, half_height * 1.2))
                )
            case "d-shaped":
                half_width, half_height = half_width + 14, half_height + 12
                options = (_Shape(half_width, half_height, (10, 10), (r, r)) for r in _falling(min(half_width, 2 * half_height - 12)))
            case _:
                return _Shape(half_width + 10, half_height + 10, (12, 12), (12, 12))
        # The roundest outline that leaves every cavity inside.
        return next(shape for shape in options if all(shape.holds(x, y) for x, y in corners))

    # The drawing

    def draw(self, title: str) -> Element:
        middle = self.width / 2
        view = wrap(_VIEWS[self.side], WIDTH - 16, SMALL)
        top = 34 + 20 * len(view) + 34
        centre = top + self.shape.half_height
        legend = self._legend()
        under = top + 2 * self.shape.half_height + _WALL + 12
        notes = [line for text in self._notes() for line in wrap(text, WIDTH - 16, SMALL)]
        height = under + 26 * len(legend) + 20 * len(notes) + 4
        wide = " rb-drawing--wide" if self.width > WIDTH else ""
        root = drawing(f"rb-face rb-face--{self.side}{wide}", title, self._desc(), self.width, height)
        # Where the drawing has to be scrolled the words stand in the part that shows first.
        write(root, WIDTH / 2, 17, _HEADS[self.side], 19, "rb-strong", "middle")
        for index, line in enumerate(view):
            write(root, WIDTH / 2, 40 + 20 * index, line, SMALL, "rb-soft", "middle")
        self._draw_housing(root, middle, top, centre)
        left, up = middle - self.columns * self.pitch / 2, centre - self.rows * self.row_pitch / 2
        for place in self.places:
            self._draw_cavity(root, place, left + place.column * self.pitch, up + place.row * self.row_pitch)
        at = {one.label: (left + (one.column + 0.5) * self.pitch, up + one.row * self.row_pitch + 26) for one in self.places}
        for loop in self.loops:
            ends = [at[label] for label in loop if label in at]
            if len(ends) > 1:
                add(root, "path", "rb-jumper", d=path([piece for index, end in enumerate(ends) for piece in ("L" if index else "M", *end)]))
            for x, y in ends:
                add(root, "circle", "rb-jumper-end", cx=x, cy=y, r=4)
        for index, (classes, words) in enumerate(legend):
            y = under + 26 * index
            key = add(root, "g", f"rb-key {classes}")
            add(key, "rect", "rb-box", x=8, y=y + 2, width=18, height=18, rx=4)
            write(key, 36, y + 11, words, SMALL)
        for index, line in enumerate(notes):
            write(root, 8, under + 26 * len(legend) + 10 + 20 * index, line, SMALL, "rb-soft")
        return root

    def _draw_housing(self, root: Element, middle: float, top: float, centre: float) -> None:
        word = "key" if self.connector.outline == "round" else "latch"
        group = add(root, "g", "rb-housing")
        add(group, "rect", "rb-latch", x=middle - 40, y=top - _WALL - 24, width=80, height=34, rx=6)
        write(group, middle, top - _WALL - 12, word, SMALL, "", "middle")
        add(group, "path", "rb-wall", d=self.shape.d(_WALL, middle, centre))
        if self.side == "switch":
            # Looking into the switch one sees the rim of the housing; the back of a plug is one flat face.
            add(group, "path", "rb-rim", d=self.shape.d(0, middle, centre))

    def _draw_cavity(self, root: Element, place: Place, x: float, y: float) -> None:
        label = place.label
        filled = self.filled is not None and label in self.filled
        state = "bare" if self.filled is None else "pin" if filled else "empty"
        group = add(root, "g", f"rb-cavity rb-cavity--{state}", data_cavity=label, data_row=place.row + 1, data_column=place.column + 1)
        add(group, "title", text=self._words(label))
        add(group, "rect", "rb-touch", x=x, y=y, width=self.pitch, height=self.row_pitch)
        left, top, middle = x + _GAP, y + _GAP, x + self.pitch / 2
        if self.wires is None:
            add(group, "rect", "rb-box", x=left, y=top, width=self.box, height=self.box_height, rx=8)
            marked = filled or self.filled is None
            write(group, middle, top + (16 if marked else 22), label, self.label_size, "rb-label", "middle")
            if marked:
                _draw_terminal(group, self.connector.terminal_at(label), self.side, middle, top + 35, self._share(label))
            return
        add(group, "rect", "rb-box", x=left, y=top, width=self.box, height=self.box_height, rx=8)
        write(group, middle, top + 14, label, self.label_size, "rb-label", "middle")
        panel = add(group, "g", "rb-panel")
        add(panel, "rect", "rb-paper", x=left + 1.5, y=top + 26, width=self.box - 3, height=self.box_height - 27.5, rx=6)
        if label not in self.wires:
            write(panel, middle, top + 26 + (self.box_height - 27.5) / 2, "–", SMALL, "rb-soft", "middle")
            return
        colour = self.colours[label]
        if colour is not None:
            draw_wire(panel, colour, left + 5, top + 30, self.box - 10, 11)
        for index, line in enumerate(self.codes[label]):
            write(panel, middle, top + 52 + 18 * index, line, SMALL, "", "middle")

    def _share(self, label: str) -> float:
        """How wide the terminal of a cavity is drawn, as a share of the widest of a housing that mixes them."""
        if not self.connector.terminals:
            return 1.0
        widths = [self.connector.terminal_at(place.label).width_mm or 0.0 for place in self.places]
        own, widest = self.connector.terminal_at(label).width_mm, max(widths)
        return max(0.4, own / widest) if own and widest else 1.0

    # In words

    def _terminal(self, label: str) -> str:
        """The terminal of a cavity in words, in a housing that mixes them; empty in any other."""
        made = self.connector.terminal_at(label)
        width = None if made.width_mm is None else f"{made.width_mm:g} mm"
        return " ".join(filter(None, (made.style, width, made.plating))) if self.connector.terminals else ""

    def _words(self, label: str) -> str:
        """One cavity in words."""
        parts = [self._terminal(label)] if self._terminal(label) else []
        if self.pins is not None:
            parts.append(f"pin, {_plain(self.pins[label])}" if label in self.pins else "no pin")
        if self.wires is not None:
            wire = self.wires.get(label)
            if wire is None:
                parts.append("no wire")
            else:
                colour = self.colours.get(label)
                named = f"{colour.name} wire" if colour else "wire, colour not stated"
                parts.append(", ".join([named, *([_plain(wire.circuit)] if wire.circuit and self.pins is None else [])]))
        return f"{label}: {'; '.join(parts)}" if parts else label

    def _desc(self) -> str:
        title = self.connector.title
        lines = [f"{title}, {_HEADS[self.side].lower()}: {_VIEWS[self.side]}. {len(self.places)} cavities."]
        for row in range(self.rows):
            seen = [self._words(place.label) for place in self.places if place.row == row]
            if seen:
                lines.append(f"Row {row + 1} from the left: {', '.join(seen) if self.filled is None else '. '.join(seen)}.")
        return " ".join([*lines, *self._notes()])

    def _legend(self) -> list[tuple[str, str]]:
        if self.filled is None:
            return []
        labels = [place.label for place in self.places]
        having = sum(label in self.filled for label in labels)
        what = "pin" if self.pins is not None else "wire"
        rest = len(labels) - having
        legend = [("rb-cavity--pin", f"{having} with a {what}"), ("rb-cavity--empty", f"{rest} without a {what}")]
        return [line for line, count in zip(legend, (having, rest), strict=True) if count]

    def _notes(self) -> list[str]:
        alike: dict[str, list[str]] = {}
        for place in self.places:
            alike.setdefault(self._terminal(place.label), []).append(place.label)
        notes = [f"{', '.join(labels)}: {made}." for made, labels in alike.items() if made]
        notes += [f"A jumper inside the plug joins {' and '.join(loop)}." for loop in self.loops]
        if self.pins is not None and self.wires is not None:
            labels = [place.label for place in self.places]
            idle = [label for label in labels if label in self.pins and label not in self.wires]
            bare = [label for label in labels if label in self.wires and label not in self.pins]
            notes += [f"Pins without a wire: {', '.join(idle)}."] if idle else []
            notes += [f"Wires without a pin: {', '.join(bare)}."] if bare else []
        if self.unplaced:
            notes.append(f"Not drawn, as this housing has no such cavity: {', '.join(self.unplaced)}.")
        return notes


def _draw_terminal(parent: Element, terminal: Terminal, side: Side, x: float, y: float, share: float) -> None:
    """The end of a terminal: a blade is a bar, a pin a dot; hollow where the other half goes into it. A ring for a wire. ``share`` of the
    widest in its housing."""
    if side == "wire":
        add(parent, "circle", "rb-terminal rb-terminal--hollow", cx=x, cy=y, r=4)
        return
    style = terminal.style
    hollow = style in ("socket", "ring") or terminal.on_switch == "female"
    classes = f"rb-terminal{' rb-terminal--hollow' if hollow else ''}"
    if style == "blade":
        add(parent, "rect", classes, x=x - 9 * share, y=y - 2.5, width=18 * share, height=5, rx=1)
    elif style is not None:
        add(parent, "circle", classes, cx=x, cy=y, r=4 * share)


def _code_lines(colour: WireColour | None, width: float) -> list[str]:
    """A colour code in as many lines as its width takes, broken between colours."""
    if colour is None:
        return ["?"]
    code = colour.code
    if colour.base is None:
        return wrap(code, width, SMALL)
    per_line = max((count for count in range(2, len(code) + 1, 2) if text_width("N" * count, SMALL) <= width), default=2)
    return [code[at : at + per_line] for at in range(0, len(code), per_line)]


def _plain(circuit: str) -> str:
    return circuit.replace("_", " ")


def _falling(largest: float) -> Sequence[float]:
    """Radii from the largest one down to a small one, which always does."""
    return [*(largest - step for step in range(0, max(0, int(largest - 14)), 2)), 12]
