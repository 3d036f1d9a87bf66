"""The page that finds out which switch is in the hand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rangebook.site.data.identify import IDENTIFY_URL
from rangebook.site.data.index import NUMBERS_URL
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.site.pages.lists import MOST
from rangebook.site.shared import urls
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page."""
    yield Page(
        source="identify.md",
        title=say("identify_page.title"),
        template="identify.html",
        data=lambda: identify_data(computed),
        about=say("identify_page.about"),
        client=("identify.css", "identify/page.js"),
    )


def identify_data(computed: Computed) -> Mapping[str, Any]:
    """Where the data is, and for those without scripts every connector by its outline; none where there are too many to look through."""
    outlines: dict[str, list[dict[str, str]]] = {}
    connectors = computed.book.connectors.values() if len(computed.book.connectors) <= MOST else ()
    for one in sorted(connectors, key=lambda one: (len(one.cavities), one.title)):
        words = say("page.count_cavities", count=len(one.cavities))
        outlines.setdefault(one.outline, []).append({"title": one.title, "about": words, "url": urls.connector_url(one.id)})
    return {"table_url": IDENTIFY_URL, "numbers_url": NUMBERS_URL, "outlines": dict(sorted(outlines.items()))}
