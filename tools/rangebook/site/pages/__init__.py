"""One module for each kind of page, each a plain function of what was computed; what it gives, a template shows."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rangebook.site.facts.computed import Computed


class Shell(StrEnum):
    """What stands round a page: ``BOOK`` in the bay, lean and of our own; ``HANDBOOK`` at the desk, the theme's with our looks."""

    BOOK = "book"
    HANDBOOK = "handbook"


@dataclass(frozen=True)
class Page:
    """One page of the site.

    ``source`` is the Markdown file that MkDocs is told of, and with it the page's address; ``markdown`` what it holds: an
    entry's prose, or nothing. ``template`` (under ``templates/``) is laid round the rendered Markdown, with what ``data``
    gives; without a template the Markdown is the whole page. ``client`` are style sheets and scripts that no other page loads, by
    their paths in ``style/`` and ``client/``. ``entry`` is the file of the entry that the page is about, empty where it is about none: such
    a page shows nothing but what hangs together with that entry.
    """

    source: str
    title: str
    shell: Shell = Shell.BOOK
    template: str | None = None
    markdown: str = ""
    data: Callable[[], Mapping[str, Any]] = field(default=dict)
    about: str = ""
    client: tuple[str, ...] = ()
    entry: str = ""
    shows: Callable[[Computed], Mapping[str, Any]] | None = None
    """Of a page about an entry: what ``data`` gives, of that entry in a piece of the book."""

    def data_of(self, computed: Computed) -> Mapping[str, Any]:
        """What its template shows, computed with what a piece of the book has."""
        return self.data() if self.shows is None else self.shows(computed)

    @property
    def url(self) -> str:
        """The page's address from the top of the site."""
        stem = self.source.removesuffix(".md")
        return f"{stem.removesuffix('index')}" if stem == "index" or stem.endswith("/index") else f"{stem}/"
