"""A kit without a rear seal for a plug that it is for.

A kit that has a place for every wire of a plug in the book, and rear seals at all, has one with at least as many wire holes.

Why it matters: for that plug the answer is that the kit does not do. That may be right; more often the largest seal was not
counted when the bag was looked through.

Fails: the plug in the book has six wires, and nothing is claimed for the kit.

    kind: kit
    seals: [3, 4]

and

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        sources: [{kind: seen}]

Mended:

    kind: kit
    seals: [4, 6]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Kit, Plug
from rangebook.lint.context import WholeBook
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding at the seals of each kit that has none for some plug that it could otherwise renew."""
    # Plugs with the same wires are one: a book has many plugs and few kinds of them.
    wired: dict[str, dict[frozenset[str], Plug]] = {}
    for connector, plugs in context.book.plugs_by_connector.items():
        for plug in plugs:
            wired.setdefault(connector, {}).setdefault(frozenset(plug.wires), plug)
    for kit in context.book.kits.values():
        if kit.seals:
            yield from _short(kit, {wires: name for old in kit.olds for wires, name in wired.get(old, {}).items()})


def _short(kit: Kit, wired: dict[frozenset[str], Plug]) -> Iterator[Problem]:
    places, largest = frozenset(kit.moves), max(kit.seals or ())
    beyond = [wires for wires in wired if wires <= places and len(wires) > largest]
    if beyond:
        most = max(beyond, key=len)
        yield problem(
            kit,
            ("seals",),
            "too_small",
            largest=largest,
            seals=some(map(str, kit.seals or ())),
            plug=wired[most].name,
            family=wired[most].family,
            wires=len(most),
        )


MESSAGES = {
    "too_small": Told(
        "the largest rear seal is for {largest} wires (listed: {seals|some}), "
        "but plug {plug} of {family}, which this kit has places for, has {wires}",
        "look into the bag again; if it has no larger seal, say so with `allow`",
    ),
}

RULE = rule(__name__, __doc__, Severity.HINT, BookCheck(WholeBook, check_book), messages=MESSAGES)
