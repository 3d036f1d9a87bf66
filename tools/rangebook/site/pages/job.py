"""The job sheet: a chosen answer on one page to print. One page for all: the seat and the part stand in its address.

There would be a page for each pair of a seat and a part that goes on it; the browser puts the sheet together from the answer and the
proof as they were computed, and the build stays small.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rangebook.site.data.index import NUMBERS_URL
from rangebook.site.facts.computed import Computed
from rangebook.site.model.proving import meter_words
from rangebook.site.pages import Page
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page."""
    yield Page(
        source="job.md",
        title=say("job_page.title"),
        template="job.html",
        data=job_data,
        about=say("job_page.about"),
        client=("proof_table.css", "job.css", "job/page.js"),
    )


def job_data() -> Mapping[str, Any]:
    """Where the numbers are, and how to hold the meter."""
    return {"numbers_url": NUMBERS_URL, "meter": meter_words()}
