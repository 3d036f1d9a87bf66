"""The one place where MkDocs and the book meet.

MkDocs is told of virtual files only: an entry's page holds the entry's prose, so that links between entries are followed
and checked, and nothing of an entry's front matter ever reaches MkDocs. What was computed is laid round the prose later.
"""

from __future__ import annotations

import json
from collections.abc import Container, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page as MkDocsPage

from rangebook import __version__
from rangebook.reading.prose_bounds import beyond
from rangebook.schema.settings import read_settings
from rangebook.schema.store import shipped
from rangebook.site.api.write import write_whole_table
from rangebook.site.data.index import NAMES_URL, NUMBERS_URL
from rangebook.site.data.pieces import HEAD_URL, is_large
from rangebook.site.drawings import STYLESHEET
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.edition import OWN, Edition, marked, own_edition
from rangebook.site.facts.history import read_history
from rangebook.site.facts.pieces import Piece, whole
from rangebook.site.facts.repository import repository
from rangebook.site.generator.gate import NotCleanError, checked
from rangebook.site.generator.writer import Writer, by_address
from rangebook.site.offline.icons import icon_files
from rangebook.site.offline.write import facts_of, write_offline
from rangebook.site.output.folder import Folder, found_in
from rangebook.site.output.kept import Kept, Part
from rangebook.site.pages import Page, Shell
from rangebook.site.pages.every import every_page, handbook_nav
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


_KNOWN_PLUGINS = frozenset({"rangebook", "material/search"})
"""With others, which may want to see them, MkDocs writes every page."""

_SEARCH = "search/search_index.json"

STATIC, BESIDE = "static", "beside"
"""The piece of what MkDocs writes, and that of all that goes by the whole book."""

OF_THE_BOOK = ("data/", "api/")
"""Where what is written beside the pieces is, when MkDocs is at its end."""


class NoSettings(Config):
    """The plugin has none: what a book may choose stands in ``mkdocs.yml``."""


class RangebookPlugin(BasePlugin[NoSettings]):
    """Book -> pages. ``computed`` is set by whoever has the book already; else it is read from beside ``docs_dir``."""

    computed: Computed | None = None
    pieces: list[Piece] | None = None
    """Of the book, as they are now; ``None`` where nobody knows them."""
    kept: Kept | None = None
    """What the last build left; ``None`` where nobody asks."""
    parts: Mapping[str, Part] = MappingProxyType({})
    """What this build has written, once it has."""
    pages: dict[str, Page]
    writer: Writer | None = None
    _ours = True
    _addresses: list[str]
    """Of whatever prose can lead to, beside the pages of entries."""

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Read the book if need be, and settle what a book's own configuration must not change."""
        if self.computed is None:
            try:
                self.computed = Computed(checked(Path(config.docs_dir).parent).loaded)
            except NotCleanError as error:
                raise PluginError(str(error)) from error
        self.computed.history = read_history(self.computed.loaded.root)
        settle(config)
        if not self.computed.shard.has(BOOK):
            config.nav = []
            config.theme.static_templates.clear()
        self.prepare(config)
        return config

    def prepare(self, config: MkDocsConfig) -> None:
        """What it takes to write pages, once the book is there."""
        assert self.computed is not None
        self.computed.settings = read_settings(self.computed.loaded.root)[0]
        put_first(self.computed.settings.units)
        self.computed.site_url = config.site_url or ""
        self.computed.repository = repository(config.repo_url, config.edit_uri)
        self._ours = set(config.plugins) <= _KNOWN_PLUGINS
        self.pages = {page.source: page for page in every_page(self.computed)}
        pieces = whole(self.computed.loaded) if self.pieces is None else self.pieces
        self.kept = self.kept or Kept(Path(config.site_dir))
        self.writer = Writer(config, self.computed, self.pages.values(), pieces, self.kept, self._shell)

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Drop what MkDocs collected from the entries, and add what this book has."""
        assert self.computed is not None
        kept = Files([file for file in files if file.src_dir != config.docs_dir and not file.src_uri.endswith(_NOT_PUBLISHED)])
        self._add(kept, config)
        self._addresses = [file.src_uri for file in kept]
        # Of a site in parts one has all that is of no entry.
        return kept if self.computed.shard.has(BOOK) else Files([])

    def _add(self, kept: Files, config: MkDocsConfig) -> None:
        assert self.computed is not None
        for page in self.pages.values():
            if not (self._ours and page.entry):
                kept.append(File.generated(config, page.source, content=page.markdown))
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
        for address, data in {**icon_files(self.computed.settings.colours), **logo_file(self.computed.settings)}.items():
            kept.append(File.generated(config, address, content=data))

    def on_env(self, env: Any, **_: Any) -> Any:
        """Begin with all that MkDocs does not write. The folder was emptied before this, and what MkDocs writes later stands beside it."""
        assert self.writer is not None
        self.writer.begin(env, self._addresses, self._ours)
        return env

    def again(self, config: MkDocsConfig) -> bool:
        """Make a site of which nothing that MkDocs writes has changed since the last build, without it; ``False`` and nothing written where
        that is not so."""
        self.on_config(config)
        assert self.computed is not None and self.writer is not None and self.kept is not None
        if not self._ours:
            return False
        static = self.kept.take(STATIC, self.writer.basis)
        if static is None:
            return False
        self.writer.amends = True
        self.writer.begin(config.theme.get_env(), json.loads(static.said)[1], whole=True)
        self._finish(config, static)
        return True

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
        if ours.shell is Shell.BOOK and not self._ours:
            page.content = self._laid(page, page.content or "")
        context["rb"] = self._shell(ours, context["base_url"])
        return context

    def on_post_page(self, output: str, *, page: MkDocsPage, **_: Any) -> str:
        """Let go of what is written: MkDocs would keep every page of the book to the end. It writes none of the bay, which are ours."""
        page.content = page.markdown = None
        if self._ours and self.pages[page.file.src_uri].shell is Shell.BOOK:
            return ""
        return marked(output)

    def on_post_template(self, output: str, **_: Any) -> str:
        """The mark of pages that are not of the book."""
        return marked(output)

    def on_template_context(self, context: Any, **_: Any) -> Any:
        """The same for pages that are not of the book, such as the one for an address that leads nowhere."""
        context["rb"] = self._shell(None, context["base_url"])
        return context

    @event_priority(-100)  # last of all: what a device keeps is listed with its hashes
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Have the data done, and add what a device needs to keep the finished site."""
        self._finish(config, None)

    def _finish(self, config: MkDocsConfig, static: Part | None) -> None:
        assert self.computed is not None and self.writer is not None
        site, writer = Path(config.site_dir), self.writer
        out = writer.out()
        parts = dict(writer.finish(out))
        written = by_address(parts.values())
        parts[STATIC] = static = static or self._static(site, {*written, *(one.address for one in out.wrote)})
        written |= by_address([static])
        computed, index = self.computed, json.loads(static.said)[0]

        def search(out: Folder) -> None:
            if index:
                out.json(_SEARCH, {**index, "docs": [*index["docs"], *writer.searched]})

        def table(out: Folder) -> None:
            if not computed.shard.apart:
                write_whole_table(out, computed.book.families, writer.rows)

        writer.of_the_book(out, config.site_name, (search, table))
        if self.computed.shard.apart:
            write_told(out, self.computed, writer.kits, writer.rows, config.site_name)
        else:
            write_offline(out, written, facts_of(self.computed, config.site_name))
        parts[BESIDE] = Part("", tuple(out.wrote))
        # Where MkDocs writes every page nobody can tell which of them is whose.
        self.parts = parts if self._ours else {}

    def _static(self, site: Path, others: Container[str]) -> Part:
        """What MkDocs wrote, which is no entry's and goes by none."""
        own = (one for one in found_in(site, others) if one.address != _SEARCH and not one.address.startswith(OF_THE_BOOK))
        assert self.writer is not None
        index = site / _SEARCH
        said = json.loads(index.read_text("utf-8")) if index.is_file() else None
        return Part(self.writer.basis, tuple(own), json.dumps([said, self._addresses]))

    def on_shutdown(self) -> None:
        """Whatever became of the build: nothing is written any more after it."""
        if self.writer is not None:
            self.writer.stop()

    def _laid(self, page: MkDocsPage, html: str) -> str:
        ours = self.pages[page.file.src_uri]
        if ours.template is None:
            return html
        depth = page.url.count("/")
        return render(ours.template, "/".join([".."] * depth) or ".", html, ours.data(), self.computed.gone if self.computed else None)

    def _own_edition(self, page: Page) -> Edition | None:
        assert self.writer is not None
        item = self.writer.items.get(page.entry)
        return own_edition(item) if item else None

    def _shell(self, page: Page | None, base: str) -> dict[str, Any]:
        assert self.computed is not None
        home = page is not None and page.source == "index.md"
        of_the_book = page is not None and page.shell is Shell.BOOK and not page.entry
        return {
            # The way to the top of the site; empty where the site is the top of its host.
            "base": base.rstrip("/"),
            "edition": self.computed.edition if of_the_book else self._own_edition(page) if page else None,
            # What is about one entry stays the same file when another one changes.
            "book_mark": self.computed.edition.mark if of_the_book else "",
            "own_mark": OWN,
            "version": __version__,
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
