"""A page at each address that an entry had under a former id: it leads to where the entry is now."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """One page for each former id that no entry of the kind has now; of an id that several had, the first one's."""
    book = computed.book
    for folder, index in (("switches", book.families), ("connectors", book.connectors), ("kits", book.kits)):
        taken = set(index)
        for entry in index.values():
            for old in entry.former_ids:
                if old not in taken:
                    taken.add(old)
                    yield Page(source=f"{folder}/{old}.md", title=entry.title, markdown=say("page.moved_to", id=entry.id))
