"""Mounts at true scale. Directions: looking at the plug side, angles anticlockwise (the entry format's own rule)."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from tests.site.drawings.making import alternatives, bolt, having, mount, parse, rules_of_the_house, texts

from rangebook.book.model import Bolt, Hub, Mount, Shaft
from rangebook.site.drawings.mount_pattern import RULER_MM, mount_svg

TWO_SLOTS = mount(bolt(38, 0, slot=14, spacer=4), bolt(38, 150, slot=14, spacer=4), shaft=Shaft("double-flat", 9.5))

ODD = [
    TWO_SLOTS,
    mount(bolt(30, 90, slot=200), bolt(30, -60), shaft=Shaft("single-flat", 10)),
    mount(Bolt(30, 90, None, None, 10, None), Bolt(40, 0, 6, None, 0, None)),
    mount(shaft=Shaft("tongue", 6)),
    mount(bolt(18, 0), bolt(18, 90), bolt(18, 180), bolt(18, 270), shaft=Shaft(None, 9)),
    mount(bolt(90, 0, slot=8), bolt(90, 170), shaft=Shaft("splined", 9)),
    mount(bolt(25, 10), bolt(34, 10), bolt(43, 10), shaft=Shaft("square", None)),
]


def numbers(d: str) -> list[float]:
    """All numbers of a path."""
    return [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", d)]


def arc_ends(d: str) -> list[tuple[float, float]]:
    """The points of a path that is made of a start and arcs: the start, then where each arc ends."""
    start = re.match(r"M (\S+) (\S+)", d)
    assert start
    ends = re.findall(r"A \S+ \S+ \S+ \S+ \S+ (\S+) (\S+)", d)
    return [(float(x), float(y)) for x, y in [start.groups(), *ends]]


def hole_of(one: Mount) -> str:
    """The path of the hole of a mount with one bolt."""
    (group,) = having(parse(mount_svg(one, "t")), "rb-bolt")
    (hole,) = having(group, "rb-hole")
    return hole.get("d", "")


def polar(point: tuple[float, float]) -> tuple[float, float]:
    """Radius and angle, anticlockwise from the right, of a point whose y runs downwards."""
    x, y = point
    return math.hypot(x, y), math.degrees(math.atan2(-y, x)) % 360


@pytest.mark.parametrize("one", ODD)
def test_one_unit_of_the_drawing_is_one_millimetre(one: Mount) -> None:
    root = parse(mount_svg(one, "t"))
    left, top, width, height = root.get("viewBox", "").split()
    assert (left, top) == ("0", "0")
    assert root.get("width") == f"{width}mm" and root.get("height") == f"{height}mm"


def test_holes_stand_where_the_entry_has_them() -> None:
    """Taken from the screws' circles, about the middle of the shaft, by plain trigonometry."""
    screws = having(parse(mount_svg(mount(bolt(36.5, 0), bolt(41, 158), bolt(20, -90)), "t")), "rb-screw")
    found = [polar((float(one.get("cx", "nan")), float(one.get("cy", "nan")))) for one in screws]
    for (radius, degrees), (at_mm, at_deg) in zip(found, [(36.5, 0), (41, 158), (20, 270)], strict=True):
        assert radius == pytest.approx(at_mm, abs=0.02)
        assert (degrees - at_deg + 180) % 360 - 180 == pytest.approx(0, abs=0.05)
    assert {one.get("r") for one in screws} == {"3"}


def test_angles_run_anticlockwise_from_the_right() -> None:
    right, up = having(parse(mount_svg(mount(bolt(30, 0), bolt(30, 90)), "t")), "rb-screw")
    assert (float(right.get("cx", "nan")), float(right.get("cy", "nan"))) == (30, 0)
    assert (float(up.get("cx", "nan")), float(up.get("cy", "nan"))) == (0, -30)  # y runs downwards: above the shaft


@pytest.mark.parametrize("slot", [14.0, 179.0, 200.0, 355.0])
@pytest.mark.parametrize("at_deg", [0.0, 150.0, -47.5])
def test_the_corners_of_a_slot_are_where_geometry_says(at_deg: float, slot: float) -> None:
    """Both sides are arcs about the shaft, hole / 2 to either side of the middle line, from one end of the travel to the other."""
    hole = hole_of(mount(bolt(38, at_deg, slot=slot)))
    found = [polar(point) for point in arc_ends(hole)]
    low, high = at_deg - slot / 2, at_deg + slot / 2
    wanted = [(41.3, low), (41.3, high), (34.7, high), (34.7, low), (41.3, low)]
    for (radius, degrees), (far, angle) in zip(found, wanted, strict=True):
        assert radius == pytest.approx(far, abs=0.02)
        assert (degrees - angle + 180) % 360 - 180 == pytest.approx(0, abs=0.05)


def test_the_hub_stands_where_the_entry_has_it() -> None:
    """Reckoned by hand: looked at in N at 35 degrees, R lies 16 before it, P 18 before that, D 17 after it."""
    hubbed = replace(TWO_SLOTS, hub=Hub("N", 35, (18, 16, 17)), positions=("P", "R", "N", "D"))
    root = parse(mount_svg(hubbed, "t"))
    strokes = {one.get("data-position"): numbers(one.get("d", "")) for one in having(root, "rb-detent")}
    for position, degrees in {"P": 1, "R": 19, "N": 35, "D": 52}.items():
        ax, ay, bx, by = strokes.pop(position)
        for point in ((ax, ay), (bx, by)):
            assert polar(point)[1] == pytest.approx(degrees, abs=0.1)
        assert math.hypot(bx - ax, by - ay) == pytest.approx(4 if position == "N" else 2, abs=0.02)
    assert not strokes
    assert "P 1°, R 19°, N 35°, D 52°" in " ".join(texts(root))
    assert "Hub: not stated." in texts(parse(mount_svg(TWO_SLOTS, "t")))


def test_a_plain_hole_is_round() -> None:
    hole = hole_of(mount(bolt(38, 30)))
    radii = re.findall(r"A (\S+) (\S+)", hole)
    assert radii == [("3.3", "3.3")] * 2


def test_the_ruler_is_fifty_millimetres_long_with_a_tick_every_five() -> None:
    root = parse(mount_svg(TWO_SLOTS, "t"))
    line, *ticks = having(root, "rb-ruler-line")
    start, _, end = numbers(line.get("d", ""))
    assert end - start == RULER_MM == 50
    places = [numbers(tick.get("d", ""))[0] - start for tick in ticks]
    assert places == [pytest.approx(5 * step) for step in range(11)]
    assert "50 mm" in texts(root) and "must measure 50 mm" in " ".join(texts(root))


def test_a_spacer_is_marked_and_its_length_told() -> None:
    root = parse(mount_svg(mount(bolt(38, 0, spacer=5), bolt(38, 150, spacer=0)), "t"))
    first, second = having(root, "rb-bolt")
    assert having(first, "rb-spacer") and not having(second, "rb-spacer")
    assert "spacer 5 mm (0.197 in)" in " ".join(texts(root)) and any(text.endswith("no spacer") for text in texts(root))


def test_the_same_spacers_under_other_ears_do_not_look_alike() -> None:
    left = mount(bolt(38, 0, spacer=6), bolt(38, 110, spacer=2), bolt(38, 250, spacer=0))
    right = mount(bolt(38, 0, spacer=0), bolt(38, 110, spacer=6), bolt(38, 250, spacer=2))
    marked = []
    for each in (left, right):
        bolts = having(parse(mount_svg(each, "t")), "rb-bolt")
        marked.append([one.get("data-bolt") for one in bolts if having(one, "rb-spacer")])
    assert marked == [["A", "B"], ["B", "C"]]


def test_what_is_not_stated_is_drawn_broken_and_said() -> None:
    root = parse(mount_svg(mount(Bolt(30, 90, 6, None, 0, None), Bolt(40, 0, None, None, 10, 0)), "t"))
    first, second = having(root, "rb-bolt")
    assert {one.get("class") for one in having(first, "rb-not-stated")} == {"rb-spacer rb-not-stated", "rb-hole rb-not-stated"}
    assert not having(second, "rb-hole") and not having(second, "rb-screw")
    words = " ".join(texts(root))
    for told in ("hole not stated", "spacer not stated", "width not stated", "bolt not stated", "Shaft: not stated."):
        assert told in words


@pytest.mark.parametrize(
    ("shape", "word"),
    [
        ("double-flat", "two flats"),
        ("single-flat", "one flat"),
        ("square", "square"),
        ("splined", "splined"),
        ("round", "round"),
        ("tongue", "tongue"),
    ],
)
def test_the_shaft_is_as_wide_as_stated(shape: str, word: str) -> None:
    root = parse(mount_svg(mount(bolt(30, 0), shaft=Shaft(shape, 9.5)), "t"))
    (group,) = having(root, "rb-shaft")
    if shape == "square":
        (rect,) = having(group, "rb-hole")
        assert rect.get("width") == rect.get("height") == "9.5"
    elif shape in ("round", "splined"):
        assert having(group, "rb-hole")[0].get("r") == "4.75"
    elif shape == "single-flat":
        # from the flat to the far side of the circle about the shaft's middle
        (flat,) = [numbers(one.get("d", "")) for one in having(group, "rb-hole-line") if "rb-not-stated" not in one.get("class", "")]
        (arc,) = [numbers(one.get("d", "")) for one in having(group, "rb-hole-ground")]
        assert arc[2] - flat[0] == pytest.approx(9.5, abs=0.02)
    else:
        lines = [one for one in having(group, "rb-hole-line") if "rb-not-stated" not in one.get("class", "")]
        found = numbers(lines[0].get("d", ""))
        assert found[3] - found[0] == 9.5
    assert word in " ".join(texts(root)) and "9.5 mm (0.374 in) across" in " ".join(texts(root))


def test_the_text_alternative_says_all_the_measures() -> None:
    """In millimetres and inches, reckoned by hand: 1 in = 25.4 mm exactly (international inch, 1959; from memory)."""
    title, desc = alternatives(parse(mount_svg(TWO_SLOTS, "Short boss")))
    assert title == "Short boss"
    assert "A: 38 mm (1.496 in) from the shaft, at 0°; slot 6.6 mm (0.260 in) wide, 14° of travel; bolt 6 mm (0.236 in)," in desc
    assert "bolt 6 mm (0.236 in), spacer 4 mm (0.157 in)." in desc
    assert "B: 38 mm (1.496 in) from the shaft, at 150°" in desc and "two flats, 9.5 mm (0.374 in) across" in desc


@pytest.mark.parametrize("one", ODD)
def test_a_mount_keeps_the_rules_of_the_house_and_comes_out_the_same(one: Mount) -> None:
    svg = mount_svg(one, "<script>&")
    assert rules_of_the_house(svg) == [] and "<script" not in svg
    assert mount_svg(one, "<script>&") == svg
