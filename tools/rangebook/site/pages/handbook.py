"""The handbook's own pages: Markdown files beside this package, as they are."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.resources import files

from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page, Shell
from rangebook.words.catalogue import catalogue, say

TEXTS = ("index", "finding", "writing", "editors", "hosting", "programs", "impact", "layers", "api-changes")
"""Files under ``handbook/`` without their ending; the catalogue has their titles."""


def pages(computed: Computed) -> Iterator[Page]:
    """One page for each text."""
    home = files("rangebook.site") / "handbook"
    for name in TEXTS:
        title = catalogue().say("handbook_title", name)
        yield Page(
            source=f"handbook/{name}.md",
            title=title,
            shell=Shell.HANDBOOK,
            markdown=(home / f"{name}.md").read_text("utf-8"),
            about=say("page.of_handbook", title=title),
        )
