"""A connector or kit that nothing in the book leads to.

A connector is used if a part, a plug or a kit names it, or a connector that is itself used lists it in ``mates``. A kit
is used if a supersession needs it, or if it renews the plug of some vehicle in the book, directly or after another kit.

Why it matters: an entry that nothing leads to is never part of an answer. Mostly something else has been forgotten or
misspelled: the plug that has this connector, or the connector that this kit is for.

Fails: nothing has this plug.

    # entries/connectors/oval-14.md
    kind: connector
    id: oval-14
    title: Fourteen-way oval

Mended: the plug goes on the thirteen-way housing too.

    # entries/connectors/oval-14.md
    kind: connector
    id: oval-14
    title: Fourteen-way oval

and in the other file

    kind: connector
    mates: [oval-14]
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from rangebook.book.book import Asked, Book
from rangebook.book.model import Connector, Kit
from rangebook.lint.context import WholeBook
from rangebook.lint.mentions import needs_said
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding for each connector and kit that is not used.

    Nothing is said while a name leads nowhere, because it may be this one that was meant.
    """
    book = context.book
    used = _reached(_named_connectors(book), {one.id: [mate.connector for mate in one.mates] for one in book.connectors.values()})
    needed = {need.kit for part in book.parts for need in needs_said(part) if need.kit}
    plugs = _plugs(book)
    connectors = [one for one in book.connectors.values() if one.id not in used]
    kits = [one for one in book.kits.values() if one.id not in needed and not plugs & {*one.olds}]
    if not connectors and not kits:
        return
    lacks_connector, lacks_kit = _lacking(context, used, needed)
    for connector in () if lacks_connector else connectors:
        if _can_tell(book, connector, connector.id):
            yield problem(connector, ("id",), "connector", id=connector.id)
    for kit in () if lacks_connector or lacks_kit else kits:
        if _can_tell(book, kit, kit.id, *kit.olds):
            yield problem(kit, ("from",), "kit", plugs=kit.olds, number=kit.number, id=kit.id)


def _lacking(context: WholeBook, connectors: Iterable[str], kits: Iterable[str]) -> tuple[bool, bool]:
    """Whether a connector is named, or a kit asked for, anywhere in the book, that it does not have."""
    book = context.book
    book.asks(Asked.LACKS)
    if book.beyond is not None:
        return book.beyond.lacks_connector, book.beyond.lacks_kit
    every_connector = all(context.knows_id(book.connectors, name) for name in connectors)
    return not every_connector, not all(context.knows_id(book.kits, name) for name in kits)


def _named_connectors(book: Book) -> set[str]:
    """The connectors of all parts, plugs and kits."""
    named = {name for name in (*book.by_connector, *book.plugs_by_connector) if name is not None}
    return named.union(*((*kit.olds, kit.new) for kit in book.kits.values()))


def _plugs(book: Book) -> set[str]:
    """The connectors of every plug that a vehicle has, or can have after one kit or several."""
    onwards: dict[str, list[str]] = {}
    for kit in book.kits.values():
        for old in kit.olds:
            onwards.setdefault(old, []).append(kit.new)
    return _reached(book.plugs_by_connector, onwards)


def _reached(starts: Iterable[str], onwards: Mapping[str, Sequence[str]]) -> set[str]:
    """Everything that can be come to from ``starts``."""
    found: set[str] = set()
    waiting = list(starts)
    while waiting:
        one = waiting.pop()
        if one not in found:
            found.add(one)
            waiting += onwards.get(one, ())
    return found


def _can_tell(book: Book, owner: Connector | Kit, *names: str) -> bool:
    """Whether it is certain that nothing leads there.

    It is not where the entry goes by another name than its file, nor where an entry that could not be taken in has one of
    the names somewhere or cannot be read at all.
    """
    lost = (entry.source for entry in book.every_lost())
    return owner.id == owner.entry.stem and not any(not source or any(name in source for name in names) for source in lost)


MESSAGES = {
    "connector": Told(
        "no part, plug or kit has the connector {id}",
        "write down the part or plug that has it, or list it in the `mates` of the housing that it goes on, or take the entry out",
    ),
    "kit": Told(
        "no vehicle in the book has the plug {plugs|or} that {number} renews, and no supersession needs the kit",
        "correct `from`, or write down the plug that is cut off, or the supersession that needs {id}, or take the entry out",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, BookCheck(WholeBook, check_book), messages=MESSAGES)
