"""All pages of the site, in a fixed order. A kind of page is a module beside this one, found by being there, and a template."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType

from rangebook.schema.store import KINDS
from rangebook.site import pages
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page


@cache
def modules() -> tuple[ModuleType, ...]:
    """The modules beside this one that give pages, by their names."""
    found = [import_module(f"{pages.__name__}.{one.name}") for one in iter_modules(pages.__path__) if one.name != "every"]
    return tuple(one for one in found if hasattr(one, "pages"))


def every_page(computed: Computed) -> Iterator[Page]:
    """Every page. What a page shows is computed when it is asked for, not here."""
    for module in modules():
        yield from module.pages(computed)


HANDBOOK_NAV = [
    {"How the book works": "handbook/index.md"},
    {"Finding and fitting": "handbook/finding.md"},
    {"Adding to the book": "handbook/writing.md"},
    {"What a change does": "handbook/impact.md"},
    {
        "The entry format": [
            *({kind.capitalize(): f"handbook/format/{kind}.md"} for kind in KINDS),
            {"Circuits": "handbook/format/circuits.md"},
        ]
    },
    {"The linter's rules": "handbook/rules/index.md"},
    {"Publishing it": "handbook/hosting.md"},
    {
        "For other programs": [
            {"The files": "handbook/programs.md"},
            {"What reasons mean": "handbook/reasons.md"},
            {"What changed in them": "handbook/api-changes.md"},
        ]
    },
]
"""The handbook's table of contents, all that the theme's navigation ever holds: it is rendered on each page that has it."""
