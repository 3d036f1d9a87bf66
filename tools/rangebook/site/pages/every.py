"""All pages of the site, in a fixed order. A new kind of page is a module beside this one, and a line here."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.site.facts.computed import Computed
from rangebook.site.pages import (
    Page,
    cautions,
    compare,
    connector,
    family,
    format,  # noqa: A004 - a page is named after its address
    handbook,
    history,
    home,
    identify,
    job,
    kit,
    label,
    lever,
    lists,
    not_kept,
    proof,
    reasons,
    rules,
    several,
    worklists,
    write,
)

_MODULES = (
    home,
    identify,
    lists,
    cautions,
    family,
    connector,
    kit,
    proof,
    lever,
    compare,
    job,
    several,
    label,
    worklists,
    write,
    history,
    not_kept,
    handbook,
    format,
    rules,
    reasons,
)


def every_page(computed: Computed) -> Iterator[Page]:
    """Every page. What a page shows is computed when it is asked for, not here."""
    for module in _MODULES:
        yield from module.pages(computed)


HANDBOOK_NAV = [
    {"How the book works": "handbook/index.md"},
    {"Finding and fitting": "handbook/finding.md"},
    {"Adding to the book": "handbook/writing.md"},
    {"What a change does": "handbook/impact.md"},
    {
        "The entry format": [
            {"Switch family": "handbook/format/switch.md"},
            {"Connector": "handbook/format/connector.md"},
            {"Kit": "handbook/format/kit.md"},
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
