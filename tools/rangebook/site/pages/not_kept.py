"""The page that stands in for one that is not on the device while there is no connection."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page. The worker in ``offline/worker.js`` leads to it."""
    yield Page(
        source="not-kept.md",
        title=say("not_kept_page.title"),
        template="not_kept.html",
        about=say("not_kept_page.about"),
    )
