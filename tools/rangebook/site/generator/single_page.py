"""One entry's page and data into a site that is there already, by the same steps as a whole build: MkDocs renders the prose, our template
is laid round it, the shell round that. Search, lists and other entries' pages are left to the whole build."""

from __future__ import annotations

import logging
from collections.abc import Iterable
from pathlib import Path

from mkdocs.commands.build import _build_page, _populate_page
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page as MkDocsPage

from rangebook.site.data.every import of_a_family
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.repository import repository
from rangebook.site.generator.configuration import configuration
from rangebook.site.generator.plugin import RangebookPlugin, settle
from rangebook.site.output import manifest
from rangebook.site.output.folder import Folder
from rangebook.site.pages.every import every_page


class PageWriter:
    """Writes single pages of a book into ``site``, a finished site of an earlier state of it."""

    def __init__(self, root: Path, site: Path, whole: bool = False) -> None:
        root = root.resolve()
        self._site = site
        # The theme's search would want every page.
        self._config: MkDocsConfig = configuration(root, site, whole, plugins=["rangebook"])
        settle(self._config)
        self._config.plugins._current_plugin = "rangebook"  # whom a generated file is put down to  # noqa: SLF001 - MkDocs has no public way to say it
        self._env = self._config.theme.get_env()

    def write(self, computed: Computed, sources: Iterable[str]) -> list[str]:
        """Write the pages of some entries, by their files below ``entries/``, and what the browser reads about them. Those that the book
        has not got (an entry that cannot be read) stay as they are; the others are given back."""
        plugin = self._config.plugins["rangebook"]
        assert isinstance(plugin, RangebookPlugin)
        plugin.computed = computed
        plugin.pages = {page.source: page for page in every_page(computed)}
        computed.site_url = self._config.site_url or ""
        computed.repository = repository(self._config.repo_url, self._config.edit_uri)
        files = Files([File.generated(self._config, page.source, content=page.markdown) for page in plugin.pages.values()])
        wanted = [source for source in sources if source in plugin.pages]
        nav = Navigation([], [])
        log = logging.getLogger("mkdocs")
        was, log.disabled = log.disabled, True  # a link that leads nowhere: the whole build tells of it
        try:
            for source in wanted:
                file = files.get_file_from_path(source)
                assert file is not None
                page = MkDocsPage(None, file, self._config)
                _populate_page(page, self._config, files)
                _build_page(page, self._config, [], nav, self._env)
                self._data(computed, source)
        finally:
            log.disabled = was
        manifest.write(self._site)  # a new entry's page is one more file; the whole build would take it for somebody else's
        return wanted

    def _data(self, computed: Computed, source: str) -> None:
        folder, _, name = source.removesuffix(".md").partition("/")
        family = computed.book.families.get(name) if folder == "switches" else None
        if family is None:
            return
        out = Folder(self._site)  # the family may be new to the site, and its folders with it
        for address, text in of_a_family(computed, family):
            out.text(address, text)
