"""Drawings as a browser shows them: at a phone's width, in light and dark, and on paper."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from tests.site.drawings.making import bolt, mount, wires
from tests.site.drawings.test_chain import BOOK as ODD_BOOK
from tests.site.drawings.test_connector_face import HOUSINGS, SOME_PINS
from tests.site.drawings.test_mount_pattern import ODD

from rangebook.book.load import load
from rangebook.book.model import Bolt, Shaft
from rangebook.fitting.supersession import chain_ends
from rangebook.site.drawings import STYLESHEET
from rangebook.site.drawings.chain import chain_svg
from rangebook.site.drawings.connector_face import face_svg
from rangebook.site.drawings.mount_pattern import mount_svg

Show = Callable[..., list[dict[str, Any]]]

BOOK = load(Path(__file__).resolve().parents[3]).book
"""The book that comes with the program: whatever it holds must be drawn well."""

PX_PER_MM = 96 / 25.4
"""Source: CSS Values and Units, absolute lengths: 1 in = 96 px = 25.4 mm (from memory)."""


def faces() -> Iterator[str]:
    colours = wires(c1="RDWH", c2="GNYE", c3="BK", c4="RDWHBK", c5=None, c6="RX", A="VTWH", B12="OGWH", A1="BNWH", A7="GY")
    for housing in HOUSINGS:
        for side in ("switch", "wire"):
            yield face_svg(housing, side, None, None, "t")
            yield face_svg(housing, side, SOME_PINS, None, "t")
            yield face_svg(housing, side, SOME_PINS, colours, "t")
            yield face_svg(housing, side, None, colours, "t")


def faces_of_the_book() -> Iterator[str]:
    for family in BOOK.families.values():
        for one in family.parts:
            if one.connector in BOOK.connectors:
                yield face_svg(BOOK.connectors[one.connector], "switch", one.pins, None, one.number)
        for plug in family.plugs.values():
            if plug.connector in BOOK.connectors:
                for side in ("switch", "wire"):
                    yield face_svg(BOOK.connectors[plug.connector], side, None, plug.wires, plug.name, loops=plug.loops)


def mounts() -> Iterator[str]:
    yield from (mount_svg(one, "t") for one in ODD)
    yield from (mount_svg(one, one.name) for family in BOOK.families.values() for one in family.mounts.values())


def chains() -> Iterator[str]:
    kits = {kit.id: f"{kit.number} ({kit.title})" for kit in BOOK.kits.values()}
    for book in (ODD_BOOK, BOOK):
        yield from (chain_svg(chain_ends(book, one), one, kits) for one in book.parts)


KINDS = {"faces": faces, "faces of the book": faces_of_the_book, "mounts": mounts, "chains": chains}


def ink(box: list[float]) -> tuple[float, float, float, float]:
    """The part of a line's box that holds its letters: above and below there is room for accents and descenders."""
    left, top, right, bottom = box
    height = bottom - top
    return left, top + 0.2 * height, right, bottom - 0.12 * height


@pytest.mark.parametrize("kind", KINDS)
def test_no_text_meets_another_or_leaves_the_drawing(show: Show, kind: str) -> None:
    for measured in show(*KINDS[kind]()):
        width, height = measured["size"]
        boxes = [(text["text"], ink(text["box"])) for text in measured["texts"]]
        for text, (left, top, right, bottom) in boxes:
            assert left >= -0.5 and top >= -0.5 and right <= width + 0.5 and bottom <= height + 0.5, (text, left, right, width)
        for (one, a), (other, b) in combinations(boxes, 2):
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (one, a, other, b)


@pytest.mark.parametrize("kind", KINDS)
def test_no_text_is_smaller_than_14_pixels_on_a_phone(show: Show, kind: str) -> None:
    """On one 360 wide of which the page keeps 43 for its margins."""
    sizes = {round(text["px"], 2): text["text"] for measured in show(*KINDS[kind](), width=317) for text in measured["texts"]}
    assert min(sizes) >= 14, sizes[min(sizes)]


@pytest.mark.parametrize("kind", ["faces", "faces of the book"])
def test_labels_and_codes_stay_inside_their_cavity_and_cavities_inside_the_housing(show: Show, kind: str) -> None:
    for measured in show(*KINDS[kind]()):
        assert measured["out"] == 0
        for text in measured["texts"]:
            if text["place"]:
                left, top, right, bottom = ink(text["box"])
                assert left >= text["place"][0] and right <= text["place"][2], text
                assert top >= text["place"][1] and bottom <= text["place"][3], text


def test_every_cavity_is_at_least_44_pixels_to_tap_on_a_phone(show: Show) -> None:
    """Source: WCAG 2.2, 2.5.5 target size (enhanced). On a phone 390 wide of which the page keeps 43 for its margins."""
    boxes = [box for measured in show(*faces(), width=347) for box in measured["touch"]]
    assert len(boxes) == sum(len(housing.cavities) for housing in HOUSINGS) * 8
    assert min(right - left for left, _, right, _ in boxes) >= 44 - 0.01
    assert min(bottom - top for _, top, _, bottom in boxes) >= 44 - 0.01


def test_only_a_wide_face_is_wider_than_the_phone(show: Show) -> None:
    drawings = [face_svg(housing, "switch", None, None, "t") for housing in HOUSINGS]
    widths = [measured["size"][0] for measured in show(*drawings)]
    assert [width > 360.01 for width in widths] == ["rb-drawing--wide" in drawing for drawing in drawings]
    assert any(width > 360.01 for width in widths)


@pytest.mark.parametrize(
    "one", [bolt(38, 0, slot=14), bolt(38, 150, slot=14), bolt(30, -100, slot=200), bolt(25, 45), bolt(20, 90, slot=350)]
)
def test_a_slot_is_all_that_is_within_half_its_width_of_its_middle_line(page: Any, show: Show, one: Bolt) -> None:
    """The browser says which points are inside the hole; the distance from the arc says which ought to be."""
    show(mount_svg(mount(one), "t"))
    half = 3.3
    points, wanted = [], []
    for x in range(-45, 46, 2):
        for y in range(-45, 46, 2):
            radius, angle = math.hypot(x, y), math.degrees(math.atan2(-y, x))
            off = (angle - one.at_deg + 180) % 360 - 180
            if abs(off) <= one.slot_deg / 2:
                distance = abs(radius - one.at_mm)
            else:
                ends = [math.radians(one.at_deg + turn) for turn in (-one.slot_deg / 2, one.slot_deg / 2)]
                distance = min(math.hypot(x - one.at_mm * math.cos(end), y + one.at_mm * math.sin(end)) for end in ends)
            if abs(distance - half) > 0.03:  # figures are rounded to a hundredth of a millimetre
                points.append([x, y])
                wanted.append(distance < half)
    found = page.evaluate(
        """points => { const svg = document.querySelector('svg'), hole = svg.querySelector('.rb-bolt .rb-hole');
        return points.map(([x, y]) => { const p = svg.createSVGPoint(); p.x = x; p.y = y; return hole.isPointInFill(p); }); }""",
        points,
    )
    assert any(wanted) and found == wanted


def test_on_paper_a_mount_is_at_true_scale_even_where_the_screen_is_narrow(page: Any, show: Show) -> None:
    large = mount(bolt(60, 0, slot=8), bolt(60, 180, spacer=4), shaft=Shaft("square", 14))
    measure = """() => { const box = one => { const r = document.querySelector(one).getBoundingClientRect(); return [r.left, r.right]; };
        const middle = n => { const r = document.querySelectorAll('.rb-screw')[n].getBoundingClientRect(); return (r.left + r.right) / 2; };
        const svg = document.querySelector('svg').getBoundingClientRect();
        return {ruler: box('.rb-ruler-line'), bolts: [middle(0), middle(1)], svg: svg.width}; }"""
    (screen,) = show(mount_svg(large, "t"))
    assert screen["size"][0] <= 360.01
    page.emulate_media(media="print")
    try:
        paper = page.evaluate(measure)
    finally:
        page.emulate_media(media="screen")
    assert paper["ruler"][1] - paper["ruler"][0] == pytest.approx(50 * PX_PER_MM, abs=0.2)
    assert paper["bolts"][0] - paper["bolts"][1] == pytest.approx(120 * PX_PER_MM, abs=0.2)
    assert paper["svg"] > 360


def properties(block: str) -> dict[str, str]:
    return dict(re.findall(r"--rb-([a-z-]+): (#[0-9a-f]{6});", block))


def light_and_dark() -> tuple[dict[str, str], dict[str, str], dict[str, str]]:
    css = STYLESHEET.read_text("utf-8")
    light = re.search(r":root \{(.*?)\}", css, re.DOTALL)
    dark = re.search(r':root:not\(\[data-theme="light"\]\) \{(.*?)\}', css, re.DOTALL)
    chosen = re.search(r'\[data-md-color-scheme="slate"\] \{(.*?)\}', css, re.DOTALL)
    assert light and dark and chosen
    return properties(light[1]), properties(dark[1]), properties(chosen[1])


def contrast(one: str, other: str) -> float:
    """Source: WCAG 2.2, contrast ratio, from memory; checked below against a known value."""

    def luminance(colour: str) -> float:
        shares = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        linear = [share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_contrast_formula_gives_the_known_value() -> None:
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("scheme", [0, 1])
@pytest.mark.parametrize(
    ("over", "under", "least"),
    [
        ("ink", "paper", 7),
        ("ink", "ground", 7),
        ("soft", "paper", 7),
        ("soft", "ground", 7),
        ("on-fill", "fill", 7),
        ("line", "paper", 3),
        ("line", "ground", 3),
        ("mark", "paper", 3),
        ("mark", "ground", 3),
        ("fill", "ground", 3),
    ],
)
def test_contrast(scheme: int, over: str, under: str, least: float) -> None:
    """Source: WCAG 2.2: 7:1 for text (AAA), 3:1 for what is not text."""
    colours = light_and_dark()[scheme]
    assert contrast(colours[over], colours[under]) >= least


def test_dark_has_every_colour_that_light_has_however_it_is_chosen() -> None:
    light, dark, chosen = light_and_dark()
    assert light.keys() == dark.keys() and dark == chosen


@pytest.mark.parametrize(
    ("system", "head", "scheme"),
    [
        ("light", "", 0),
        ("dark", "", 1),
        ("dark", 'data-theme="light"', 0),
        ("light", 'data-theme="dark"', 1),
        ("light", 'data-md-color-scheme="slate"', 1),
    ],
)
def test_colours_follow_the_system_and_the_readers_choice_goes_first(page: Any, show: Show, system: str, head: str, scheme: int) -> None:
    page.emulate_media(color_scheme=system)
    try:
        show(face_svg(HOUSINGS[0], "switch", SOME_PINS, None, "t"), head=head)
        fill = page.evaluate("getComputedStyle(document.querySelector('.rb-cavity--pin .rb-box')).fill")
    finally:
        page.emulate_media(color_scheme="light")
    wanted = light_and_dark()[scheme]["fill"]
    assert fill == f"rgb({', '.join(str(int(wanted[at : at + 2], 16)) for at in (1, 3, 5))})"


def test_paper_is_light_whatever_the_screen_is(page: Any, show: Show) -> None:
    page.emulate_media(color_scheme="dark", media="print")
    try:
        show(face_svg(HOUSINGS[0], "switch", SOME_PINS, None, "t"), head='data-theme="dark"')
        ink_colour = page.evaluate("getComputedStyle(document.querySelector('.rb-text')).fill")
    finally:
        page.emulate_media(color_scheme="light", media="screen")
    wanted = light_and_dark()[0]["ink"]
    assert ink_colour == f"rgb({', '.join(str(int(wanted[at : at + 2], 16)) for at in (1, 3, 5))})"


def test_the_text_alternative_reaches_those_who_cannot_see(page: Any, show: Show) -> None:
    """By the browser's own accessibility tree: one image under its title, whose pieces are not read out one by one."""
    show(face_svg(HOUSINGS[0], "switch", SOME_PINS, None, "Face of the fourteen-way"))
    assert page.get_by_role("img", name="Face of the fourteen-way", exact=True).count() == 1


def test_every_shape_has_a_rule_in_the_style_sheet_and_every_rule_a_shape() -> None:
    """A class that is misspelt on either side would show as a black blot, or not at all."""
    ruled = set(re.findall(r"\.(rb-[a-z0-9]+(?:-{1,2}[a-z0-9]+)*)", STYLESHEET.read_text("utf-8")))
    drawings = [svg for kind in KINDS.values() for svg in kind()]
    used = {name for svg in drawings for one in re.findall(r'class="([^"]*)"', svg) for name in one.split()}
    shapes = {one.split()[0] for svg in drawings for one in re.findall(r'<(?:path|rect|circle) class="([^"]*)"', svg)}
    assert len(shapes) > 20 and shapes <= ruled
    # a page's own, and colours that no drawing here happens to have
    assert {name for name in ruled - used if not name.startswith("rb-wire-")} == {"rb-scroll", "rb-swatch"}
