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
from rangebook.lint.rule import Problem, Severity, Told, every_kind, problem, rule


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
            yield from _findings(owner, link.path, link.sources, {"supersession"}, link.number, is_successor=True)


def _stated(part: Part) -> set[str]:
    # That it has no contacts is a fact too, though no verdict goes by it; so is that a part is current or no longer made.
    contacts = any(one.contacts is not None for one in (part, *part.revisions))
    also = {"contacts": contacts, "supersession": bool(part.superseded_by or part.status)}
    return {*(fact for design in (part, *part.revisions) for fact in design.facts), *(name for name, there in also.items() if there)}


def _findings(
    owner: build.Item, path: KeyPath, sources: tuple[Source, ...], stated: set[str], of: str, is_successor: bool = False
) -> Iterator[Problem]:
    for index, source in enumerate(sources):
        for at, name in enumerate(source.covers):
            if name not in stated:
                yield problem(
                    owner,
                    (*path, "sources", index, "for", at),
                    "not_stated",
                    fact=name,
                    of=of,
                    is_successor=is_successor,
                    stated=tuple(sorted(stated)),
                )


MESSAGES = {
    "not_stated": Told(
        [
            "a source is for `{fact}`, which is not stated of ",
            {"given": "is_successor", "yes": "the successor {of}", "no": "{of}"},
        ],
        [
            {
                "given": "stated",
                "yes": "name what it was looked at for ({stated|code|comma})",
                "no": "leave `for` out: it stands for all of it",
            },
            ", or state it",
        ],
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, *every_kind(Context, check), messages=MESSAGES)
