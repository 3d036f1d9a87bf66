"""A terminal of a cavity that is not there.

Each cavity in ``terminals`` is one of the connector's, for a kit of the plug that it supplies.

Why it matters: the cavity that was meant is then taken to have the same terminals as all others, and a plug is said to go on that does
not.

Fails:

    kind: connector
    terminals: {77: {width_mm: 6.3}}

Mended:

    kind: connector
    terminals: {7: {width_mm: 6.3}}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Connector, Kit
from rangebook.fitting.contradictions import terminals_outside
from rangebook.lint.context import Context, Housings
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some


def check_connector(connector: Connector, context: Context) -> Iterator[Problem]:
    """Yield a finding at each cavity in ``terminals`` that the connector does not have."""
    yield from _outside(connector, connector)


def check_kit(kit: Kit, context: Housings) -> Iterator[Problem]:
    """Yield a finding at each cavity in ``terminals`` that the new plug does not have."""
    yield from _outside(kit, context.connectors.get(kit.new))


def _outside(owner: Connector | Kit, connector: Connector | None) -> Iterator[Problem]:
    for path, (cavity,) in terminals_outside(owner, connector):
        assert connector is not None
        yield problem(owner, path, "outside", key=True, cavity=cavity, connector=connector.id, cavities=some(connector.cavities))


MESSAGES = {
    "outside": Told(
        "a terminal is stated for cavity {cavity}, which {connector} does not have (it has {cavities|some})",
        "correct the cavity",
        beside=("cavities",),
    ),
}

RULE = rule(
    __name__,
    __doc__,
    Severity.ERROR,
    EntryCheck(Connector, Context, check_connector),
    EntryCheck(Kit, Housings, check_kit),
    messages=MESSAGES,
)
