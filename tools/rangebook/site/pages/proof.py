"""The page on which a part is proved with a meter. One page for all parts: which one stands in its address."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rangebook.site.data.index import NUMBERS_URL
from rangebook.site.facts.computed import Computed
from rangebook.site.model.proving import meter_words
from rangebook.site.pages import Page
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page. Each family's own page has the same sheets as tables, for paper and for those without scripts."""
    yield Page(
        source="prove.md",
        title=say("prove_page.title"),
        template="prove.html",
        data=proof_data,
        about=say("prove_page.about"),
        client=("proof_table.css", "prove.css", "prove/page.js"),
    )


def proof_data() -> Mapping[str, Any]:
    """Where the numbers are, and how to hold the meter."""
    return {"numbers_url": NUMBERS_URL, "meter": meter_words()}
