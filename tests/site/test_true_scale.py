"""The mount drawings on paper: the check bar that a PDF reader finds on the printed page is as long as it is said to be. The holes are
drawn in the same drawing as the bar, and their places in it are checked in drawings/test_mount_pattern.py.

Source: poppler's ``pdftocairo``, an independent reader of PDF; a PDF's point is 1/72 inch (ISO 32000, from memory), an inch 25.4 mm.
"""

from __future__ import annotations

import itertools
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import pytest
from tests.site.conftest import Tab

from rangebook.book.load import Loaded
from rangebook.site.shared import urls

POPPLER = pytest.mark.skipif(not shutil.which("pdftocairo"), reason="poppler-utils is not here")
MM_PER_POINT = 25.4 / 72
SVG = "{http://www.w3.org/2000/svg}"

Matrix = tuple[float, float, float, float, float, float]
Line = tuple[float, float, float, float]


def times(outer: Matrix, inner: Matrix) -> Matrix:
    a, b, c, d, e, f = outer
    p, q, r, s, t, u = inner
    return a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * u + e, b * t + d * u + f


def straight_lines(element: ElementTree.Element, matrix: Matrix = (1, 0, 0, 1, 0, 0)) -> Iterator[Line]:
    """Every line from one point to another on a page, in mm from its corner."""
    found = re.fullmatch(r"matrix\((.+)\)", element.get("transform", ""))
    if found:
        matrix = times(matrix, tuple(float(one) for one in re.split(r"[ ,]+", found[1])))  # type: ignore[arg-type]
    if element.tag == f"{SVG}path" and "fill:none" in element.get("style", ""):
        for x, y, x2, y2 in re.findall(r"M (\S+) (\S+) L (\S+) (\S+)(?= M|\s*$)", element.get("d", "")):
            a, b, c, d, e, f = matrix
            ends = [(a * float(u) + c * float(v) + e, b * float(u) + d * float(v) + f) for u, v in ((x, y), (x2, y2))]
            yield tuple(value * MM_PER_POINT for end in ends for value in end)  # type: ignore[misc]
    for child in element:
        if child.tag not in (f"{SVG}defs", f"{SVG}clipPath"):
            yield from straight_lines(child, matrix)


def printed(path: Path) -> list[list[Line]]:
    """The straight lines of each page of a PDF."""
    pages = int(re.search(r"Pages:\s+(\d+)", subprocess.run(["pdfinfo", path], capture_output=True, text=True, check=True).stdout)[1])  # type: ignore[index]
    found = []
    for page in range(1, pages + 1):
        out = path.with_suffix(f".{page}.svg")
        subprocess.run(["pdftocairo", "-svg", "-f", str(page), "-l", str(page), path, out], check=True)
        found.append(list(straight_lines(ElementTree.parse(out).getroot())))
    return found


def rulers(lines: list[Line]) -> list[float]:
    """The lengths of the check bars of a page: a level line with eleven upright ones standing on it, evenly from end to end."""
    found = []
    for x, y, x2, y2 in lines:
        if abs(y - y2) > 0.01 or abs(x2 - x) < 20:
            continue
        marks = sorted(
            {
                round(u, 2)
                for u, v, u2, v2 in lines
                if abs(u - u2) < 0.01 and abs(min(v, v2) - y) < 0.05 and 2 < abs(v2 - v) < 6 and x - 0.1 <= u <= x2 + 0.1
            }
        )
        if len(marks) == 11 and all(
            after - before == pytest.approx(abs(x2 - x) / 10, abs=0.05) for before, after in itertools.pairwise(marks)
        ):
            found.append(abs(x2 - x))
    return found


@POPPLER
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_bar_of_each_mount_is_fifty_millimetres_on_paper(tab: Tab, site_url: str, loaded: Loaded, tmp_path: Path, paper: str) -> None:
    for family in loaded.book.families.values():
        if not family.mounts:
            continue
        tab.page.goto(site_url + urls.family_url(family.id))
        path = tmp_path / f"{family.id}.pdf"
        path.write_bytes(tab.page.pdf(format=paper, print_background=True))
        pages = printed(path)
        bars = [length for lines in pages for length in rulers(lines)]
        assert bars == [pytest.approx(50, abs=0.1)] * len(family.mounts), family.id


@POPPLER
def test_a_page_that_is_printed_smaller_is_noticed(tab: Tab, site_url: str, loaded: Loaded, tmp_path: Path) -> None:
    """The check itself: at 96 percent the bar is two millimetres short."""
    family = next(one for one in loaded.book.families.values() if one.mounts)
    tab.page.goto(site_url + urls.family_url(family.id))
    path = tmp_path / "small.pdf"
    path.write_bytes(tab.page.pdf(format="A4", scale=0.96))
    bars = [length for lines in printed(path) for length in rulers(lines)]
    assert bars == [pytest.approx(48, abs=0.1)] * len(family.mounts)
