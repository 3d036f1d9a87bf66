"""A kit that the book does not have.

Every kit that a part or a supersession ``needs`` has an entry of that id under ``entries/kits/``.

Why it matters: the kit is what has to be ordered with the switch. A kit that is not there can be neither checked against
the plug nor ordered: its entry has the number and the seals.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        status: superseded
        superseded_by: [{number: TB-20455, since: 2013-05, needs: [oval-9-renewel]}]
        sources: [{kind: seen}]
      - number: TB-20455
        connector: oval-13
        status: current
        sources: [{kind: seen}]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        status: superseded
        superseded_by: [{number: TB-20455, since: 2013-05, needs: [oval-9-renewal]}]
        sources: [{kind: seen}]
      - number: TB-20455
        connector: oval-13
        status: current
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.former_ids import now_called
from rangebook.lint.context import WholeBook
from rangebook.lint.fixing.edits import Fix
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.hints import FIX
from rangebook.lint.fixing.page import Page
from rangebook.lint.fixing.renamed import named
from rangebook.lint.mentions import as_stated
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule
from rangebook.lint.words import NEAR, Nearest


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding for each kit that a part or a successor is said to need and that has no entry."""
    kits = context.book.kits
    files = {entry.stem for entry in context.entries}  # a file whose id is another name is told by id-and-file
    nearest = Nearest(context.book.kit_ids)
    now = now_called(kits)
    for family in context.book.families.values():
        for part in family.parts:
            said = [(link.path, link.needs or (), link.number, part.number) for link in part.superseded_by]
            for above, needs, number, instead_of in ((part.path, part.needs, part.number, None), *said):
                for index, need in enumerate(needs):
                    if need.kit is None or context.knows_id(kits, need.kit) or need.kit in files:
                        continue
                    path = (*above, "needs", index)
                    yield problem(
                        family,
                        path if as_stated(family, path) == need.kit else (*path, "kit"),
                        "unknown",
                        number=number,
                        part=instead_of,
                        kit=need.kit,
                        near=nearest(need.kit),
                        now=now.get(need.kit),
                    )


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for each kit that is named by an id that it had."""
    for one in named(page, "kit"):
        yield Fix(one.offset, "renamed", one.edits, one.changes, {"found": one.found, "now": one.now})


MESSAGES = {
    "unknown": Told(
        [
            "for {number} ",
            {"given": "part", "yes": "in place of {part} "},
            "the kit {kit} is asked for, which the book does not have",
        ],
        {"given": "now", "yes": ["write {now}, as it is called now; ", FIX], "no": [NEAR, "write entries/kits/{kit}.md"]},
    ),
    "renamed": Told("the kit {found} is called {now} now"),
}

RULE = rule(
    __name__,
    __doc__,
    Severity.ERROR,
    BookCheck(WholeBook, check_book),
    messages=MESSAGES,
    fixer=Fixer("renamed-kit", Safety.VALUE, Turn.VALUES, find),
)
