"""One page of each kind, as the pages themselves say: a kind is a template. So no test has a list of them of its own."""

from __future__ import annotations

from rangebook.book.load import load_texts
from rangebook.lint.examples import base_book
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.site.pages.every import every_page


def of_each_kind(computed: Computed) -> dict[str, Page]:
    """Name of the template -> the first page that has it; of connectors the widest, which is the one to try on a phone."""
    found: dict[str, Page] = {}
    widest = max(computed.book.connectors.values(), key=lambda one: max(map(len, one.rows)), default=None)
    for page in every_page(computed):
        if widest is not None and page.source == f"connectors/{widest.id}.md":
            found["connector"] = page
        found.setdefault((page.template or "handbook").removesuffix(".html"), page)
    return found


KINDS = sorted(of_each_kind(Computed(load_texts({file: text.encode() for file, text in base_book().items()}))))
"""Every kind, by a book that has one entry of each."""
