"""A source for something that is not said.

What a source's ``for`` names is stated beside it: a part's ``pins``, ``contacts`` (or powered outputs), ``connector``, ``mount`` and
``supersession``; a family's ``plugs``, ``applications`` and ``fitting``, or what one of its parts states. A connector, a kit and a
supersession have one fact group each, so their sources need no ``for``.

Why it matters: a verdict tells the weakest source that it stands on. A source that names the wrong facts stands for none of those
that it was looked at for, and the book shows them as known from nowhere; or somebody took the pins out and the source stayed.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        sources: [{kind: seen, for: [pins], on: 2026-02-11}]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        sources: [{kind: seen, for: [connector], on: 2026-02-11}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Connector, Family, Kit, Part, Path, Source
from rangebook.lint.context import Context
from rangebook.lint.finding import Finding, finding
from rangebook.lint.rule import EntryCheck, Severity, rule
from rangebook.schema.words import listed


def check_family(family: Family, context: Context) -> Iterator[Finding]:
    """Yield a finding for each fact that a source of the family, of a part or of a supersession names and that is not stated."""
    of_parts = [_stated(part) for part in family.parts]
    own = {name for name in ("plugs", "applications", "fitting") if getattr(family, name)}
    yield from _findings(family, (), family.sources, own.union(*of_parts), family.id)
    for part, stated in zip(family.parts, of_parts, strict=True):
        yield from _findings(family, part.path, part.sources, stated, part.number)
        for link in part.superseded_by:
            yield from _findings(family, link.path, link.sources, {"supersession"}, f"the successor {link.number}")


def check_connector(connector: Connector, context: Context) -> Iterator[Finding]:
    """Yield a finding for each fact that a source of a connector names: it has no such facts."""
    yield from _findings(connector, (), connector.sources, set(), connector.id)


def check_kit(kit: Kit, context: Context) -> Iterator[Finding]:
    """Yield a finding for each fact that a source of a kit names: it has no such facts."""
    yield from _findings(kit, (), kit.sources, set(), kit.number)


def _stated(part: Part) -> set[str]:
    facts = {
        "connector": part.connector,
        "pins": part.pins,
        "contacts": part.contacts if part.contacts is not None else part.signals or None,
        "mount": part.mount,
        "supersession": part.superseded_by or None,
    }
    return {name for name, value in facts.items() if value is not None}


def _findings(owner: Family | Connector | Kit, path: Path, sources: tuple[Source, ...], stated: set[str], who: str) -> Iterator[Finding]:
    for index, source in enumerate(sources):
        for at, name in enumerate(source.covers):
            if name not in stated:
                fix = f"name what it was looked at for ({listed(sorted(stated))})" if stated else "leave `for` out: it stands for all of it"
                yield finding(
                    owner,
                    (*path, "sources", index, "for", at),
                    f"a source is for `{name}`, which is not stated of {who}",
                    f"{fix}, or state it",
                )


RULE = rule(
    __name__,
    __doc__,
    Severity.WARNING,
    EntryCheck(Family, Context, check_family),
    EntryCheck(Connector, Context, check_connector),
    EntryCheck(Kit, Context, check_kit),
)
