"""Several numbers at once: a counter's order or a stock list, and what to fit for each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rangebook.site.data.index import NUMBERS_URL
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page."""
    yield Page(
        source="several.md",
        title=say("page.several_at_once"),
        template="several.html",
        data=several_data,
        about=say("several_page.about"),
        client=("several.css", "job.css", "several/page.js"),
    )


def several_data() -> Mapping[str, Any]:
    """Where the numbers are."""
    return {"numbers_url": NUMBERS_URL}
