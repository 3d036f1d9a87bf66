"""Labels for the parts bin. One page for all: the part or the family stands in its address."""

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
        source="label.md",
        title=say("label_page.title"),
        template="label.html",
        data=lambda: label_data(computed),
        about=say("label_page.about"),
        client=("job.css", "label/page.js"),
    )


def label_data(computed: Computed) -> Mapping[str, Any]:
    """Where the numbers are, and whether the codes can hold an address."""
    return {"numbers_url": NUMBERS_URL, "published": bool(computed.site_url)}
