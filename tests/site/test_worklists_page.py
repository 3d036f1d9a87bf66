"""The page of worklists says what the worklists say, each line with the way to its entry."""

from __future__ import annotations

import re
from pathlib import Path

import lxml.html
import pytest

from rangebook.book.load import Loaded
from rangebook.desk import worklists
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.verdict import VerdictKind
from rangebook.site.facts.computed import Computed
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.pages import worklists as page


@pytest.fixture(scope="module")
def content(site_dir: Path) -> lxml.html.HtmlElement:
    return lxml.html.fromstring((site_dir / "worklists" / "index.html").read_bytes())


def rows(content: lxml.html.HtmlElement, section: str) -> list[str]:
    """The lines of a list, each as one text."""
    return [" ".join(row.text_content().split()) for row in content.get_element_by_id(section).xpath(".//tbody/tr")]


def test_the_first_line_is_the_measurement_that_settles_most(content: lxml.html.HtmlElement, loaded: Loaded, fitter: Fitter) -> None:
    found = worklists.measurements((seat, verdict) for seat in fitter.seats for verdict in fitter.candidates(seat))
    shown = rows(content, "Measure")
    assert len(shown) == len(found) > 3
    for one, line in zip(found, shown, strict=True):
        assert line.startswith(one.name)
        assert (f"{len(one.settles)} answer" if one.settles else "none alone") in line
    unknown = sum(one.kind is VerdictKind.UNKNOWN for seat in fitter.seats for one in fitter.candidates(seat))
    said = " ".join(content.get_element_by_id("Measure").text_content().split())
    assert f"{unknown} answers are not known" in said
    assert re.search(rf"of {re.escape(found[0].name)}( \([^)]*\))?\. It settles {len(found[0].settles)} answers\.", said)


def test_every_list_has_its_lines(content: lxml.html.HtmlElement, loaded: Loaded) -> None:
    book = loaded.book
    gaps = worklists.without_pinout(book)
    assert [
        line.split(book.families[gap.part.family].title)[0].partition(" (")[0].strip()
        for gap, line in zip(gaps, rows(content, "Pinouts"), strict=True)
    ] == [gap.part.number for gap in gaps]
    newest = Computed(loaded).edition.date
    stale = worklists.checked_long_ago(book, newest)
    shown = rows(content, "Stale")
    assert len(shown) == min(len(stale), page.MOST) and shown[0].endswith(stale[0].on or "?")
    assert len(rows(content, "Chains")) == len(worklists.open_chains(book))
    assert len(rows(content, "Jumpers")) == len(worklists.without_jumpers(Fitter(book).seats)) > 0
    assert len(rows(content, "Unsourced")) == len(worklists.without_source(book))


def test_a_book_that_knows_everything_says_so(small_book: Path, tmp_path: Path) -> None:
    build_site(checked(small_book), tmp_path / "site")
    made = lxml.html.fromstring((tmp_path / "site" / "worklists" / "index.html").read_bytes())
    said = " ".join(made.text_content().split())
    assert "Nothing: every answer is known." in said and "None: pins and contacts of every part are stated." in said


def test_a_long_list_says_how_long_it_is() -> None:
    found = page._list([{"says": str(one)} for one in range(page.MOST + 7)])
    assert len(found["rows"]) == page.MOST and found["count"] == page.MOST + 7
