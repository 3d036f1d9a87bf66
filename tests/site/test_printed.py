"""The book on paper: read back by another library, what is looked for is on the sheet that the index names.

Source: ISO 32000 (PDF), as pypdf (BSD-3-Clause) reads it.
"""

from __future__ import annotations

import io
import re

import pytest
from pypdf import PdfReader
from tests.site.conftest import ROOT

from rangebook.book.load import Loaded, load_texts
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.verdict import VerdictKind
from rangebook.lint.examples import base_book
from rangebook.site.bundle.printed import printed
from rangebook.site.facts.computed import Computed


def sheets_of(data: bytes) -> list[str]:
    """The text of each sheet, with one space wherever there is any."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(data)).pages]


@pytest.fixture(scope="module")
def sheets(loaded: Loaded, fitter: Fitter) -> list[str]:
    assert loaded.root == ROOT
    return sheets_of(printed(Computed(loaded, fitter), "The demo book"))


def index_of(sheets: list[str], heading: str, names: list[str]) -> dict[str, list[int]]:
    """What an index says of each name: the sheets, counted from 1."""
    (at,) = [number for number, text in enumerate(sheets) if text.startswith(heading)]
    text = sheets[at]
    return {
        name: [int(page) for page in re.findall(r"\d+", found[1])]
        for name in names
        if (found := re.search(rf"(?<!\S){re.escape(name)}: (\d+(?:, \d+)*)", text))
    }


def test_the_cautions_stand_first_and_the_edition_on_each_sheet(sheets: list[str], loaded: Loaded, fitter: Fitter) -> None:
    first = sheets[0].lower()
    for word in ("chock the wheels", "battery", "service information", "licensed", "cranks in p and in n, and in nothing else"):
        assert word in first
    words = Computed(loaded, fitter).edition.words
    for number, text in enumerate(sheets, 1):
        assert words in text and str(number) in text


def test_each_index_leads_to_the_sheet(sheets: list[str], loaded: Loaded) -> None:
    book = loaded.book
    numbers = index_of(sheets, "By number", [one.number for one in (*book.parts, *book.kits.values())])
    assert len(numbers) == len(book.parts) + len(book.kits)
    vehicles = index_of(sheets, "By vehicle", sorted({one.vehicle for family in book.families.values() for one in family.applications}))
    assert len(vehicles) == len({one.vehicle for family in book.families.values() for one in family.applications})
    gearboxes = index_of(sheets, "By gearbox", sorted({name for family in book.families.values() for name in family.gearboxes}))
    assert gearboxes
    for index in (numbers, vehicles, gearboxes):
        for name, pages in index.items():
            assert pages and all(name in sheets[page - 1] for page in pages), (name, pages)


def test_every_seat_has_its_answers(sheets: list[str], fitter: Fitter) -> None:
    """What goes on, and each part that must not be fitted, with its number beside the words."""
    whole = " ".join(sheets)
    for seat in fitter.seats:
        assert f"Built with {seat.original.number}, plug with" in whole
        for verdict in fitter.candidates(seat):
            if verdict.kind is VerdictKind.NO:
                assert f"Do not fit {verdict.part.number}" in whole
            assert verdict.part.number in whole


def test_a_title_in_another_script_is_printed_and_the_same_book_gives_the_same_bytes() -> None:
    texts = {name: text.replace("title: Tamblin", "title: Тамблин").encode() for name, text in base_book().items()}
    found = [printed(Computed(load_texts(texts)), "Книга") for _ in range(2)]
    assert found[0] == found[1]
    text = " ".join(sheets_of(found[0]))
    assert "Тамблин" in text and "Книга" in text
