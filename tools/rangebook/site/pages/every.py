"""All pages of the site, in a fixed order. A new kind of page is a module beside this one, and a line here."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rangebook.site.facts.computed import Computed
from rangebook.site.pages import (
    Page,
    cautions,
    compare,
    connector,
    family,
    format,
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
from rangebook.words.catalogue import say

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


def handbook_nav() -> list[dict[str, Any]]:
    """The handbook's table of contents, all that the theme's navigation ever holds: it is rendered on each page that has it."""
    return [
        {say("handbook_nav.index"): "handbook/index.md"},
        {say("handbook_nav.finding"): "handbook/finding.md"},
        {say("handbook_nav.writing"): "handbook/writing.md"},
        {say("handbook_nav.impact"): "handbook/impact.md"},
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
