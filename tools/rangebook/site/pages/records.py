"""Records of the bay: what was fitted and what came of it, kept on the device until it is sent."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rangebook.site.data.index import NAMES_URL, NUMBERS_URL
from rangebook.site.data.write import WRITE_URL
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page."""
    yield Page(
        source="records.md",
        title=say("records_page.title"),
        template="records.html",
        data=lambda: records_data(computed),
        about=say("records_page.about"),
        client=("write.css", "records/page.js"),
    )


def records_data(computed: Computed) -> Mapping[str, Any]:
    """Where the numbers, the vehicles and the entry format are, and where a file can be edited."""
    return {"numbers_url": NUMBERS_URL, "names_url": NAMES_URL, "write_url": WRITE_URL, "edit": computed.repository.edit}
