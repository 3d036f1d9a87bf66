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

from rangebook.book import build
from rangebook.book.model import Family, Kit
from rangebook.lint.context import Context
from rangebook.lint.rule import Problem, Severity, Told, every_kind, problem, rule

_EXAMPLE = 'sources: [{kind: seen, detail: "measured on the bench", by: bench, on: 2026-02-11}]'


def check(owner: build.Item, context: Context) -> Iterator[Problem]:
    """Yield a finding for each part, connector and kit without a source."""
    if isinstance(owner, Family):
        for part in owner.parts:
            if not part.sources:
                yield problem(owner, (*part.path, "sources"), "part", of=part.number, example=_EXAMPLE)
    elif not owner.sources:
        code, of = ("kit", owner.number) if isinstance(owner, Kit) else ("connector", owner.id)
        yield problem(owner, ("sources",), code, of=of, example=_EXAMPLE)


_FIX = "say where it is known from, as in `{example}`"

MESSAGES = {
    "part": Told("nothing says where {of} is known from", _FIX),
    "kit": Told("nothing says where the kit {of} is known from", _FIX),
    "connector": Told("nothing says where the connector {of} is known from", _FIX),
}

RULE = rule(__name__, __doc__, Severity.WARNING, *every_kind(Context, check), messages=MESSAGES)
