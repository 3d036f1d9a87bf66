"""The page on which any two parts are laid over each other on a chosen vehicle's plug, wire by wire."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rangebook.site.data.index import NUMBERS_URL
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page; which two parts and which plug stand in its address."""
    yield Page(
        source="compare.md",
        title=say("page.compare_two_parts"),
        template="compare.html",
        data=compare_data,
        about=say("compare_page.about"),
        client=("compare.css", "compare/page.js"),
    )


def compare_data() -> Mapping[str, Any]:
    """Where the numbers are."""
    return {"numbers_url": NUMBERS_URL}
