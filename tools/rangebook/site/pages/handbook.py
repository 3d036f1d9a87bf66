"""The handbook's own pages: Markdown files beside this package, as they are."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.resources import files

from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page, Shell

TEXTS = {
    "index": "How the book works",
    "finding": "Finding and fitting",
    "writing": "Adding to the book",
    "hosting": "Publishing it",
    "programs": "For other programs",
    "impact": "What a change does",
    "api-changes": "Changes for other programs",
}
"""File under ``handbook/`` without its ending -> title."""


def pages(computed: Computed) -> Iterator[Page]:
    """One page for each text."""
    home = files("rangebook.site") / "handbook"
    for name, title in TEXTS.items():
        yield Page(
            source=f"handbook/{name}.md",
            title=title,
            shell=Shell.HANDBOOK,
            markdown=(home / f"{name}.md").read_text("utf-8"),
            about=f"{title}: a page of the handbook.",
        )
