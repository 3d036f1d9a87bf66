"""What to mind before and while one works."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page."""
    yield Page(
        source="cautions.md",
        title=say("cautions_page.title"),
        template="cautions.html",
        about=say("cautions_page.about"),
    )
