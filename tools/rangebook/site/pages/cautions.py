"""What to mind before and while one works. The words stand in the template, for they are about people, not about the book."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page


def pages(computed: Computed) -> Iterator[Page]:
    """The one page."""
    yield Page(
        source="cautions.md",
        title="Before you start",
        template="cautions.html",
        about="What can hurt someone when a range switch is changed or tested, and what to do first.",
    )
