"""Single pages of a finished site, made anew: what ``rangebook serve`` shows at once after a change."""

from __future__ import annotations

import logging
from collections.abc import Iterable
from pathlib import Path

from mkdocs.config.defaults import MkDocsConfig

from rangebook.site.facts.computed import Computed
from rangebook.site.generator.configuration import configuration
from rangebook.site.generator.plugin import RangebookPlugin, settle
from rangebook.site.output import manifest
from rangebook.site.shared.render import unindented


class PageWriter:
    """Writes single pages of a book into ``site``, a finished site of an earlier state of it."""

    def __init__(self, root: Path, site: Path, whole: bool = False) -> None:
        self._site = site
        # The theme's search would want every page.
        self._config: MkDocsConfig = configuration(root.resolve(), site, whole, plugins=["rangebook"])
        settle(self._config)
        # Here, and not for each page: what was compiled of the templates is kept with it.
        self._env = unindented(self._config.theme.get_env())

    def write(self, computed: Computed, sources: Iterable[str]) -> list[str]:
        """Write the pages of some entries, by their files below ``entries/``, and what the browser reads about them. Those that the book
        has not got (an entry that cannot be read) stay as they are; the others are given back."""
        plugin = self._config.plugins["rangebook"]
        assert isinstance(plugin, RangebookPlugin)
        plugin.computed = computed
        plugin.prepare(self._config)
        assert plugin.writer is not None
        log = logging.getLogger("mkdocs")
        was, log.disabled = log.disabled, True  # a link that leads nowhere: the whole build tells of it
        try:
            written = {source: plugin.writer.of_entry(self._env, source) for source in sources}
        finally:
            log.disabled = was
        manifest.add(self._site, [address for one in written.values() for address in one])  # a page may be new to the site
        return [source for source, addresses in written.items() if addresses]
