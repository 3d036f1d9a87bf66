"""What a phone has to load before the first answer. The limits are those that the project set itself; gzip is Python's, at nginx's usual
level for text that is packed on the way (6)."""

from __future__ import annotations

import gzip
from collections.abc import Callable

import pytest
from tests.site.conftest import Tab

from generate import generate
from rangebook.book.load import Loaded, load_texts
from rangebook.fitting.fitter import Fitter
from rangebook.site.data import index
from rangebook.site.facts.computed import Computed
from rangebook.site.shared.compact import compact

MOST_BYTES = 100_000
MOST_INDEX_BYTES = 12_000
"""Of the index of numbers, to each 1,000 parts."""


def weight(data: bytes) -> int:
    """Bytes on the way."""
    return len(gzip.compress(data, 6))


def test_the_find_page_and_an_answer_are_light(open_tab: Callable[..., Tab], site_url: str, loaded: Loaded) -> None:
    tab = open_tab()
    sizes: dict[str, int] = {}
    tab.page.on("requestfinished", lambda request: sizes.update({request.url: weight(request.response().body())}))
    tab.page.goto(site_url)
    tab.page.wait_for_load_state("networkidle")
    assert len(sizes) > 3 and sum(sizes.values()) <= MOST_BYTES, sorted(sizes.items(), key=lambda one: -one[1])
    number = next(iter(loaded.book.families.values())).parts[0].number
    tab.page.locator("#q").fill(number)
    tab.page.locator("[data-find-answer]").get_by_text(number).first.wait_for()
    tab.page.wait_for_load_state("networkidle")
    assert sum(sizes.values()) <= MOST_BYTES, "with the first answer"


def test_the_number_index_is_asked_for_once(open_tab: Callable[..., Tab], site_url: str, loaded: Loaded) -> None:
    tab = open_tab()
    tab.page.goto(site_url)
    for family in loaded.book.families.values():
        number = family.parts[-1].number
        tab.page.locator("#q").fill(number)
        tab.page.locator("[data-find-answer]").get_by_text(number).first.wait_for()
    assert sum(address.endswith(index.NUMBERS_URL) for address in tab.seen.asked) == 1


@pytest.mark.parametrize("families", [167, 500])
def test_the_number_index_of_a_large_book(families: int) -> None:
    loaded = load_texts({path: text.encode() for path, text in generate(families).items()})
    parts = sum(len(family.parts) for family in loaded.book.families.values())
    assert parts >= 1_000
    size = weight(compact(index.numbers(Computed(loaded, Fitter(loaded.book)))).encode())
    assert size <= MOST_INDEX_BYTES * parts / 1_000, f"{size} bytes for {parts} parts"
