"""One module for each kind of page, each a plain function of what was computed; what it gives, a template shows."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any


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
    their paths in ``style/`` and ``client/``.
    """

    source: str
    title: str
    shell: Shell = Shell.BOOK
    template: str | None = None
    markdown: str = ""
    data: Callable[[], Mapping[str, Any]] = field(default=dict)
    about: str = ""
    client: tuple[str, ...] = ()

    @property
    def url(self) -> str:
        """The page's address from the top of the site."""
        stem = self.source.removesuffix(".md")
        return f"{stem.removesuffix('index')}" if stem == "index" or stem.endswith("/index") else f"{stem}/"
