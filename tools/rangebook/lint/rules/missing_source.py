"""A part, connector or kit without a source.

Every part, connector and kit has at least one line under ``sources``: how it is known, by whom, when.

Why it matters: when two entries disagree, or a switch on the bench disagrees with the book, the first question is who
looked and at what. A fact that nobody stands for cannot be weighed.

Fails:

    kind: kit
    sources: []

Mended:

    kind: kit
    sources: [{kind: seen, detail: "bag opened, seals counted", by: bench, on: 2026-02-11}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Connector, Family, Kit
from rangebook.lint.context import Context
from rangebook.lint.finding import Finding, finding
from rangebook.lint.rule import EntryCheck, Severity, rule

_FIX = 'say where it is known from, as in `sources: [{kind: seen, detail: "measured on the bench", by: bench, on: 2026-02-11}]`'


def check_family(family: Family, context: Context) -> Iterator[Finding]:
    """Yield a finding for each part without a source."""
    for part in family.parts:
        if not part.sources:
            yield finding(family, (*part.path, "sources"), f"nothing says where {part.number} is known from", _FIX)


def check_connector(connector: Connector, context: Context) -> Iterator[Finding]:
    """Yield a finding if the connector has no source."""
    if not connector.sources:
        yield finding(connector, ("sources",), f"nothing says where the connector {connector.id} is known from", _FIX)


def check_kit(kit: Kit, context: Context) -> Iterator[Finding]:
    """Yield a finding if the kit has no source."""
    if not kit.sources:
        yield finding(kit, ("sources",), f"nothing says where the kit {kit.number} is known from", _FIX)


RULE = rule(
    __name__,
    __doc__,
    Severity.WARNING,
    EntryCheck(Family, Context, check_family),
    EntryCheck(Connector, Context, check_connector),
    EntryCheck(Kit, Context, check_kit),
)
