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

from rangebook.book import build
from rangebook.book.model import Family, KeyPath, Kit, Part, Source
from rangebook.lint.context import Context
from rangebook.lint.rule import Problem, Severity, every_kind, finding, rule
from rangebook.words.lists import enumerated


def check(owner: build.Item, context: Context) -> Iterator[Problem]:
    """Yield a finding for each fact that a source of an entry, a part or a supersession names and that is not stated.

    A connector and a kit have no such facts.
    """
    if not isinstance(owner, Family):
        yield from _findings(owner, (), owner.sources, set(), owner.number if isinstance(owner, Kit) else owner.id)
        return
    of_parts = [_stated(part) for part in owner.parts]
    own = {name for name in ("plugs", "applications", "fitting") if getattr(owner, name)}
    yield from _findings(owner, (), owner.sources, own.union(*of_parts), owner.id)
    for part, stated in zip(owner.parts, of_parts, strict=True):
        yield from _findings(owner, part.path, part.sources, stated, part.number)
        for link in part.superseded_by:
            yield from _findings(owner, link.path, link.sources, {"supersession"}, f"the successor {link.number}")


def _stated(part: Part) -> set[str]:
    facts = {
        "connector": part.sockets or None,
        "pins": part.pins,
        "contacts": part.contacts if part.contacts is not None else part.signals or None,
        "mount": part.mount,
        "supersession": part.superseded_by or None,
    }
    return {name for name, value in facts.items() if value is not None}


def _findings(owner: build.Item, path: KeyPath, sources: tuple[Source, ...], stated: set[str], who: str) -> Iterator[Problem]:
    for index, source in enumerate(sources):
        for at, name in enumerate(source.covers):
            if name not in stated:
                fix = (
                    f"name what it was looked at for ({enumerated(f'`{one}`' for one in sorted(stated))})"
                    if stated
                    else "leave `for` out: it stands for all of it"
                )
                yield finding(
                    owner,
                    (*path, "sources", index, "for", at),
                    f"a source is for `{name}`, which is not stated of {who}",
                    f"{fix}, or state it",
                )


RULE = rule(__name__, __doc__, Severity.WARNING, *every_kind(Context, check))
