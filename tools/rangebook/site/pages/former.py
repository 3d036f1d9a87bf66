"""A page at each address that an entry had under a former id: it leads to where the entry is now."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.former_ids import Index, now_called
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """One page for each former id that no entry of the kind has now; of an id that several had, the first one's."""
    book = computed.book
    indexes: dict[str, Index] = {"switches": book.families, "connectors": book.connectors, "kits": book.kits}
    for folder, index in indexes.items():
        for old, now in now_called(index).items():
            entry = index[now].entry.file
            yield Page(source=f"{folder}/{old}.md", title=index[now].title, markdown=say("page.moved_to", id=now), entry=entry)
