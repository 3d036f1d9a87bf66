"""A part with several connectors on its page, in its drawings and in the files that the browser loads."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from rangebook.book.load import load
from rangebook.site.data import identify
from rangebook.site.data.compare import compares
from rangebook.site.data.proof import proofs
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import part
from rangebook.site.pages.family import family_data
from rangebook.site.shared.render import render

ROOT = Path(__file__).resolve().parents[2]
FAMILY, BOTH = "harnby-pair", "main.square-9+lamp.round-5"


@pytest.fixture(scope="module")
def computed() -> Computed:
    return Computed(load(ROOT))


@pytest.fixture(scope="module")
def page(computed: Computed) -> str:
    return render("family.html", "../..", "", family_data(computed, computed.book.families[FAMILY]))


def test_the_page_names_every_connector_and_says_what_the_tail_is(computed: Computed) -> None:
    own = next(one for one in part.pages(computed) if one.title == "PW 671.008")
    page = render(own.template, "../..", "", own.data())
    for title in ("Nine-way square, lettered", "Five-way round, screw collar"):
        assert re.search(rf"(main|lamp): <a [^>]*>{title}</a>", page), title
    assert "lamp: leads out of the housing, 240 mm long; where they leave it: below, beside the shaft" in page


def test_one_drawing_shows_all_connectors_each_cavity_by_its_whole_label(computed: Computed, page: str) -> None:
    cavities = set(re.findall(r'data-cavity="((?:main|lamp)\.\w+)"', page))
    assert cavities == {f"main.{cavity}" for cavity in "ABCDEFGHJ"} | {f"lamp.{cavity}" for cavity in "12345"}
    (svg,) = [text for item in computed.book.items for url, text in identify.faces(computed, item) if url == identify.face_url(BOTH)]
    root = ElementTree.fromstring(svg)
    inner = [one for one in root if one.tag.endswith("svg")]
    tops = [float(one.get("y", "0")) for one in inner]
    heights = [float(one.get("height", "0")) for one in inner]
    assert len(inner) == 2 and tops[0] + heights[0] <= tops[1] and tops[1] + heights[1] <= float(root.get("height", "0"))


def test_proof_and_comparison_point_at_that_drawing(computed: Computed) -> None:
    family = computed.book.families[FAMILY]
    assert {one["face"] for one in proofs(computed, family)["parts"].values()} == {
        *(BOTH, "square-9", "round-5", "main.square-9+lamp.oval-2"),
    }
    assert {one["face"] for one in compares(computed, family)["seats"].values()} == {BOTH, "square-9"}


def test_a_part_with_several_connectors_is_never_set_aside_for_the_one_that_is_looked_at(computed: Computed) -> None:
    from rangebook.desk.identify.narrow import narrow
    from rangebook.desk.identify.table import make_table

    table = make_table(computed.fitter)
    for outline in ("round", "square", "oval"):
        left = [table.rows[at].number for at in narrow(table, {"outline": outline}).rows]
        assert "PW 671.008" in left, outline
