"""A connector that the book does not have.

Every connector that a part, a plug, a kit (``from``, ``to``) or another connector (``mates``) names has an entry of that
id under ``entries/connectors/``.

Why it matters: whether a plug goes on is decided by its connector. Without the entry nobody knows its cavities, and every
answer for that plug or part is "unknown".

Fails: a letter too many.

    kind: switch
    parts:
      - number: TB-20417
        connector: ovall-9
        status: current
        sources: [{kind: seen}]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        status: current
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.book import Book
from rangebook.book.former_ids import now_called
from rangebook.book.model import KeyPath, socket_path
from rangebook.lint.context import WholeBook
from rangebook.lint.fixing.edits import Fix
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.hints import FIX
from rangebook.lint.fixing.page import Page
from rangebook.lint.fixing.renamed import named
from rangebook.lint.rule import BookCheck, Owner, Problem, Severity, Told, problem, rule
from rangebook.lint.words import NEAR, Nearest


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding for each mention of a connector without an entry."""
    book = context.book
    files = {entry.stem for entry in context.entries}  # a file whose id is another name is told by id-and-file
    nearest = Nearest(book.connector_ids)
    now = now_called(book.connectors)
    for owner, path, name, what, of in _mentions(book):
        if not context.knows_id(book.connectors, name) and name not in files:
            yield problem(owner, path, what, of=of, connector=name, near=nearest(name), now=now.get(name))


def _mentions(book: Book) -> Iterator[tuple[Owner, KeyPath, str, str, str]]:
    for connector in book.connectors.values():
        for mate in connector.mates:
            yield connector, mate.path, mate.connector, "entry", connector.id
    for kit in book.kits.values():
        for index, old in enumerate(kit.olds):
            yield kit, ("from", index) if len(kit.olds) > 1 else ("from",), old, "entry", kit.number
        yield kit, ("to",), kit.new, "entry", kit.number
    for family in book.families.values():
        for part in family.designs:
            for one in part.sockets:
                yield family, (*part.home("sockets"), *socket_path(one)), one.connector, "entry", part.number
        for plug in family.plugs.values():
            for one in plug.sockets:
                yield family, (*plug.path, *socket_path(one)), one.connector, "plug", plug.name


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for each connector that is named by an id that it had."""
    for one in named(page, "connector"):
        yield Fix(one.offset, "renamed", one.edits, one.changes, {"found": one.found, "now": one.now})


_NAMES = " names the connector {connector}, which the book does not have"
_FIX = {"given": "now", "yes": ["write {now}, as it is called now; ", FIX], "no": [NEAR, "write entries/connectors/{connector}.md"]}

MESSAGES = {
    "entry": Told(["{of}", _NAMES], _FIX),
    "plug": Told(["the plug {of}", _NAMES], _FIX),
    "renamed": Told("the connector {found} is called {now} now"),
}

RULE = rule(
    __name__,
    __doc__,
    Severity.ERROR,
    BookCheck(WholeBook, check_book),
    messages=MESSAGES,
    fixer=Fixer("renamed-connector", Safety.VALUE, Turn.VALUES, find),
)
