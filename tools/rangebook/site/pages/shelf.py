"""My shelf: a stock list kept on the device, and what of it fits a vehicle."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rangebook.site.data.index import NAMES_URL, NUMBERS_URL
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page."""
    yield Page(
        source="shelf.md",
        title=say("shelf_page.title"),
        template="shelf.html",
        data=shelf_data,
        about=say("shelf_page.about"),
        client=("several.css", "shelf/page.js"),
    )


def shelf_data() -> Mapping[str, Any]:
    """Where the numbers and the vehicles are."""
    return {"numbers_url": NUMBERS_URL, "names_url": NAMES_URL}
