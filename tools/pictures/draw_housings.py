"""Draw the pictures of the demo book from what its entries say.

    .venv/bin/python tools/pictures/draw_housings.py

Every picture that an entry names and calls a drawing is drawn anew. On a part three views stand below each other: onto the plug side,
from the side, into the connector. All parts are drawn to one scale, so two pictures can be laid beside each other. Bolts, slots, shaft
and spacers are the mount's; body, arm and the size of the connector are drawn freely, and each picture says so.
"""

from __future__ import annotations

import itertools
import math
import re
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from PIL import Image, ImageColor, ImageDraw, ImageFont

from rangebook.book.book import Book
from rangebook.book.load import load
from rangebook.book.model import Bolt, Connector, Kit, Mount, Part, Shaft
from rangebook.reading.photos import photo_path
from rangebook.site.drawings.connector_face import places
from rangebook.site.drawings.mount_pattern import ascii_letter

ROOT = Path(__file__).resolve().parents[2]
DRAWN = "drawing, not a photograph"
"""So the words of a picture begin that this program draws."""

WIDTH, MARGIN = 960, 36
"""What is laid out, in pixels."""
KEPT = 720
"""The width that is kept: a phone shows it 350 wide."""
FINER = 3
"""Drawn so much larger and made smaller again, for smooth edges."""
SCALE = 5.4
"""Pixels to a millimetre, on every part."""
TITLE, TEXT, SMALL = 52, 36, 32
"""Sizes of letters: of 960 pixels a phone makes 350, so that 32 become 12."""

PAPER, INK, SOFT, FAINT = "#fafaf7", "#1d252c", "#56616b", "#aab3ba"
BODY, LID, ARM, HOUSING, WELL, HOLLOW = "#d3dae0", "#e4e9ed", "#b9c3cb", "#7d8994", "#39424a", "#59646e"
METAL, SPACER, MARK, SEAL, MAT, BLANK, BAG = "#f0c04a", "#d98c3f", "#b3261e", "#9fb4a6", "#b4c6ba", "#c8553d", "#eef3f6"
PLAIN = ("#ffffff", PAPER, INK, SOFT, FAINT, BODY, LID, ARM, HOUSING, WELL, HOLLOW, METAL, SPACER, MARK, SEAL, MAT, BLANK, BAG)
DOTS = {"green": "#2e8b57", "yellow": "#e3b505", "blue": "#2a6fb0", "red": "#c0392b", "white": "#ffffff", "orange": "#e67e22"}

Point = tuple[float, float]


# What is drawn with


@dataclass(frozen=True, slots=True)
class Shape:
    """Points in millimetres, y upwards, each with ``round`` of material about it; filled between them where it is ``closed``."""

    points: tuple[Point, ...]
    round: float = 0.0
    closed: bool = True

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top."""
        xs, ys = [x for x, _ in self.points], [y for _, y in self.points]
        return min(xs) - self.round, min(ys) - self.round, max(xs) + self.round, max(ys) + self.round

    def away(self, point: Point) -> float:
        """How far a point is from it, less than 0 inside the round."""
        ends = self.points if len(self.points) == 1 else (*self.points, *(self.points[:1] if self.closed else ()))
        pairs = itertools.pairwise(ends) if len(ends) > 1 else [(ends[0], ends[0])]
        return min(_to_line(point, one, two) for one, two in pairs) - self.round


class Sheet:
    """A picture that grows downwards. Positions are pixels, before it is made smaller."""

    def __init__(self, height: int = 4000) -> None:
        self.image = Image.new("RGB", (WIDTH * FINER, height * FINER), PAPER)
        self.pen = ImageDraw.Draw(self.image)

    def line(self, points: Sequence[Point], colour: str, width: float = 3) -> None:
        """A line with round ends and corners."""
        at = [(x * FINER, y * FINER) for x, y in points]
        self.pen.line(at, fill=colour, width=round(width * FINER))
        for point in at:
            self.pen.circle(point, width * FINER / 2, fill=colour)

    def dashed(self, one: Point, two: Point, colour: str, width: float = 3) -> None:
        """A broken line."""
        length = math.dist(one, two)
        for start in range(0, int(length), 22):
            ends = (start / length, min(1.0, (start + 12) / length))
            self.line([(one[0] + (two[0] - one[0]) * t, one[1] + (two[1] - one[1]) * t) for t in ends], colour, width)

    def arrow(self, start: Point, tip: Point, colour: str = INK) -> None:
        """A line with a head at ``tip``."""
        turn = math.atan2(tip[1] - start[1], tip[0] - start[0])
        foot = (tip[0] - 18 * math.cos(turn), tip[1] - 18 * math.sin(turn))
        self.line([start, foot], colour, 4)
        wings = [(tip[0] - 26 * math.cos(turn + off), tip[1] - 26 * math.sin(turn + off)) for off in (0.38, -0.38)]
        self.area([tip, *wings], colour)

    def measure(self, one: Point, two: Point, colour: str = INK) -> None:
        """A dimension line with a stroke at both ends."""
        self.line([one, two], colour, 3)
        turn = math.atan2(two[1] - one[1], two[0] - one[0]) + math.pi / 2
        for x, y in (one, two):
            self.line([(x - 11 * math.cos(turn), y - 11 * math.sin(turn)), (x + 11 * math.cos(turn), y + 11 * math.sin(turn))], colour, 3)

    def area(self, points: Sequence[Point], colour: str) -> None:
        """A filled polygon."""
        self.pen.polygon([(x * FINER, y * FINER) for x, y in points], fill=colour)

    def ring(self, x: float, y: float, radius: float, width: float, fill: str | None = None) -> None:
        """A circle's line."""
        self.pen.circle((x * FINER, y * FINER), radius * FINER, fill=fill, outline=INK, width=round(width * FINER))

    def text(self, x: float, y: float, words: str, size: float = TEXT, colour: str = INK, anchor: str = "mm", bold: bool = False) -> None:
        """One line of text; ``anchor`` as Pillow has it."""
        weight = round(size * FINER / 44) if bold else 0
        self.pen.text(
            (x * FINER, y * FINER), words, fill=colour, font=_font(size * FINER), anchor=anchor, stroke_width=weight, stroke_fill=colour
        )

    def write(self, y: float, words: str, size: float = TEXT, colour: str = INK, bold: bool = False) -> float:
        """Text from the left margin, as many lines as it takes; where the next one goes is given back."""
        for row in _wrapped(words, size, WIDTH - 2 * MARGIN):
            self.text(MARGIN, y, row, size, colour, "la", bold)
            y += size * 1.3
        return y

    def badge(self, x: float, y: float, letter: str) -> None:
        """A letter in a ring."""
        self.ring(x, y, 25, 3, "#ffffff")
        self.text(x, y, letter, SMALL, bold=True)

    def keep(self, path: str, height: float) -> None:
        """Cut off below ``height`` and written with few colours."""
        place = ROOT / path
        place.parent.mkdir(parents=True, exist_ok=True)
        small = self.image.crop((0, 0, WIDTH * FINER, round(height) * FINER)).resize(
            (KEPT, round(height * KEPT / WIDTH)), Image.Resampling.LANCZOS
        )
        small.quantize(palette=_palette(), dither=Image.Dither.NONE).save(place, "PNG", optimize=True)
        print(path, *small.size, place.stat().st_size)


class View:
    """Millimetres on a sheet: where their zero is, and how large they are."""

    def __init__(self, sheet: Sheet, x: float, y: float, scale: float = SCALE) -> None:
        self.sheet, self.x, self.y, self.scale = sheet, x, y, scale

    def at(self, point: Point) -> Point:
        """Where a point of the view is on the sheet."""
        return self.x + point[0] * self.scale, self.y - point[1] * self.scale

    def fill(self, shape: Shape, colour: str, more: float = 0.0) -> None:
        """A shape in one colour, ``more`` pixels larger all round."""
        pen = self.sheet.pen
        at = [(x * FINER, y * FINER) for x, y in map(self.at, shape.points)]
        reach = (shape.round * self.scale + more) * FINER
        if shape.closed and len(at) > 2:
            pen.polygon(at, fill=colour)
        if reach <= 0:
            return
        ends = [*at, *(at[:1] if shape.closed else ())]
        for (ax, ay), (bx, by) in itertools.pairwise(ends):
            long = math.hypot(bx - ax, by - ay) or 1
            nx, ny = (ay - by) / long * reach, (bx - ax) / long * reach
            pen.polygon([(ax + nx, ay + ny), (bx + nx, by + ny), (bx - nx, by - ny), (ax - nx, ay - ny)], fill=colour)
        for point in at:
            pen.circle(point, reach, fill=colour)

    def draw(self, shapes: Iterable[Shape], colour: str, edge: str = INK, width: float = 4) -> None:
        """Shapes that are one piece: one edge runs round all of them."""
        shapes = list(shapes)
        for shape in shapes:
            self.fill(shape, edge, width / 2)
        for shape in shapes:
            self.fill(shape, colour, -width / 2)
        for shape in shapes:
            if shape.round * self.scale <= width / 2:
                at = [(x * FINER, y * FINER) for x, y in map(self.at, shape.points)]
                self.sheet.pen.line([*at, at[0]], fill=edge, width=round(width * FINER), joint="curve")


def _palette() -> Image.Image:
    """The colours that are drawn with, and what lies between each and ink or paper: no more are in a picture."""
    plain = [ImageColor.getrgb(code)[:3] for code in (*PLAIN, *DOTS.values())]
    mixed = dict.fromkeys(plain)
    for towards in (INK, PAPER):
        far = ImageColor.getrgb(towards)[:3]
        mixed |= dict.fromkeys(tuple(round((a + b) / 2) for a, b in zip(colour, far, strict=True)) for colour in plain)
    held = Image.new("P", (1, 1))
    held.putpalette([part for colour in list(mixed)[:256] for part in colour])
    return held


def _font(size: float) -> ImageFont.FreeTypeFont:
    # The one that comes with Pillow: the same letters on every machine.
    font = ImageFont.load_default(size)
    assert isinstance(font, ImageFont.FreeTypeFont), "Pillow was built without FreeType"
    return font


def _wrapped(words: str, size: float, room: float) -> list[str]:
    fitting = [
        rows
        for rows in (textwrap.wrap(words, count) for count in range(90, 8, -1))
        if max((_font(size).getlength(row) for row in rows), default=0) <= room
    ]
    # As few rows as it takes, and these about as long as each other.
    return [rows for rows in fitting if len(rows) == len(fitting[0])][-1] if fitting else [words]


def _to_line(point: Point, one: Point, two: Point) -> float:
    dx, dy = two[0] - one[0], two[1] - one[1]
    long = dx * dx + dy * dy
    t = 0.0 if long == 0 else max(0.0, min(1.0, ((point[0] - one[0]) * dx + (point[1] - one[1]) * dy) / long))
    return math.dist(point, (one[0] + t * dx, one[1] + t * dy))


def polar(radius: float, degrees: float) -> Point:
    """Anticlockwise from the right, as angles of mounts are."""
    return radius * math.cos(math.radians(degrees)), radius * math.sin(math.radians(degrees))


def arc(radius: float, start: float, end: float) -> tuple[Point, ...]:
    """Points along a circle about zero."""
    steps = max(1, math.ceil(abs(end - start) / 2))
    return tuple(polar(radius, start + (end - start) * step / steps) for step in range(steps + 1))


def arc_at(x: float, y: float, radius: float, start: float) -> tuple[Point, ...]:
    """A quarter of a circle about a point."""
    return tuple((x + dx, y + dy) for dx, dy in arc(radius, start, start + 90))


def _sign(number: float) -> float:
    return math.copysign(1.0, number)


def box(left: float, bottom: float, right: float, top: float, radius: float = 0.0) -> Shape:
    """A rectangle, its corners rounded inside."""
    radius = min(radius, (right - left) / 2, (top - bottom) / 2)
    left, bottom, right, top = left + radius, bottom + radius, right - radius, top - radius
    return Shape(((left, bottom), (right, bottom), (right, top), (left, top)), radius)


def moved(shape: Shape, by: Point) -> Shape:
    """The same somewhere else."""
    return replace(shape, points=tuple((x + by[0], y + by[1]) for x, y in shape.points))


# The connector


class Face:
    """A connector looked into with the latch up, about its middle, in millimetres. ``pitch`` from cavity to cavity is ours."""

    def __init__(self, connector: Connector, pins: Iterable[str] | None) -> None:
        self.connector, self.pins = connector, None if pins is None else set(pins)
        width = connector.terminal.width_mm if connector.terminal and connector.terminal.width_mm else 2.8
        self.terminal, self.pitch = width, width + 2.4
        columns, rows = max(map(len, connector.rows)), len(connector.rows)
        self.tall = self.pitch * (1.0 if connector.outline == "round" else 1.12)
        self.places = {
            one.label: ((one.column - (columns - 1) / 2) * self.pitch, ((rows - 1) / 2 - one.row) * self.tall)
            for one in places(connector, "switch")
        }
        self.gaps = [
            ((column - (columns - 1) / 2) * self.pitch, ((rows - 1) / 2 - at) * self.tall)
            for at, row in enumerate(connector.rows)
            for column, label in enumerate(row)
            if label is None
        ]
        self.ringed = connector.outline == "round" and min(math.hypot(*at) for at in self.places.values()) > 1.5 * self.pitch
        if self.ringed:
            self._round_off()
        self.inner = self._inner(columns * self.pitch / 2, rows * self.tall / 2)
        _, _, self.right, self.top = self.inner.box
        self.wall = 1.6
        said = f"{connector.title} {connector.note or ''}".casefold()
        self.long = "long latch" in said
        self.tongue = "tongue" in said
        self.collar = "collar" in said
        self.bayonet = "bayonet" in said
        self.lever = "lever" in said
        self.keyed = connector.outline == "round" and (self.collar or self.bayonet or "key" in said or "rib" in said)
        above = re.search(r"\brib\b.*\babove (\w+)", connector.note or "")
        self.key_x = self.places[above[1]][0] if above and above[1] in self.places else 0.0

    def _round_off(self) -> None:
        """Cavities about a bare middle stand in a true ring; rows can only come near to that."""
        order = sorted(self.places, key=lambda label: math.atan2(*self.places[label]))
        radius, off = self.pitch * len(order) / math.tau * 1.12, math.atan2(*self.places[order[0]])
        for index, label in enumerate(order):
            turn = 90 - math.degrees(off) - 360 * index / len(order)
            self.places[label] = polar(radius, turn)

    def _inner(self, wide: float, high: float) -> Shape:
        """The inner edge of the wall: the outline's kind, just large enough for the cavities."""
        w, h = 0.46 * self.pitch, 0.46 * self.tall
        corners = [(x + dx, y + dy) for x, y in self.places.values() for dx in (-w, w) for dy in (-h, h)]
        room = 0.8
        match self.connector.outline:
            case "round":
                return Shape(((0.0, 0.0),), max(math.hypot(*corner) for corner in corners) + room)
            case "square":
                half = max(wide, high) + room
                return box(-half, -half, half, half, 1.6)
            case "oval":
                high += room
                reach = max(abs(x) + high - math.sqrt(max(0.0, high**2 - y**2)) for x, y in corners) + room * 0.5
                return Shape(((high - reach, 0.0), (reach - high, 0.0)), high, closed=False)
            case "d-shaped":
                wide, high = wide + 2.2, high + room
                deep = max(-y / (1 - abs(x / wide) ** 2.5) ** 0.4 for x, y in corners) + room * 0.5
                bow = [(wide * _sign(x) * abs(x) ** 0.8, deep * _sign(y) * abs(y) ** 0.8) for x, y in arc(1, 180, 360)]
                return Shape((*arc_at(wide - 1.2, high - 1.2, 1.2, 0), *arc_at(1.2 - wide, high - 1.2, 1.2, 90), *bow))
            case _:
                return box(-wide - room, -high - room, wide + room, high + room, 1.6)

    @property
    def outer(self) -> Shape:
        """The outer edge of the wall."""
        return replace(self.inner, round=self.inner.round + self.wall)

    @property
    def latch(self) -> Shape:
        """The latch's ramp above the housing; on a round one the key's rib."""
        if self.keyed:
            rise = math.sqrt(max(0.0, self.inner.round**2 - self.key_x**2))
            return box(self.key_x - 1.5, rise - 1, self.key_x + 1.5, rise + self.wall + (4.4 if self.collar else 2.4), 0.8)
        half = max(4.0, self.pitch * 0.95)
        return box(-half, self.top - 1.5, half, self.top + self.wall + 4.0, 0.8)

    @property
    def features(self) -> list[tuple[str, Point]]:
        """What tells it from its look-alikes, each with a place to point at."""
        found: list[tuple[str, Point]] = []
        if self.tongue and self.gaps:
            found.append(("tongue", (self.gaps[0][0], self.gaps[0][1] - self.tall * 0.2)))
        if self.collar:
            found.append(("screw collar", polar(self.inner.round + 4.6, 225)))
        if self.bayonet:
            found.append(("bayonet lug", polar(self.inner.round + 3.2, 210)))
        if self.lever:
            found.append(("cam lever, upright", (-self.right - self.wall - 2.2, -self.top * 0.2)))
        return found

    @property
    def around(self) -> list[Shape]:
        """All that its silhouette is made of."""
        shapes = [self.outer] if self.lever else [self.latch, self.outer]
        if self.collar:
            rim = self.inner.round + self.wall + 2.6
            shapes += [Shape((polar(rim, turn),), 1.5) for turn in range(0, 360, 18)] + [Shape(((0.0, 0.0),), rim)]
        if self.bayonet:
            shapes += [Shape((polar(self.inner.round + self.wall, turn),), 1.9) for turn in (210, 330)]
        if self.lever:
            right, top = self.right + self.wall, self.top + self.wall
            shapes += [
                Shape(
                    ((-right - 2.2, -top * 0.4), (-right - 2.2, top + 4.2), (right + 2.2, top + 4.2), (right + 2.2, -top * 0.4)),
                    1.5,
                    closed=False,
                )
            ]
        return shapes

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top of all of it."""
        boxes = [shape.box for shape in self.around]
        return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)

    def draw(self, view: View, middle: Point = (0.0, 0.0), labels: bool = False) -> None:
        """On a view; with the labels of the cavities where it is drawn large."""
        edge = 3 if not labels else 4
        for shape in reversed(self.around) if self.collar else self.around:
            view.draw([moved(shape, middle)], HOUSING, width=edge)
        if self.keyed:
            view.draw([moved(self.outer, middle)], HOUSING, width=edge)
        view.draw([moved(self.inner, middle)], WELL, width=edge)
        if self.keyed:
            rise = math.sqrt(max(0.0, self.inner.round**2 - self.key_x**2))
            view.draw([moved(box(self.key_x - 1.3, rise - 1.2, self.key_x + 1.3, rise + 0.6), middle)], HOUSING, HOUSING, 1)
        for label, (x, y) in self.places.items():
            there = self.pins is not None and label in self.pins
            self._cavity(view, (x + middle[0], y + middle[1]), label if labels else "", there, middle)
        if self.tongue and self.gaps:
            x, y = self.gaps[0]
            view.draw(
                [
                    box(
                        x + middle[0] - self.pitch * 0.42,
                        y + middle[1] - self.tall * 0.42,
                        x + middle[0] + self.pitch * 0.42,
                        y + middle[1] + self.tall * 0.42,
                        0.5,
                    )
                ],
                HOUSING,
                width=edge,
            )

    def _cavity(self, view: View, at: Point, label: str, there: bool, middle: Point) -> None:
        (x, y), (mx, my), w, h = at, middle, self.pitch * 0.44, self.tall * 0.44
        blade = self.connector.terminal is None or self.connector.terminal.style != "pin"
        hole = box(x - w, y - h, x + w, y + h, 0.5) if blade else Shape((at,), min(w, h))
        bare = self.pins is None
        view.draw([hole], "#ffffff" if there else PAPER if bare else HOLLOW, "#9aa5ae" if not there else METAL, 2)
        if not label:
            if there:
                view.draw([hole], METAL, INK, 1)
            return
        px, py = view.at((x, y))
        if self.ringed:
            # Thin pins in a ring leave no room for figures: these stand inside it.
            half = self.terminal / 2
            if there or bare:
                view.draw([Shape((at,), half)], METAL if there else "#ffffff", INK if there else FAINT, 2)
            inward = 1 - 50 / view.scale / math.hypot(x - mx, y - my)
            tx, ty = view.at(((x - mx) * inward + mx, (y - my) * inward + my))
            view.sheet.text(tx, ty, label, SMALL, "#ffffff" if there or bare else FAINT, bold=there)
            return
        unit = view.scale * self.tall
        if there or bare:
            view.sheet.text(px, py - unit * 0.16, label, min(TEXT, unit * 0.46), INK, bold=there)
            half = self.terminal / 2 if blade else min(self.terminal / 2, h * 0.32)
            drop = y - self.tall * 0.24
            end = box(x - half, drop - self.tall * 0.07, x + half, drop + self.tall * 0.07) if blade else Shape(((x, drop),), half)
            view.draw([end], METAL if there else "#dfe4e8", INK if there else FAINT, 2)
        else:
            view.sheet.text(px, py, label, min(TEXT, unit * 0.46), "#d5dbe0")


# The part


def hole_of(bolt: Bolt, more: float = 0.0) -> Shape:
    """The hole or slot of a bolt, where it really is."""
    size = bolt.hole_mm or bolt.bolt_mm or 6.0
    return Shape(arc(bolt.at_mm, bolt.at_deg - bolt.slot_deg / 2, bolt.at_deg + bolt.slot_deg / 2), size / 2 + more, closed=False)


def shaft_hole(shaft: Shaft | None) -> list[Shape]:
    """The hole for the shaft. Where one size does not tell all, the rest has its usual look."""
    across = shaft.across_mm if shaft and shaft.across_mm else 9.0
    half = across / 2
    match shaft.shape if shaft else None:
        case "double-flat" | "tongue" as shape:
            radius = across * (0.68 if shape == "double-flat" else 1.1)
            turn = math.degrees(math.acos(half / radius))
            return [Shape((*arc(radius, turn, 180 - turn), *arc(radius, 180 + turn, 360 - turn)))]
        case "single-flat":
            radius = across / 1.75
            turn = math.degrees(math.acos((across - radius) / radius))
            return [Shape(arc(radius, turn - 180, 180 - turn))]
        case "square":
            return [box(-half, -half, half, half)]
        case "splined":
            return [Shape(tuple(polar(half * (1.0 if step % 4 < 2 else 0.86), step * 5 + 2.5) for step in range(72)))]
        case _:
            return [Shape(((0.0, 0.0),), half)]


class Body:
    """The shapes of one part as seen on its plug side, about the shaft, in millimetres."""

    def __init__(self, part: Part, mount: Mount, connector: Connector) -> None:
        self.part, self.mount = part, mount
        self.face = Face(connector, part.pins)
        across = mount.shaft.across_mm if mount.shaft and mount.shaft.across_mm else 9.0
        self.hub = across * 0.75 + 4
        nearest = min((bolt.at_mm - (bolt.hole_mm or 6) / 2 for bolt in mount.bolts), default=32.0)
        self.radius = max(self.hub + 7, nearest - 8)
        self.ears = [shape for bolt in mount.bolts for shape in self._ear(bolt)]
        self.plug_at = self._plug_at()
        self.arm = self._arm()

    def _ear(self, bolt: Bolt) -> list[Shape]:
        half = bolt.slot_deg / 2
        end = hole_of(bolt, 4.2)
        foot = [polar(self.radius * 0.8, bolt.at_deg + turn) for turn in (half + 22, -half - 22)]
        return [end, Shape((*end.points, *foot), 2.5)]

    def _plug_at(self) -> Point:
        """The middle of the connector: above the shaft where the ears leave room, else below it, else as far up as it takes."""
        left, bottom, right, top = self.face.box
        found = []
        for up in (True, False):
            off = self.hub + 4 - bottom if up else -(self.hub + 4 + top)
            for step in range(0, 40, 2):
                at = (0.0, off + step if up else off - step)
                edge = [(x, y) for x in _steps(left, right) for y in _steps(bottom, top)]
                clear = min((ear.away((x, y + at[1])) for ear in self.ears[::2] for x, y in edge), default=99.0)
                if clear > 1.5:
                    found.append((step + (0 if up else 9), at))
                    break
        return min(found)[1] if found else (0.0, self.radius + 6 - bottom)

    @property
    def plug(self) -> list[Shape]:
        """The connector's silhouette, where it sits."""
        return [moved(shape, self.plug_at) for shape in self.face.around]

    @property
    def neck(self) -> Shape:
        """Between body and connector."""
        half, y = min(self.face.right, self.radius * 0.8), self.plug_at[1]
        return Shape(((-half, 0.0), (half, 0.0), (half, y), (-half, y)), 1.5)

    def _arm(self) -> tuple[float, float]:
        """Its length and the angle at which it has most room."""
        length = self.radius + 16
        hard = [*self.ears[::2], *self.plug]
        # Away from the connector if it can, and mirrored where that is.
        base, sign = (270, 1) if self.plug_at[1] > 0 else (90, -1)
        options = [base + sign * turn for off in range(0, 181, 20) for turn in dict.fromkeys((off, -off))]

        def room(turn: float) -> float:
            return min(shape.away(polar(reach, turn)) for shape in hard for reach in (self.radius * 0.8, self.radius + 6, length))

        return length, max(options, key=lambda turn: (min(room(turn), 9.0), -options.index(turn)))

    @property
    def lever(self) -> list[Shape]:
        """The operating arm: a boss about the shaft, a bar, an eye at its end. A tongue drives the boss alone."""
        if self.mount.shaft and self.mount.shaft.shape == "tongue":
            return [Shape(((0.0, 0.0),), self.hub)]
        length, turn = self.arm
        side = polar(self.hub * 0.75, turn + 90)
        tip, across = polar(length, turn), polar(2.6, turn + 90)
        bar = Shape((side, (tip[0] + across[0], tip[1] + across[1]), (tip[0] - across[0], tip[1] - across[1]), (-side[0], -side[1])), 1.5)
        return [Shape(((0.0, 0.0),), self.hub), bar, Shape((tip,), 5.4)]

    @property
    def outline(self) -> list[Shape]:
        """Body, ears and neck: one moulding."""
        return [Shape(((0.0, 0.0),), self.radius), *self.ears, self.neck]

    def letter_at(self, bolt: Bolt) -> Point:
        """Where the letter of a bolt stands: outside its ear, or beside it where the connector is in the way."""
        away = (bolt.hole_mm or 6) / 2 + 10.5
        half = bolt.slot_deg / 2 + math.degrees(away / bolt.at_mm)
        options = [polar(bolt.at_mm + away, bolt.at_deg), *(polar(bolt.at_mm, bolt.at_deg + turn) for turn in (half, -half))]
        hard = [*self.plug, *self.lever, self.neck]

        def room(at: Point) -> float:
            return min(*(shape.away(at) for shape in hard), 6.0)

        return max(options, key=lambda at: (room(at), -options.index(at)))

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top of all that is drawn, with the letters."""
        letters = [Shape((self.letter_at(bolt),), 5) for bolt in self.mount.bolts]
        boxes = [shape.box for shape in (*self.outline, *self.plug, *self.lever, *letters)]
        return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)

    def lid_mark(self) -> Point:
        """A place on the lid that nothing covers, for what is stamped there."""
        options = [
            polar(reach, turn) for reach in (self.hub + 6, (self.hub + self.radius) / 2 + 1, self.radius - 3) for turn in range(0, 360, 15)
        ]
        hard = [*self.lever, *self.plug, *(hole_of(bolt) for bolt in self.mount.bolts)]
        return max(options, key=lambda at: (min(*(shape.away(at) for shape in hard), self.radius - math.hypot(*at) + 2.5), at[0], at[1]))

    def mark_at(self, place: str, words: str) -> Point:
        """Where a stamping is, by the place that :func:`mark_place` gives it."""
        if place == "lid":
            return self.lid_mark()
        if place == "hub":
            return polar(self.hub - 1.5, self.arm[1] - 65)
        if place == "arm":
            return polar((self.hub + self.arm[0] - 4) / 2, self.arm[1])
        index = next((at for at, word in enumerate(ORDINALS) if re.search(rf"\b{word}\b", words)), 0)
        bolt = self.mount.bolts[min(index, len(self.mount.bolts) - 1)]
        return polar((self.radius + bolt.at_mm - (bolt.hole_mm or 6) / 2) / 2, bolt.at_deg)

    def draw(self, view: View) -> None:
        """Onto the plug side."""
        view.draw(self.outline, BODY)
        lid = next((code for words in self.part.stamped for name, code in DOTS.items() if words == f"{name} lid"), LID)
        view.draw([Shape(((0.0, 0.0),), self.radius - 2.2)], lid, SOFT, 2)
        for bolt in self.mount.bolts:
            view.draw([hole_of(bolt)], PAPER, INK if bolt.hole_mm else FAINT, 4)
            one, two = polar(bolt.at_mm - 6, bolt.at_deg), polar(bolt.at_mm + 6, bolt.at_deg)
            view.sheet.line([view.at(one), view.at(two)], SOFT, 2)
        self.face.draw(view, self.plug_at)
        view.draw(self.lever, ARM)
        if len(self.lever) > 1:
            view.draw([Shape((polar(*self.arm),), 2.6)], PAPER, INK, 3)
        brass = any("brass" in words for words in self.part.stamped)
        view.draw([Shape(((0.0, 0.0),), self.hub - 2.5)], METAL if brass else ARM, SOFT, 2)
        view.draw(shaft_hole(self.mount.shaft), PAPER)
        for index, bolt in enumerate(self.mount.bolts):
            view.sheet.badge(*view.at(self.letter_at(bolt)), ascii_letter(index))

    def draw_side(self, view: View) -> None:
        """Looked at from below: the plug side up, zero where the ears lie on the spacers."""
        far = sorted(self.mount.bolts, key=lambda bolt: -polar(bolt.at_mm, bolt.at_deg)[1])
        left, _, right, _ = self.face.outer.box
        x = self.plug_at[0]
        view.draw([box(x + left, 10, x + right, 31, 1)], HOUSING)
        view.sheet.line([view.at((x + left + 0.4, 25.5)), view.at((x + right - 0.4, 25.5))], INK, 2)
        ears = [self._ear(bolt)[0].box for bolt in far]
        reach = max((max(abs(b[0]), abs(b[2])) for b in ears), default=self.radius)
        view.draw(
            [box(min(b[0], 0), 0, max(b[2], 0), 4.5, 0.6) for b in ears]
            + [box(max(-self.radius, -reach), 0, min(self.radius, reach), 15, 1.2)],
            BODY,
        )
        boxes = [shape.box for shape in self.lever]
        low, high = min(one[0] for one in boxes), max(one[2] for one in boxes)
        view.draw([box(low, 18, high, 21, 0.8), box(-self.hub, 15, self.hub, 24, 0.8)], ARM)
        for bolt in far:
            at = polar(bolt.at_mm, bolt.at_deg)[0]
            half = (bolt.hole_mm or bolt.bolt_mm or 6) / 2 + 2.6
            if bolt.spacer_mm:
                view.draw([box(at - half, -bolt.spacer_mm, at + half, 0)], SPACER)
            view.sheet.dashed(view.at((at, 8.5)), view.at((at, -(bolt.spacer_mm or 0) - 3)), SOFT, 2)


def _steps(one: float, two: float) -> list[float]:
    return [one + (two - one) * step / 6 for step in range(7)]


def spacer_labels(sheet: Sheet, view: View, mount: Mount, y: float) -> float:
    """Under the side view what is under each ear; where the next thing goes is given back."""
    heights = {bolt.spacer_mm for bolt in mount.bolts}
    if heights <= {0, None}:
        sheet.text(WIDTH / 2, y + 22, "spacers: not stated" if None in heights else "no spacers", TEXT, INK, bold=heights == {0})
        return y + 60
    lefts: list[tuple[float, float, Bolt, int]] = []
    edge = float(MARGIN)
    for index, bolt in sorted(enumerate(mount.bolts), key=lambda item: polar(item[1].at_mm, item[1].at_deg)[0]):
        x, wide = view.at(polar(bolt.at_mm, bolt.at_deg))[0], 62 + _font(TEXT).getlength(_spacer(bolt))
        lefts.append((max(edge, x - 25), x, bolt, index))
        edge = lefts[-1][0] + wide + 30
    back = max(0.0, edge - 30 - (WIDTH - MARGIN))
    for left, x, bolt, index in lefts:
        left = max(MARGIN, left - back)
        foot = view.at((0, -(bolt.spacer_mm or 0)))[1]
        if bolt.spacer_mm:
            sheet.line([(x, foot + 20), (left + 25, y + 4)], SOFT, 2)
        sheet.badge(left + 25, y + 30, ascii_letter(index))
        sheet.text(left + 60, y + 30, _spacer(bolt), TEXT, INK, "lm", bold=bool(bolt.spacer_mm))
    return y + 70


def _spacer(bolt: Bolt) -> str:
    return f"{bolt.spacer_mm:g} mm" if bolt.spacer_mm else "none" if bolt.spacer_mm == 0 else "not stated"


# What is stamped


PLACES = (
    ("lid", r"\b(lid|corner|cover)\b|beside the shaft"),
    ("arm", r"\barm\b"),
    ("ear", r"\b(ear|flange|bolt)\b"),
    ("hub", r"\b(bush|hub)\b"),
    ("latch", r"\b(latch|plug|connector)\b"),
)
ORDINALS = ("first", "second", "third", "fourth")


def mark_place(words: str) -> str:
    """Where a stamping says that it is: one of :data:`PLACES`, or ``""``."""
    return next((place for place, said in PLACES if re.search(said, words)), "")


def draw_mark(pen: Sheet, at: Point, words: str, size: float) -> None:
    """One stamping as it looks, as far as its words tell; ``size`` is the height of its letters."""
    x, y = at
    colour = next((code for name, code in DOTS.items() if re.search(rf"\b{name}\b", words)), None)
    number = re.search(r"\b(one|two|three|four)\b", words)
    count = ("one", "two", "three", "four").index(number[1]) + 1 if number else 1
    middles = [x + (index - (count - 1) / 2) * size for index in range(count)]
    letters = re.match(r"[A-Z0-9][A-Z0-9-]*\b", words)
    wide = _font(size).getlength(letters[0]) / 2 if letters else size * 0.6 * count
    if letters:
        if mark_place(words) == "arm":
            # An arm is narrower than a word.
            size *= min(1.0, 36 / wide)
        if colour:
            pen.ring(x, y, size * 0.8, 2, colour)
        pen.text(x, y, letters[0], size, "#ffffff" if colour else INK, bold=True)
    elif ("lid" in words and colour) or "bush" in words:
        return
    elif "star" in words:
        for middle in middles:
            tips = [polar(size * (0.2 if k % 2 else 0.5), 90 + 36 * k) for k in range(10)]
            pen.area([(middle + dx, y - dy) for dx, dy in tips], INK)
    elif "bar" in words:
        for middle in middles:
            pen.area([(middle + dx * size, y + dy * size) for dx, dy in ((-0.16, -0.45), (0.16, -0.45), (0.16, 0.45), (-0.16, 0.45))], INK)
    elif "wave" in words:
        for index in range(count):
            rise = y + (index - (count - 1) / 2) * size * 0.5
            pen.line([(x + size * (k / 8 - 1) * 0.6, rise - size * 0.14 * math.sin(k * math.pi / 4)) for k in range(17)], INK, 2)
        wide = size * 0.6
    elif "ground sign" in words:
        pen.line([(x, y - size * 0.5), (x, y)], INK, 3)
        for index in range(3):
            half = size * (0.45 - 0.15 * index)
            pen.line([(x - half, y + size * 0.2 * index), (x + half, y + size * 0.2 * index)], INK, 3)
    elif "line across" in words:
        pen.line([(x - size * 1.3, y), (x + size * 1.3, y)], INK, 4)
    elif "arrow" in words:
        pen.arrow((x, y + size * 0.9), (x, y - size * 0.7))
    elif "lamp" in words:
        half = size * 0.35
        pen.ring(x, y, size / 2, 3)
        for sign in (1, -1):
            pen.line([(x - half, y - sign * half), (x + half, y + sign * half)], INK, 3)
    elif "paint" in words and colour:
        pen.area([(x + dx * size, y + dy * size) for dx, dy in ((-0.5, -0.9), (0.5, -0.7), (0.5, 0.9), (-0.5, 0.7))], colour)
    else:
        pen.ring(x, y, size * 0.42, 2, colour or "#ffffff")
    if "in a ring" in words:
        pen.ring(x, y, max(wide, size / 2) + size * 0.3, 2)
    if "in a box" in words:
        w, h = wide + size * 0.35, size * 0.75
        pen.line([(x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h), (x - w, y - h)], INK, 2)
    if "in a hexagon" in words:
        pen.line([(x + dx, y - dy) for dx, dy in (polar(max(wide, size / 2) + size * 0.4, turn) for turn in range(30, 420, 60))], INK, 2)


# One picture each


def picture_of_part(book: Book, part: Part, path: str) -> None:
    """Three views below each other."""
    family = book.families[part.family]
    mount, connector = family.mounts[part.mount or ""], book.connectors[part.connector or ""]
    body, sheet = Body(part, mount, connector), Sheet()
    y = sheet.write(30, part.number, TITLE, bold=True)
    y = sheet.write(y, family.title, SMALL, SOFT) + 16
    left, bottom, right, top = body.box
    marks = {place: [words for words in part.stamped if mark_place(words) == place] for place in ("lid", "arm", "ear", "hub", "latch", "")}
    on_it = [words for words in part.stamped if mark_place(words) not in ("latch", "")]

    up = "key up" if body.face.keyed else "latch up"
    y = caption(sheet, y, f"Onto the plug side, {up}")
    # Arrows come from below, or from above where the connector is below the shaft.
    from_above = body.plug_at[1] < 0
    if on_it and from_above:
        y += 50 + 46 * len(on_it)
    view = View(sheet, WIDTH / 2 - (left + right) / 2 * SCALE, y + 20 + top * SCALE)
    body.draw(view)
    y = view.y - bottom * SCALE + 16
    if on_it:
        band = view.y - top * SCALE - 40 if from_above else y + 56
        point_at_marks(sheet, view, body, marks, band, from_above)
        y += 0 if from_above else 60 + 46 * len(on_it)
    y = sheet.write(y, "Also marked, place not stated: " + "; ".join(marks[""]), SMALL, MARK) if marks[""] else y

    y = caption(sheet, y + 26, "From the side: spacers under the ears")
    side = View(sheet, view.x, y + 24 + 31 * SCALE)
    body.draw_side(side)
    most = max((bolt.spacer_mm or 0 for bolt in mount.bolts), default=0)
    y = spacer_labels(sheet, side, mount, side.y + (most + 9) * SCALE)
    y = scale_bar(sheet, y + 26, SCALE)

    y = caption(sheet, y + 20, f"Into the connector, {up}")
    y = large_face(sheet, body.face, y + 10, marks["latch"])
    count = f"{len(connector.cavities)} cavities"
    if part.pins is not None:
        count += f", {len(part.pins)} with a pin, {len(connector.cavities) - len(part.pins) or 'none'} empty"
    y = sheet.write(sheet.write(y + 16, connector.title, SMALL), count, SMALL, bold=True)
    y = sheet.write(
        y + 22,
        "True to the entry: bolts, slots, shaft, spacers, cavities, pins. Body, arm and the connector's size: drawn freely.",
        28,
        SOFT,
    )
    sheet.keep(path, y + 24)


def caption(sheet: Sheet, y: float, words: str) -> float:
    """A line across, and what is to be seen below it."""
    sheet.line([(MARGIN, y), (WIDTH - MARGIN, y)], FAINT, 2)
    return sheet.write(y + 14, words, SMALL, SOFT) + 6


def scale_bar(sheet: Sheet, y: float, scale: float, mm: int = 20) -> float:
    """At the left, with its length."""
    end = MARGIN + mm * scale
    sheet.measure((MARGIN, y), (end, y))
    sheet.text(end + 20, y, f"{mm} mm", SMALL, INK, "lm")
    return y + 34


def point_at_marks(sheet: Sheet, view: View, body: Body, marks: dict[str, list[str]], band: float, from_above: bool) -> None:
    """What is stamped on it, but for the connector: drawn there, in words at ``band``, with an arrow from these to it."""
    spots = []
    for place in ("lid", "arm", "ear", "hub"):
        for index, words in enumerate(marks[place]):
            x, y = view.at(body.mark_at(place, words))
            y += (index - (len(marks[place]) - 1) / 2) * 26
            spots.append(((x, y), words))
            draw_mark(sheet, (x, y), words, 22)
    spots.sort(key=lambda spot: (spot[0][0], spot[1]))
    letters = [Shape((body.letter_at(bolt),), 5.5) for bolt in body.mount.bolts]
    hard = [*letters, *(hole_of(bolt) for bolt in body.mount.bolts), *body.plug, Shape((polar(*body.arm),), 5.4)]
    for index, ((x, y), words) in enumerate(spots):
        row = band - 46 * index if from_above else band + 46 * index
        wide = _font(TEXT).getlength(words)
        middle = min(max(x, MARGIN + wide / 2), WIDTH - MARGIN - wide / 2)
        sheet.text(middle, row, words, TEXT, MARK, bold=True)
        start = (_start(view, hard, (x, y), row + 24 if from_above else row - 24, wide, middle), row + 24 if from_above else row - 24)
        sheet.arrow(start, (x + (start[0] - x) * 0.12, y + (18 if start[1] > y else -18)), MARK)


def _start(view: View, hard: Sequence[Shape], spot: Point, y: float, wide: float, middle: float) -> float:
    """From where below or above its words an arrow reaches a spot past what it must not cross."""

    def crossed(x: float) -> float:
        found = 0.0
        for step in range(17):
            at = (x + (spot[0] - x) * step / 20, y + (spot[1] - y) * step / 20)
            place = ((at[0] - view.x) / view.scale, (view.y - at[1]) / view.scale)
            found += sum(max(0.0, 1.5 - shape.away(place)) for shape in hard)
        return found

    options = [middle + wide * share / 20 for share in range(-9, 10)]
    return min(options, key=lambda x: (crossed(x), abs(x - spot[0])))


def large_face(sheet: Sheet, face: Face, y: float, beside: Sequence[str] = ()) -> float:
    """The connector as large as the sheet allows, named; what is stamped beside its latch with an arrow to it."""
    left, bottom, right, top = face.box
    scale = min(
        (WIDTH - 2 * MARGIN - 20) / (right - left), 104 / face.pitch, (560 if face.connector.outline == "round" else 470) / (top - bottom)
    )
    y += 56 + 50 * max(0, len(beside) - 1)
    view = View(sheet, WIDTH / 2 - (left + right) / 2 * scale, y + top * scale, scale)
    latch = face.latch.box
    # What is said to be beside the latch stands on a shoulder of the housing.
    room = (44 * sum("under" not in words for words in beside) + 20) / scale
    if room * scale > 20:
        view.draw([box(latch[2] - 1, face.top - 1, latch[2] + room + 0.6, latch[3] - 0.8, 0.6)], BODY)
    face.draw(view, labels=True)
    name = "key" if face.keyed else "long latch" if face.long else "latch"
    x, up = view.at((latch[0], latch[3]))
    if not face.lever:
        sheet.text(x - 110, up + 6, name, TEXT, INK, "rm")
        sheet.arrow((x - 100, up + 6), (x - 6, up + 14))
    for index, words in enumerate(beside):
        under = "under" in words
        spot = view.at((0.0, face.top + face.wall / 2) if under else (latch[2] + (32 + 44 * index) / scale, latch[3] - 2.2))
        draw_mark(sheet, spot, words, min(36, scale * face.wall * 0.75) if under else 34)
        row = y - 34 - 50 * index
        sheet.text(WIDTH - MARGIN, row, words, TEXT, MARK, "rm", bold=True)
        tip = (spot[0] + 34, spot[1] - 2) if under else (spot[0] + 24, spot[1] - 14)
        sheet.arrow((max(view.at((latch[2], 0))[0], spot[0]) + 70, row + 26), tip, MARK)
    y += (top - bottom) * scale + 10
    for name, place in face.features:
        tip = view.at(place)
        wide = _font(TEXT).getlength(name)
        left_at = max(float(MARGIN), tip[0] - wide - 60)
        sheet.text(left_at, y + 34, name, TEXT, INK, "lm")
        sheet.arrow((min(left_at + wide / 2, tip[0] - 8), y + 12), (tip[0] - 4, tip[1] + 4))
        y += 62
    return y


def picture_of_connector(book: Book, connector: Connector, path: str) -> None:
    """Looked into, and from the side where the length of the latch is known."""
    face, sheet = Face(connector, None), Sheet()
    y = sheet.write(30, connector.title, TITLE - 4, bold=True) + 12
    y = caption(sheet, y, "Into the switch, " + ("key up" if face.keyed else "latch up"))
    y = large_face(sheet, face, y + 10) + 16
    terminal = connector.terminal
    each = f", {terminal.style}s {terminal.width_mm:g} mm" if terminal and terminal.style and terminal.width_mm else ""
    sealed = {True: ", sealed", False: ", not sealed", None: ""}[connector.sealed]
    y = sheet.write(y, f"{len(connector.cavities)} cavities{each}{sealed}", TEXT, bold=True)
    length = latch_length(book, connector)
    if length is not None:
        y = latch_from_the_side(sheet, caption(sheet, y + 26, "From the side, the mouth to the left"), length, face.long)
    y = sheet.write(y + 14, connector.note, SMALL) if connector.note else y
    y = sheet.write(
        y + 22, f"True to the entry: outline, cavities{', latch' if length else ''}. The size of the housing: drawn freely.", 28, SOFT
    )
    sheet.keep(path, y + 24)


def latch_length(book: Book, connector: Connector) -> float | None:
    """In millimetres, from the connector's own note, or from the note of one that its plug goes on as well."""
    for one in book.connectors.values():
        told = re.search(r"latch is (\d+) mm long(?:; on the plain housing it is (\d+))?", one.note or "")
        if told and one.id == connector.id:
            return float(told[1])
        if told and told[2] and any(mate.connector == connector.id for mate in one.mates):
            return float(told[2])
    return None


def latch_from_the_side(sheet: Sheet, y: float, length: float, long: bool) -> float:
    """The ramp on top of a housing, with its length."""
    scale, deep, high = 15.0, 26.0, 14.0
    view = View(sheet, WIDTH / 2 - deep / 2 * scale, y + 124 + high * scale, scale)
    view.draw([box(0, 0, deep, high, 0.8), box(deep, -1.5, deep + 5, high + 1.5, 0.8)], HOUSING)
    view.draw([Shape(((0.8, high), (length, high), (length, high + 2.6), (length - 2.5, high + 2.6)), 0)], ARM)
    view.draw([box(0, high - 0.3, 0.8, high + 0.3)], HOUSING, HOUSING, 1)
    for x in (0.0, length):
        sheet.line([view.at((x, high + 0.4)), view.at((x, high + 4.6))], SOFT, 2)
    sheet.measure(view.at((0, high + 4.2)), view.at((length, high + 4.2)))
    sheet.text(view.at((length / 2, 0))[0], y + 20, f"{'long ' if long else ''}latch {length:g} mm", TEXT, INK, bold=True)
    return view.y + 24


def picture_of_kit(book: Book, kit: Kit, path: str) -> None:
    """A clear bag with the plug, the seals and the blanking plugs in it."""
    face, sheet = Face(book.connectors[kit.new], None), Sheet()
    y = sheet.write(30, kit.number, TITLE, bold=True)
    y = sheet.write(y, kit.title, SMALL, SOFT) + 14
    seals = kit.seals or ()
    left, bottom, right, top = face.outer.box
    across, gap = max(1, len(seals)), 5.0
    scale = min((WIDTH - 2 * MARGIN - 90) / (across * (right - left) + (across - 1) * gap), 11.0)
    tall, head = (top - bottom) * scale, face.box[3] - top
    height = 96 + head * scale + tall + 86 + (tall + 64 if seals else 60) + 110
    edge = [(MARGIN, y), (WIDTH - MARGIN, y), (WIDTH - MARGIN, y + height), (MARGIN, y + height)]
    sheet.area(edge, BAG)
    sheet.line([*edge, edge[0]], SOFT, 3)
    for drop in (46, 56):
        sheet.line([(MARGIN, y + drop), (WIDTH - MARGIN, y + drop)], FAINT, 3)
    sheet.ring(WIDTH / 2, y + 24, 13, 3, PAPER)
    y += 96 + head * scale + tall / 2
    back_of_plug(View(sheet, WIDTH / 2, y, scale), face)
    y = sheet_line(sheet, y + tall / 2 + 32, f"one plug, {len(face.places)} cavities, wire side") + tall / 2
    if kit.seals is None:
        y = sheet_line(sheet, y - tall / 2 + 20, "seals: not stated")
    for index, holes in enumerate(seals):
        x = WIDTH / 2 + (index - (across - 1) / 2) * ((right - left) + gap) * scale
        seal(View(sheet, x, y, scale), face, holes)
        sheet.text(x, y + tall / 2 + 32, f"{holes} holes", TEXT, INK, bold=True)
    y += tall / 2 + 116 if seals else 60
    count = kit.blanks or 0
    words = "blanking plugs: not stated" if kit.blanks is None else f"{count or 'no'} blanking plug{'' if count == 1 else 's'}"
    start = WIDTH / 2 - (count * 70 + _font(TEXT).getlength(words)) / 2
    for index in range(count):
        blank(sheet, start + 26 + 70 * index, y)
    sheet.text(start + 70 * count, y, words, TEXT, INK, "lm", bold=True)
    y = sheet.write(
        y + 82,
        "True to the entry: the plug's cavities, the number of holes and blanking plugs. Which places are pierced: drawn freely.",
        28,
        SOFT,
    )
    sheet.keep(path, y + 24)


def sheet_line(sheet: Sheet, y: float, words: str) -> float:
    """A line in the middle; where the next thing goes is given back."""
    sheet.text(WIDTH / 2, y, words, TEXT, INK, bold=True)
    return y + 52


def back_of_plug(view: View, face: Face) -> None:
    """The plug from the side where the wires go in: the mirror image of the switch."""
    view.draw([replace(shape, points=tuple((-x, y) for x, y in shape.points)) for shape in face.around], HOUSING)
    view.draw([replace(shape, points=tuple((-x, y) for x, y in shape.points)) for shape in (face.inner,)], BODY, width=3)
    for x, y in face.places.values():
        view.draw([Shape(((-x, y),), face.pitch * 0.3)], WELL, INK, 2)


def seal(view: View, face: Face, holes: int) -> None:
    """A rear seal with so many holes, spread over the places of the plug."""
    view.draw([face.outer], SEAL)
    view.draw([face.inner], MAT, SOFT, 2)
    spots = list(face.places.values())
    if face.ringed:
        rows = [sorted(spots, key=lambda at: math.atan2(*at))]
    else:
        rows = [[at for at in spots if at[1] == y] for y in sorted({y for _, y in spots}, reverse=True)]
    left = holes
    for index, row in enumerate(rows):
        here = min(len(row), math.ceil(left / (len(rows) - index)))
        left -= here
        for number in range(here):
            x, y = row[int((number + 0.5) * len(row) / here)]
            view.draw([Shape(((-x, y),), face.pitch * 0.3)], WELL, INK, 2)


def blank(sheet: Sheet, x: float, y: float) -> None:
    """A blanking plug from the side: a head and a ribbed stem."""
    view = View(sheet, x, y, 10)
    view.draw(
        [box(-1.1, -3, 1.1, 3, 0.8), box(-1.6, -1.4, 1.6, -0.6, 0.4), box(-1.6, 0.4, 1.6, 1.2, 0.4), box(-2.4, 2, 2.4, 3.4, 0.8)],
        BLANK,
        width=3,
    )


def main() -> None:
    """All that the entries name."""
    book = load(ROOT).book
    for family in book.families.values():
        for part in family.parts:
            for photo in part.photos:
                if photo.shows.startswith(DRAWN):
                    picture_of_part(book, part, photo_path(family.entry.file, photo.file))
    for connector in book.connectors.values():
        for photo in connector.photos:
            if photo.shows.startswith(DRAWN):
                picture_of_connector(book, connector, photo_path(connector.entry.file, photo.file))
    for kit in book.kits.values():
        for photo in kit.photos:
            if photo.shows.startswith(DRAWN):
                picture_of_kit(book, kit, photo_path(kit.entry.file, photo.file))


if __name__ == "__main__":
    main()
