"""The page that writes an entry: a form, and beside it the text that it makes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rangebook.site.data.index import NUMBERS_URL
from rangebook.site.data.write import WRITE_URL
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.repository import Repository
from rangebook.site.pages import Page
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page."""
    yield Page(
        source="write.md",
        title=say("write_page.title"),
        template="write.html",
        data=lambda: _data(computed.repository),
        about=say("write_page.about"),
        client=("identify.css", "write.css", "write/page.js"),
    )


def _data(repository: Repository) -> Mapping[str, Any]:
    return {
        "numbers_url": NUMBERS_URL,
        "write_url": WRITE_URL,
        "repository": repository.home,
        "edit": repository.edit,
        "add": repository.add,
    }
