"""The one place where MkDocs and the book meet.

MkDocs is told of virtual files only: an entry's page holds the entry's prose, so that links between entries are followed
and checked, and nothing of an entry's front matter ever reaches MkDocs. What was computed is laid round the prose later.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page as MkDocsPage

from rangebook.reading import garbage
from rangebook.reading.prose_bounds import beyond
from rangebook.schema.settings import read_settings
from rangebook.schema.store import shipped
from rangebook.site.api.data import Api
from rangebook.site.api.write import write_book, write_family, write_vehicles, write_whole_table
from rangebook.site.data.every import of_a_family, of_the_book
from rangebook.site.data.index import NAMES_URL, NUMBERS_URL
from rangebook.site.data.pieces import HEAD_URL, is_large
from rangebook.site.drawings import STYLESHEET
from rangebook.site.facts import photos
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.history import FEED_URL, feed, read_history
from rangebook.site.facts.repository import repository
from rangebook.site.generator.gate import NotCleanError, checked
from rangebook.site.offline.write import facts_of, write_offline
from rangebook.site.output.folder import Folder
from rangebook.site.output.shares import Shares
from rangebook.site.pages import Page, Shell, worklists
from rangebook.site.pages.every import every_page, handbook_nav, owner, owners
from rangebook.site.parts.told import write_told
from rangebook.site.prose import as_typed
from rangebook.site.shared.look import coloured, logo_address, logo_file, own_style
from rangebook.site.shared.policy import IN_A_PAGE_OF_THE_BAY, IN_THE_PAGE
from rangebook.site.shared.render import render
from rangebook.site.shared.scripts import needed, scripts, sent
from rangebook.site.shared.shard import BOOK
from rangebook.words.measures import put_first

_HOME = Path(__file__).parents[1]

_NOT_PUBLISHED = ("sitemap.xml", ".map")
"""Of the theme's files: a map for search engines would carry the day of the build, and those of its scripts are a megabyte."""


class NoSettings(Config):
    """The plugin has none: what a book may choose stands in ``mkdocs.yml``."""


class RangebookPlugin(BasePlugin[NoSettings]):
    """Book -> pages. ``computed`` is set by whoever has the book already; else it is read from beside ``docs_dir``."""

    computed: Computed | None = None
    pages: dict[str, Page]
    data: Shares | None = None

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Read the book if need be, and settle what a book's own configuration must not change."""
        if self.computed is None:
            try:
                self.computed = Computed(checked(Path(config.docs_dir).parent).loaded)
            except NotCleanError as error:
                raise PluginError(str(error)) from error
        self.computed.settings = read_settings(self.computed.loaded.root)[0]
        put_first(self.computed.settings.units)
        self.computed.site_url = config.site_url or ""
        self.computed.repository = repository(config.repo_url, config.edit_uri)
        self.computed.history = read_history(self.computed.loaded.root)
        settle(config)
        if not self.computed.shard.has(BOOK):
            config.theme.static_templates.clear()
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Drop what MkDocs collected from the entries, and add what this book has."""
        assert self.computed is not None
        self.pages = {page.source: page for page in every_page(self.computed)}
        of_book = self.computed.shard.has(BOOK)
        kept = Files([file for file in files if file.src_dir != config.docs_dir and not file.src_uri.endswith(_NOT_PUBLISHED) and of_book])
        owned = owners(self.computed)
        for page in self.pages.values():
            file = File.generated(config, page.source, content=page.markdown)
            if not self.computed.shard.has(owner(page, owned)):
                file.inclusion = InclusionLevel.EXCLUDED  # links to it are followed all the same
            kept.append(file)
        if of_book:
            self._once(kept, config)
        # The folder was emptied before this, and what MkDocs writes into it later stands beside these.
        self.data = begin_data(self.computed, Path(config.site_dir))
        return kept

    def _once(self, kept: Files, config: MkDocsConfig) -> None:
        """Add what is there once for the whole site, beside its pages."""
        assert self.computed is not None
        if commits := self.computed.history.commits:
            kept.append(File.generated(config, FEED_URL, content=feed(commits, config.site_name, self.computed.site_url)))
        for address, data in photos.picture_files(self.computed).items():
            kept.append(File.generated(config, address, content=data))
        style = own_style(self.computed.settings)
        for path in (*sorted((_HOME / "style").glob("*.css")), STYLESHEET):
            kept.append(
                File.generated(config, f"book/{path.name}", content=path.read_text("utf-8") + (style if path.name == "tokens.css" else ""))
            )
        for address, path in scripts():
            text = sent(path)
            kept.append(
                File.generated(config, f"book/{address}", content=coloured(text, self.computed.settings) if path.suffix == ".svg" else text)
            )
        for address, data in logo_file(self.computed.settings).items():
            kept.append(File.generated(config, address, content=data))

    def on_page_markdown(self, markdown: str, *, page: MkDocsPage, **_: Any) -> str:  # noqa: ARG002 - MkDocs names its arguments
        """Give MkDocs the text as it stands, not what is left once it has looked for front matter of its own in it."""
        ours = self.pages[page.file.src_uri]
        page.meta = {"title": ours.title, "description": ours.about}
        if ours.shell is Shell.BOOK:
            page.meta["template"] = "book.html"
        return "" if _only_as_typed(ours) else ours.markdown

    def on_page_content(self, html: str, *, page: MkDocsPage, **_: Any) -> str:
        """Lay the handbook's templates round its pages, for the theme's search to find what they say."""
        ours = self.pages[page.file.src_uri]
        if _only_as_typed(ours):
            return as_typed(ours.markdown)
        return self._laid(page, html) if ours.shell is Shell.HANDBOOK else html

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

    @event_priority(-100)  # last of all: what a device keeps is listed with its hashes
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Have the data done, and add what a device needs to keep the finished site."""
        assert self.computed is not None
        assert self.data is not None
        self.data.finish()
        site = Path(config.site_dir)
        if self.computed.shard.apart:
            write_told(site, self.computed, list(self.pages.values()), config.site_name)
            return
        write_whole_table(site, self.computed.book.families)
        write_offline(site, facts_of(self.computed, config.site_name))

    def on_shutdown(self) -> None:
        """Whatever became of the build: nothing is written any more after it."""
        if self.data is not None:
            self.data.stop()
            self.data = None

    def _laid(self, page: MkDocsPage, html: str) -> str:
        ours = self.pages[page.file.src_uri]
        if ours.template is None:
            return html
        if ours.source == worklists.SOURCE and self.computed and self.computed.shard.apart:
            return worklists.JOINED
        depth = page.url.count("/")
        return render(ours.template, "/".join([".."] * depth) or ".", html, ours.data(), self.computed.gone if self.computed else None)

    def _shell(self, page: Page | None, base: str) -> dict[str, Any]:
        assert self.computed is not None
        home = page is not None and page.source == "index.md"
        # The way to the top of the site; empty where the site is the top of its host.
        return {
            "base": base.rstrip("/"),
            "edition": self.computed.edition,
            "home": home,
            "language": self.computed.settings.language_tag,
            "units": self.computed.settings.units,
            "bar": self.computed.settings.colours["bar"],
            "logo": logo_address(self.computed.settings),
            "client": page.client if page else (),
            "needed": needed(["find/page.js"] if home else [one for one in page.client if one.endswith(".js")] if page else []),
            "head": HEAD_URL if is_large(self.computed) else None,
            "indexes": () if not home else (HEAD_URL,) if is_large(self.computed) else (NUMBERS_URL, NAMES_URL),
            "policy": IN_A_PAGE_OF_THE_BAY if page and page.shell is Shell.BOOK else IN_THE_PAGE,
        }


def _only_as_typed(page: Page) -> bool:
    """Whether a page's prose is anyone's and holds more markup than may be rendered. A whole build is refused for it by the linter;
    `rangebook serve` writes an entry's page before that."""
    return page.shell is Shell.BOOK and beyond(page.markdown) is not None


def settle(config: MkDocsConfig) -> None:
    """Addresses, navigation and templates as the pages of the book need them, whatever a book's own ``mkdocs.yml`` says."""
    config.use_directory_urls = True
    config.nav = handbook_nav()
    config.extra["homepage"] = "."
    config.theme.static_templates -= {"sitemap.xml"}
    overrides = str(shipped("site_overrides"))
    if overrides not in config.theme.dirs:
        config.theme.dirs.insert(len(config.theme.dirs) - 2 if len(config.theme.dirs) > 2 else 0, overrides)


def begin_data(computed: Computed, site: Path) -> Shares:
    """Everything that browsers and other programs read, written into ``site`` beside the pages: the book's files, then each family's."""
    with garbage.put_off():  # all of it stays
        for seat in computed.own_seats:
            computed.candidates(seat)  # both processes ask for them
    families, out, api = computed.own_families, Folder(site), Api(computed)

    def write(at: int) -> None:
        if not at:
            write_vehicles(out, api)
        family = families[at - 1] if at else None
        if family or computed.shard.has(BOOK):
            for address, text in of_a_family(computed, family) if family else of_the_book(computed):
                out.text(address, text)
        if family:
            write_family(out, api, family)
        elif computed.shard.has(BOOK):
            write_book(out, api)

    return Shares(len(families) + 1, write)
