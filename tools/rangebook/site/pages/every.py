"""All pages of the site, in a fixed order. A kind of page is a module beside this one, found by being there, and a template."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType
from typing import Any

from rangebook.site import pages
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.site.shared.shard import BOOK
from rangebook.words.catalogue import say


@cache
def modules() -> tuple[ModuleType, ...]:
    """The modules beside this one that give pages, by their names."""
    found = [import_module(f"{pages.__name__}.{one.name}") for one in iter_modules(pages.__path__) if one.name != "every"]
    return tuple(one for one in found if hasattr(one, "pages"))


def every_page(computed: Computed) -> Iterator[Page]:
    """Every page. What a page shows is computed when it is asked for, not here."""
    for module in modules():
        yield from module.pages(computed)


_LISTS = ("numbers/", "vehicles/", "gearboxes/")
"""Where the pieces of lists are."""


def owner(page: Page) -> str:
    """The key by which it is decided which part of a site has a page that is about no entry: all are in one, but for pieces of lists."""
    return page.source if page.source.startswith(_LISTS) else BOOK


def handbook_nav() -> list[dict[str, Any]]:
    """The handbook's table of contents, all that the theme's navigation ever holds: it is rendered on each page that has it."""
    return [
        {say("handbook_nav.index"): "handbook/index.md"},
        {say("handbook_nav.finding"): "handbook/finding.md"},
        {say("handbook_nav.writing"): "handbook/writing.md"},
        {say("handbook_nav.editors"): "handbook/editors.md"},
        {say("handbook_nav.impact"): "handbook/impact.md"},
        {say("handbook_nav.layers"): "handbook/layers.md"},
        {
            say("handbook_nav.format"): [
                {say("handbook_nav.format_switch"): "handbook/format/switch.md"},
                {say("handbook_nav.format_connector"): "handbook/format/connector.md"},
                {say("handbook_nav.format_kit"): "handbook/format/kit.md"},
                {say("handbook_nav.format_circuits"): "handbook/format/circuits.md"},
            ]
        },
        {say("handbook_nav.rules"): "handbook/rules/index.md"},
        {say("handbook_nav.hosting"): "handbook/hosting.md"},
        {
            say("handbook_nav.for_programs"): [
                {say("handbook_nav.files"): "handbook/programs.md"},
                {say("handbook_nav.reasons"): "handbook/reasons.md"},
                {say("handbook_nav.api_changes"): "handbook/api-changes.md"},
            ]
        },
    ]
