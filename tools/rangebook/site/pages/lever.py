"""The page on which the lever of a switch is slid: its contacts move, and a meter between two tapped pins shows what to expect."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rangebook.site.data.index import NUMBERS_URL
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page; which part, plug and pins stands in its address."""
    yield Page(
        source="lever.md",
        title=say("page.slide_the_lever"),
        template="lever.html",
        data=lever_data,
        about=say("lever_page.about"),
        client=("lever.css", "lever/page.js"),
    )


def lever_data() -> Mapping[str, Any]:
    """Where the numbers are."""
    return {"numbers_url": NUMBERS_URL}
