"""The one place where MkDocs and the book meet.

MkDocs is told of virtual files only: an entry's page holds the entry's prose, so that links between entries are followed
and checked, and nothing of an entry's front matter ever reaches MkDocs. What was computed is laid round the prose later.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page as MkDocsPage

from rangebook.schema.store import shipped
from rangebook.site import photos
from rangebook.site.computed import Computed
from rangebook.site.data import answers, identify, index, proof
from rangebook.site.drawings import STYLESHEET
from rangebook.site.gate import NotCleanError, checked
from rangebook.site.pages import Page, Shell
from rangebook.site.pages.every import HANDBOOK_NAV, every_page
from rangebook.site.render import render
from rangebook.site.urls import answers_url, proof_url

_HOME = Path(__file__).parent

_NOT_PUBLISHED = ("sitemap.xml", ".map")
"""Of the theme's files: a map for search engines would carry the day of the build, and those of its scripts are a megabyte."""


class RangebookPlugin(BasePlugin):
    """Book -> pages. ``computed`` is set by whoever has the book already; else it is read from beside ``docs_dir``."""

    computed: Computed | None = None
    pages: dict[str, Page]

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Read the book if need be, and settle what a book's own configuration must not change."""
        if self.computed is None:
            try:
                self.computed = Computed(checked(Path(config.docs_dir).parent).loaded)
            except NotCleanError as error:
                raise PluginError(str(error)) from error
        self.computed.site_url = config.site_url or ""
        settle(config)
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Drop what MkDocs collected from the entries, and add what this book has."""
        assert self.computed is not None
        self.pages = {page.source: page for page in every_page(self.computed)}
        kept = Files([file for file in files if file.src_dir != config.docs_dir and not file.src_uri.endswith(_NOT_PUBLISHED)])
        for page in self.pages.values():
            kept.append(File.generated(config, page.source, content=page.markdown))
        for address, text in client_data(self.computed):
            kept.append(File.generated(config, address, content=text))
        for address, data in photos.picture_files(self.computed).items():
            kept.append(File.generated(config, address, content=data))
        for address, path in static_files():
            kept.append(File.generated(config, address, abs_src_path=str(path)))
        return kept

    def on_page_markdown(self, markdown: str, *, page: MkDocsPage, **_: Any) -> str:
        """Give MkDocs the text as it stands, not what is left once it has looked for front matter of its own in it."""
        ours = self.pages[page.file.src_uri]
        page.meta = {"title": ours.title, "description": ours.about}
        if ours.shell is Shell.BOOK:
            page.meta["template"] = "book.html"
        return ours.markdown

    def on_page_content(self, html: str, *, page: MkDocsPage, **_: Any) -> str:
        """Lay the handbook's templates round its pages, for the theme's search to find what they say."""
        return self._laid(page, html) if self.pages[page.file.src_uri].shell is Shell.HANDBOOK else html

    @event_priority(-100)  # after the theme's search, which is for prose alone: numbers and tables are not for it
    def on_page_context(self, context: Any, *, page: MkDocsPage, **_: Any) -> Any:
        """Lay the templates round the pages of the bay, and tell every shell the edition."""
        ours = self.pages[page.file.src_uri]
        if ours.shell is Shell.BOOK:
            page.content = self._laid(page, page.content or "")
        context["rb"] = self._shell(ours, context["base_url"])
        return context

    def on_post_page(self, output: str, *, page: MkDocsPage, **_: Any) -> str:
        """Let go of what is written: MkDocs would keep every page of the book to the end."""
        page.content = page.markdown = None
        return output

    def on_template_context(self, context: Any, **_: Any) -> Any:
        """The same for pages that are not of the book, such as the one for an address that leads nowhere."""
        context["rb"] = self._shell(None, context["base_url"])
        return context

    def _laid(self, page: MkDocsPage, html: str) -> str:
        ours = self.pages[page.file.src_uri]
        if ours.template is None:
            return html
        depth = page.url.count("/")
        return render(ours.template, "/".join([".."] * depth) or ".", html, ours.data())

    def _shell(self, page: Page | None, base: str) -> dict[str, Any]:
        assert self.computed is not None
        # The way to the top of the site; empty where the site is the top of its host.
        return {
            "base": base.rstrip("/"),
            "edition": self.computed.edition,
            "home": page is not None and page.source == "index.md",
            "client": page.client if page else (),
        }


def settle(config: MkDocsConfig) -> None:
    """Addresses, navigation and templates as the pages of the book need them, whatever a book's own ``mkdocs.yml`` says."""
    config.use_directory_urls = True
    config.nav = HANDBOOK_NAV
    config.extra["homepage"] = "."
    config.theme.static_templates -= {"sitemap.xml"}
    overrides = str(shipped("site_overrides"))
    if overrides not in config.theme.dirs:
        config.theme.dirs.insert(len(config.theme.dirs) - 2 if len(config.theme.dirs) > 2 else 0, overrides)


def client_data(computed: Computed) -> list[tuple[str, str]]:
    """Address and text of every file that the browser reads."""
    found = [(index.NUMBERS_URL, index.numbers(computed)), (index.NAMES_URL, index.names(computed))]
    found += [(answers_url(family.id), answers.answers(computed, family)) for family in computed.book.families.values()]
    found += [(proof_url(family.id), proof.proofs(computed, family)) for family in computed.book.families.values()]
    found.append((photos.PHOTOS_URL, photos.offline(computed)))
    texts = [(address, json.dumps(data, ensure_ascii=False, separators=(",", ":"))) for address, data in found]
    return [*texts, *identify.files(computed)]


def static_files() -> list[tuple[str, Path]]:
    """Address and place of our own style sheets and scripts."""
    own = sorted([*(_HOME / "style").glob("*.css"), *(_HOME / "client").glob("*.js"), *(_HOME / "client").glob("*.svg"), STYLESHEET])
    return [(f"book/{path.name}", path) for path in own]
