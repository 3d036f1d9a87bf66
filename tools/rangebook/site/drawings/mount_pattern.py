"""How a switch bolts on, at true scale: printed at 100 percent the part can be laid on the drawing.

Looking at the plug side with the latch up; 0 degrees is to the right and angles run anticlockwise, as they do in the
entries. A slot's middle line is an arc about the shaft as long as the bolt's middle can travel, its ends are round.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from string import ascii_uppercase
from xml.etree.ElementTree import Element

from rangebook.book.model import Bolt, Mount, Shaft
from rangebook.mounting.hub import detents
from rangebook.site.drawings.canvas import add, drawing, figure, path, render, write
from rangebook.site.drawings.lettering import text_width, wrap
from rangebook.words.measures import millimetres

RULER_MM = 50
"""The length of the bar that shows whether the print came out at true scale."""

LEAST_WIDTH_MM = 94
"""As wide as a phone's screen in a browser's own millimetres, of 96 / 25.4 pixels each."""

_PHONE = 356
_TEXT_PX = 16
_MARGIN = 5.0
_COLLAR = 2.2
"""How far the mark of a spacer reaches beyond the hole. A mark, not a size: entries do not say how wide a spacer is."""

_SHAFTS = {
    "double-flat": "two flats",
    "single-flat": "one flat",
    "square": "square",
    "splined": "splined",
    "round": "round",
    "tongue": "tongue",
}

Point = tuple[float, float]
Box = tuple[float, float, float, float]


def _moved(x: float, y: float) -> str:
    return f"translate({figure(x)} {figure(y)})"


def at(radius: float, degrees: float) -> Point:
    """A point about the shaft, in drawing directions: x to the right, y **down**."""
    angle = math.radians(degrees)
    return radius * math.cos(angle), -radius * math.sin(angle)


def slot_path(bolt: Bolt, width: float, centre: Point = (0.0, 0.0)) -> str:
    """The outline of a hole or slot ``width`` mm wide: both sides are arcs about ``centre``, both ends half circles."""
    cx, cy = centre
    half, turn = width / 2, bolt.slot_deg / 2
    low, high = bolt.at_deg - turn, bolt.at_deg + turn
    inner = max(bolt.at_mm - half, 0.0)
    (ax, ay), (bx, by) = at(bolt.at_mm + half, low), at(bolt.at_mm + half, high)
    (dx, dy), (ex, ey) = at(inner, high), at(inner, low)
    large = 1 if bolt.slot_deg > 180 else 0
    outer = bolt.at_mm + half
    steps: list[str | float] = ["M", cx + ax, cy + ay]
    if bolt.slot_deg:
        steps += ["A", outer, outer, 0, large, 0, cx + bx, cy + by]
    steps += ["A", half, half, 0, 0, 0, cx + dx, cy + dy]
    if bolt.slot_deg:
        steps += ["A", inner, inner, 0, large, 1, cx + ex, cy + ey]
    return path([*steps, "A", half, half, 0, 0, 0, cx + ax, cy + ay, "Z"])


def mount_svg(mount: Mount, title: str) -> str:
    """A mount as SVG text whose ``width`` and ``height`` are in millimetres, so that it prints at true scale.

    What the entry does not state is drawn broken and said to be not stated. ``title`` is the first line of the text
    alternative.
    """
    return render(_Sheet(mount).draw(title))


@dataclass(frozen=True, slots=True)
class _Label:
    text: str
    x: float
    middle: float
    anchor: str
    box: Box


class _Sheet:
    """One drawing while it is laid out. The shaft is at ``(0, 0)`` until the whole is moved to its place."""

    def __init__(self, mount: Mount) -> None:
        self.mount = mount
        outlines = [_outline(bolt) for bolt in mount.bolts]
        self.turn = _turn_radius(mount.shaft)
        points = [point for outline in outlines for point in outline] + _shaft_points(mount.shaft)
        points += [at(self.turn + 1.3, degrees) for degrees in (60, 80, 100)]
        points += [at(self.turn + 6.0, degrees) for degrees in detents(mount).values()]
        # The text is as large as a phone's width asks for, and the width depends on the text: each round adds less.
        self.size, self.width = 4.0, 0.0
        for _ in range(12):
            before = self.width
            self.labels = _labels(mount.bolts, outlines, self.size)
            left, up, right, down = _bounds(points, (label.box for label in self.labels))
            self.width = max(LEAST_WIDTH_MM, math.ceil(right - left + 2 * _MARGIN))
            if self.width <= before:
                break
            self.size = max(4.0, _TEXT_PX * self.width / _PHONE)
        self.middle = (self.width / 2 - (left + right) / 2, -up)
        self.pattern_height = down - up

    def draw(self, title: str) -> Element:
        size, line = self.size, self.size * 1.35
        room = self.width - 2 * _MARGIN
        head = wrap("Looking at the plug side, latch up. Angles run anticlockwise, 0° is to the right.", room, size)
        check = wrap(f"Print at 100 %. This bar must measure {millimetres(RULER_MM)}; only then lay the part on.", room, size)
        table = Element("g")
        height = self._write_table(table)
        top = 2 + line * len(head) + size
        # The bar right under the pattern: where paper ends above the words, the two are still on one sheet.
        ruler = top + self.pattern_height + size * 1.2
        below = ruler + 7 + size * 1.6
        under = below + line * len(check) + size
        root = drawing("rb-mount", title, self._desc(), self.width, math.ceil(under + height + 1), "mm")
        for index, text in enumerate(head):
            write(root, _MARGIN, 2 + line * (index + 0.5), text, size, "rb-soft")
        pattern = add(root, "g", "rb-pattern", transform=_moved(self.middle[0], self.middle[1] + top))
        self._draw_pattern(pattern)
        self._draw_ruler(root, ruler)
        for index, text in enumerate(check):
            write(root, _MARGIN, below + line * (index + 0.5), text, size, "rb-soft")
        table.set("transform", _moved(0, under))
        root.append(table)
        return root

    def _write_table(self, group: Element) -> float:
        """Each bolt under its letter, then the shaft; the height of all is given back."""
        size, line, y = self.size, self.size * 1.35, 0.0
        blocks = [(ascii_letter(index), bolt_words(bolt)) for index, bolt in enumerate(self.mount.bolts)]
        for letter, words in [*blocks, *(("", [text]) for text in self._rest())]:
            inset = _MARGIN + (size * (text_width(letter, 1, bold=True) + 0.8) if letter else 0)
            if letter:
                write(group, _MARGIN, y + line / 2, letter, size, "rb-strong")
            for text in words:
                bold = ", spacer " in text
                for part in wrap(text, self.width - _MARGIN - inset, size, bold):
                    write(group, inset, y + line / 2, part, size, "rb-strong" if bold else "")
                    y += line
            y += size * 0.4
        return y

    def _draw_pattern(self, group: Element) -> None:
        for bolt in self.mount.bolts:
            x, y = at(bolt.at_mm, bolt.at_deg)
            add(group, "path", "rb-centre-line", d=path(["M", 0, 0, "L", x, y]))
        self._draw_turn(group)
        self._draw_hub(group)
        _draw_shaft(group, self.mount.shaft)
        for index, bolt in enumerate(self.mount.bolts):
            _draw_bolt(group, bolt, ascii_letter(index))
        for label in self.labels:
            write(group, label.x, label.middle, label.text, self.size, "rb-strong", label.anchor)

    def _draw_turn(self, group: Element) -> None:
        """A curved arrow for the way in which angles run."""
        radius = self.turn
        (ax, ay), (bx, by) = at(radius, 60), at(radius, 100)
        (lx, ly), (rx, ry) = at(radius - 1.3, 94), at(radius + 1.3, 94)
        add(group, "path", "rb-turn", d=path(["M", ax, ay, "A", radius, radius, 0, 0, 0, bx, by]))
        add(group, "path", "rb-turn", d=path(["M", lx, ly, "L", bx, by, "L", rx, ry]))

    def _draw_hub(self, group: Element) -> None:
        """A stroke where the mark of the hub stands in each position, a longer one for that in which it was looked at."""
        hub = self.mount.hub
        for position, degrees in detents(self.mount).items():
            end = self.turn + (6.0 if hub and position == hub.position else 4.0)
            (ax, ay), (bx, by) = at(self.turn + 2.0, degrees), at(end, degrees)
            add(group, "path", "rb-detent", d=path(["M", ax, ay, "L", bx, by]), data_position=position)

    def _draw_ruler(self, root: Element, y: float) -> None:
        group = add(root, "g", "rb-ruler", data_mm=RULER_MM)
        add(group, "path", "rb-ruler-line", d=path(["M", _MARGIN, y, "H", _MARGIN + RULER_MM]))
        for mm in range(0, RULER_MM + 1, 5):
            add(group, "path", "rb-ruler-line", d=path(["M", _MARGIN + mm, y, "V", y + (5 if mm % 10 == 0 else 3)]))
        for mm in (0, RULER_MM):
            words = f"{mm} mm" if mm else "0"
            write(group, _MARGIN + mm, y + 6 + self.size * 0.6, words, self.size, "", "middle" if mm else "start")

    def _rest(self) -> list[str]:
        return [*([] if self.mount.bolts else ["Bolts: not stated."]), shaft_words(self.mount.shaft), hub_words(self.mount)]

    def _desc(self) -> str:
        lines = [f"{ascii_letter(index)}: {'; '.join(bolt_words(bolt))}." for index, bolt in enumerate(self.mount.bolts)]
        return " ".join(
            ["Bolt pattern at true scale, looking at the plug side, latch up, angles anticlockwise from the right.", *lines, *self._rest()]
        )


def ascii_letter(index: int) -> str:
    """A, B, ... Z, A2, B2, ..."""
    turn, letter = divmod(index, len(ascii_uppercase))
    return ascii_uppercase[letter] + (str(turn + 1) if turn else "")


def bolt_words(bolt: Bolt) -> list[str]:
    """One bolt in three short lines, in millimetres and inches: where it stands, what hole there is for it, what goes through it."""
    if bolt.hole_mm is None:
        hole = f"slot of {bolt.slot_deg:g}° travel, width not stated" if bolt.slot_deg else "hole not stated"
    elif bolt.slot_deg:
        hole = f"slot {millimetres(bolt.hole_mm)} wide, {bolt.slot_deg:g}° of travel"
    else:
        hole = f"hole {millimetres(bolt.hole_mm)}"
    screw = "bolt not stated" if bolt.bolt_mm is None else f"bolt {millimetres(bolt.bolt_mm)}"
    return [f"{millimetres(bolt.at_mm)} from the shaft, at {degrees_words(bolt.at_deg)}", hole, f"{screw}, {spacer_words(bolt)}"]


def degrees_words(degrees: float) -> str:
    """An angle with a proper minus sign."""
    return f"{degrees:g}°".replace("-", "\u2212")


def spacer_words(bolt: Bolt) -> str:
    """What is known of a bolt's spacer."""
    if bolt.spacer_mm is None:
        return "spacer not stated"
    return f"spacer {millimetres(bolt.spacer_mm)}" if bolt.spacer_mm else "no spacer"


def shaft_words(shaft: Shaft | None) -> str:
    """The shaft in words."""
    if shaft is None or (shaft.shape is None and shaft.across_mm is None):
        return "Shaft: not stated."
    shape = _SHAFTS.get(shaft.shape, shaft.shape) if shaft.shape else "shape not stated"
    across = "size not stated" if shaft.across_mm is None else f"{millimetres(shaft.across_mm)} across"
    flats = " Its flats are drawn upright." if shaft.shape in ("double-flat", "single-flat", "square", "tongue") else ""
    return f"Shaft: {shape}, {across}.{flats}"


def hub_words(mount: Mount) -> str:
    """What is known of the hub: where its mark stands in each position, reckoned on from the one in which it was looked at."""
    known = detents(mount)
    if not known:
        return "Hub: not stated."
    stands = ", ".join(f"{position} {degrees_words(degrees)}" for position, degrees in known.items())
    return f"Mark of the hub, the strokes about the shaft: {stands}."


def _outline(bolt: Bolt) -> list[Point]:
    """Points round the hole of a bolt with its spacer's mark, close enough together for laying out."""
    half = (bolt.hole_mm or bolt.bolt_mm or 6.0) / 2 + (0 if bolt.spacer_mm == 0 else _COLLAR)
    steps = max(1, math.ceil(bolt.slot_deg / 5))
    found = []
    for step in range(steps + 1):
        x, y = at(bolt.at_mm, bolt.at_deg - bolt.slot_deg / 2 + bolt.slot_deg * step / steps)
        found += [(x + half * math.cos(turn), y + half * math.sin(turn)) for turn in (math.tau * k / 16 for k in range(16))]
    return found


def _labels(bolts: Sequence[Bolt], outlines: Sequence[list[Point]], size: float) -> list[_Label]:
    """The letter of each bolt, beside its hole where nothing else is: outwards, else inwards."""
    taken: list[Box] = []
    found = []
    for index, bolt in enumerate(bolts):
        text = ascii_letter(index)
        away = (bolt.hole_mm or bolt.bolt_mm or 6.0) / 2 + _COLLAR + size * 0.8
        options = [
            _label(text, bolt, bolt.at_mm + away * far, bolt.at_deg + turn, size)
            for far in (1.0, -1.0, 1.8, 2.6)
            for turn in (0, 8, -8, 16, -16)
            if bolt.at_mm + away * far > 12
        ]
        points = [point for outline in outlines for point in outline]
        free = (
            one for one in options if not any(_meet(one.box, box) for box in taken) and not any(_inside(point, one.box) for point in points)
        )
        label = next(free, options[0])
        taken.append(label.box)
        found.append(label)
    return found


def _label(text: str, bolt: Bolt, radius: float, degrees: float, size: float) -> _Label:
    x, y = at(radius, degrees)
    across = math.cos(math.radians(degrees)) * (1 if radius > bolt.at_mm else -1)
    anchor = "start" if across > 0.35 else "end" if across < -0.35 else "middle"
    width = text_width(text, size, bold=True)
    left = x - {"start": 0, "middle": width / 2, "end": width}[anchor]
    return _Label(text, x, y, anchor, (left, y - size * 0.6, left + width, y + size * 0.6))


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _inside(point: Point, box: Box) -> bool:
    return box[0] <= point[0] <= box[2] and box[1] <= point[1] <= box[3]


def _bounds(points: Iterable[Point], boxes: Iterable[Box]) -> Box:
    """The box round everything. There is always something: a shaft whose size is not known has a place kept for it."""
    every = [*points, *(corner for box in boxes for corner in (box[:2], box[2:]))]
    xs, ys = [x for x, _ in every], [y for _, y in every]
    return min(xs), min(ys), max(xs), max(ys)


def _turn_radius(shaft: Shaft | None) -> float:
    """How far from the middle the curved arrow runs: just outside the shaft's centre lines."""
    return max(10.0, _shaft_reach(shaft) + 1.5)


def _shaft_reach(shaft: Shaft | None) -> float:
    return (shaft.across_mm if shaft and shaft.across_mm else 10.0) * 0.8 + 3


def _shaft_points(shaft: Shaft | None) -> list[Point]:
    reach = _shaft_reach(shaft)
    return [(-reach, -reach), (reach, reach)]


def _draw_bolt(parent: Element, bolt: Bolt, letter: str) -> None:
    group = add(parent, "g", "rb-bolt", data_bolt=letter)
    x, y = at(bolt.at_mm, bolt.at_deg)
    known = bolt.hole_mm if bolt.hole_mm is not None else bolt.bolt_mm
    if known is not None:
        if bolt.spacer_mm != 0:
            doubt = " rb-not-stated" if bolt.spacer_mm is None else ""
            add(group, "path", f"rb-spacer{doubt}", d=slot_path(bolt, known + 2 * _COLLAR))
        doubt = " rb-not-stated" if bolt.hole_mm is None else ""
        add(group, "path", f"rb-hole{doubt}", d=slot_path(bolt, known))
    elif bolt.slot_deg:
        (ax, ay), (bx, by) = (at(bolt.at_mm, bolt.at_deg + turn) for turn in (-bolt.slot_deg / 2, bolt.slot_deg / 2))
        large = 1 if bolt.slot_deg > 180 else 0
        line = path(["M", ax, ay, "A", bolt.at_mm, bolt.at_mm, 0, large, 0, bx, by])
        add(group, "path", "rb-travel rb-not-stated", d=line)
    if bolt.bolt_mm is not None:
        add(group, "circle", "rb-screw", cx=x, cy=y, r=bolt.bolt_mm / 2)
    reach = (known or 6.0) / 2 + _COLLAR + 1
    (ax, ay), (bx, by) = at(bolt.at_mm - reach, bolt.at_deg), at(bolt.at_mm + reach, bolt.at_deg)
    tx, ty = at(reach, bolt.at_deg + 90)
    add(group, "path", "rb-centre-line", d=path(["M", ax, ay, "L", bx, by, "M", x - tx, y - ty, "L", x + tx, y + ty]))


def _draw_shaft(parent: Element, shaft: Shaft | None) -> None:
    """The hole for the shaft. What its one size leaves open, the round part of a shaft with flats, is drawn broken."""
    group = add(parent, "g", "rb-shaft")
    across = shaft.across_mm if shaft else None
    shape = shaft.shape if shaft else None
    reach = _shaft_reach(shaft)
    if across is None:
        add(group, "circle", "rb-hole rb-not-stated", r=5)
    elif shape in ("double-flat", "tongue", "single-flat"):
        _draw_flats(group, shape, across)
    elif shape == "square":
        add(group, "rect", "rb-hole", x=-across / 2, y=-across / 2, width=across, height=across)
    elif shape == "splined":
        # How many splines is not in the book: an inner circle stands for their depth.
        add(group, "circle", "rb-hole", r=across / 2)
        add(group, "circle", "rb-hole rb-not-stated", r=across / 2 * 0.86)
    else:
        add(group, "circle", f"rb-hole{'' if shape == 'round' else ' rb-not-stated'}", r=across / 2)
    add(group, "path", "rb-centre-line", d=path(["M", -reach, 0, "H", reach, "M", 0, -reach, "V", reach]))


def _draw_flats(group: Element, shape: str, across: float) -> None:
    half = across / 2
    if shape == "single-flat":
        # ``across`` is taken from the flat to the far side; a flat as deep as an eighth of it is the usual look, no more.
        radius = across / 1.75
        flat = radius - across
        rise = math.sqrt(radius**2 - flat**2)
        arc: list[str | float] = ["A", radius, radius, 0, 1, 1, flat, rise]
        add(group, "path", "rb-hole-ground", d=path(["M", flat, -rise, *arc, "Z"]))
        add(group, "path", "rb-hole-line", d=path(["M", flat, rise, "V", -rise]))
        add(group, "path", "rb-hole-line rb-not-stated", d=path(["M", flat, -rise, *arc]))
        return
    radius = across * 0.68 if shape == "double-flat" else across
    rise = math.sqrt(radius**2 - half**2)
    top: list[str | float] = ["A", radius, radius, 0, 0, 1, half, -rise]
    bottom: list[str | float] = ["A", radius, radius, 0, 0, 1, -half, rise]
    add(group, "path", "rb-hole-ground", d=path(["M", -half, -rise, *top, "V", rise, *bottom, "Z"]))
    add(group, "path", "rb-hole-line", d=path(["M", -half, rise, "V", -rise, "M", half, -rise, "V", rise]))
    add(group, "path", "rb-hole-line rb-not-stated", d=path(["M", -half, -rise, *top, "M", half, rise, *bottom]))
