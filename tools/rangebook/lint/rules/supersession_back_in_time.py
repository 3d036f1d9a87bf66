"""A supersession earlier than the one before it in the chain.

Where one part takes another's place and is later replaced itself, ``since`` of the second link is not before ``since`` of the
first. Links without a date are passed over. A year and a month of the same year do not contradict each other.

Why it matters: a part cannot be replaced before it was there. One of the dates is wrong, or the links are the wrong way
about and the chain leads to the older part.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: superseded
        superseded_by: [{number: TB-20455, since: 2013-05, needs: [oval-9-renewal]}]
        sources: [{kind: seen}]
      - number: TB-20455
        connector: oval-13
        mount: short-boss
        status: superseded
        superseded_by: [{number: TB-20460, since: 2011-01, needs: []}]
        sources: [{kind: seen}]
      - number: TB-20460
        connector: oval-13
        mount: short-boss
        status: current
        sources: [{kind: seen}]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: superseded
        superseded_by: [{number: TB-20455, since: 2013-05, needs: [oval-9-renewal]}]
        sources: [{kind: seen}]
      - number: TB-20455
        connector: oval-13
        mount: short-boss
        status: superseded
        superseded_by: [{number: TB-20460, since: 2021-01, needs: []}]
        sources: [{kind: seen}]
      - number: TB-20460
        connector: oval-13
        mount: short-boss
        status: current
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.book import Book
from rangebook.book.model import Part, Succession
from rangebook.lint.context import WholeBook
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding at the date of each link that is earlier than one before it in its chain."""
    book = context.book
    for part in book.by_number.values():
        dated = [link for link in part.superseded_by if link.since]
        if not dated:
            continue
        before = _before(book, part)
        for link in dated:
            earlier = [one for one in before if _is_earlier(link.since or "", one[1].since or "")]
            if not earlier or _leads_to(book, link, {one.key for one, _ in earlier}):
                continue
            other, other_link = max(earlier, key=lambda one: one[1].since or "")
            yield problem(
                book.family_of(part),
                (*link.path, "since"),
                "earlier",
                part=part.number,
                number=link.number,
                since=link.since,
                other=other.number,
                other_number=other_link.number,
                other_since=other_link.since,
            )


def _before(book: Book, part: Part) -> list[tuple[Part, Succession]]:
    """The nearest links with a date on the ways that lead to a part, each with the part that it stands at."""
    found: list[tuple[Part, Succession]] = []
    todo, been = [part], {part.key}
    while todo:
        here = todo.pop()
        for older in book.predecessors.get(here.key, ()):
            links = [link for link in older.superseded_by if book.part(link.number) is here]
            found += [(older, link) for link in links if link.since]
            if not any(link.since for link in links) and older.key not in been:
                been.add(older.key)
                todo.append(older)
    return found


def _is_earlier(since: str, other: str) -> bool:
    """As far as both say: ``2009`` is not earlier than ``2009-05``, nor the other way about."""
    known = min(len(since), len(other))
    return since[:known] < other[:known]


def _leads_to(book: Book, link: Succession, keys: set[str]) -> bool:
    """Whether the chain from a link comes back to one of some parts: then its dates cannot be right, and the loop is told."""
    todo, been = [book.part(link.number)], set[str]()
    while todo:
        here = todo.pop()
        if here is None or here.key in been:
            continue
        if here.key in keys:
            return True
        been.add(here.key)
        todo += [book.part(further.number) for further in here.superseded_by]
    return False


MESSAGES = {
    "earlier": Told(
        "{part} is said to be superseded by {number} since {since}, but {other} by {other_number} only since {other_since}; "
        "expected that or later",
        "check both dates and which of {part} and {number} is the newer part",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(WholeBook, check_book), messages=MESSAGES)
