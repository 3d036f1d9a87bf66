"""A plug that is said to go on a housing, of which too little is stated to tell.

Of a housing and of each connector that it lists in ``mates`` the style and the width of the terminals, which half is male, and the
sealing are stated.

Why it matters: while they are not, every answer that goes by it is "unknown". A 2.8 mm blade opens a receptacle for 1.5 mm for good, and
a plug without a seal lets water in.

Fails: nobody has put a calliper to the early plug.

    # entries/connectors/oval-9-early.md
    kind: connector
    id: oval-9-early
    title: Nine-way oval, early
    outline: oval
    rows:
      - [1, 2, 3, 4, 5]
      - [6, 7, 8, 9]
    terminal: {style: blade}
    sealed: yes

and

    # entries/connectors/oval-9.md
    kind: connector
    id: oval-9
    mates: [oval-9-early]

Mended:

    # entries/connectors/oval-9-early.md
    kind: connector
    id: oval-9-early
    title: Nine-way oval, early
    outline: oval
    rows:
      - [1, 2, 3, 4, 5]
      - [6, 7, 8, 9]
    terminal: {style: blade, width_mm: 2.8, on_switch: male}
    sealed: yes

and

    # entries/connectors/oval-9.md
    kind: connector
    id: oval-9
    mates: [oval-9-early]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Connector
from rangebook.lint.context import Housings
from rangebook.lint.mates import mates_of
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.reasons.codes import SealingNotStated, TerminalNotStated


def check_connector(connector: Connector, context: Housings) -> Iterator[Problem]:
    """Yield a finding at each mate for what is not stated of the one or the other."""
    for mate, plug, reasons in mates_of(connector, context):
        for reason in reasons:
            (name,) = reason.subject.names
            if isinstance(reason.detail, TerminalNotStated):
                yield problem(connector, mate.path, "terminal", plug=plug.id, facts=tuple(reason.detail.facts), connector=name)
            elif isinstance(reason.detail, SealingNotStated):
                yield problem(connector, mate.path, "sealed", plug=plug.id, connector=name)


MESSAGES = {
    "terminal": Told(
        "whether the plug of {plug} goes on is not known: {facts|code|comma} of the `terminal` of {connector} not stated",
        "measure with a calliper, look which half is male, and write it into {connector}",
    ),
    "sealed": Told(
        "whether the plug of {plug} goes on is not known: `sealed` of {connector} not stated",
        "look for a rubber mat at the back of the plug, or a seal on each wire, and write it into {connector}",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Connector, Housings, check_connector), messages=MESSAGES)
