"""A chain of supersessions that comes back to where it was.

Followed from part to part, ``superseded_by`` never leads back to a part that it has been at. Each way round is told once, at
the link that closes it.

Why it matters: somebody who follows the chain to find the part to order goes round for ever; one of the links is the wrong
way about.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: superseded
        superseded_by: [{number: TB-20455, needs: [oval-9-renewal]}]
        sources: [{kind: seen}]
      - number: TB-20455
        connector: oval-13
        mount: short-boss
        status: superseded
        superseded_by: [{number: TB-20417}]
        sources: [{kind: seen}]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: superseded
        superseded_by: [{number: TB-20455, needs: [oval-9-renewal]}]
        sources: [{kind: seen}]
      - number: TB-20455
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
    """Yield a finding at each link that leads back to a part that the chain has been at."""
    book = context.book
    for chain, link in _returns(book):
        start = next(index for index, part in enumerate(chain) if part.key == _key(book, link))
        numbers = [part.number for part in chain[start:]]
        yield problem(
            book.family_of(chain[-1]),
            (*link.path, "number"),
            "back" if len(numbers) > 1 else "itself",
            part=chain[-1].number,
            number=link.number,
            ring=(*numbers, numbers[0]),
        )


def _returns(book: Book) -> Iterator[tuple[list[Part], Succession]]:
    """Each link that closes a way round, with the chain that it closes. Depth first, no part gone through twice.

    Parts that nothing leads to come first: then the link that is told is the one that turns back, not one on the way.
    """
    done: set[str] = set()
    for start in sorted(book.by_number.values(), key=lambda part: part.key in book.predecessors):
        if start.key in done or not start.superseded_by:
            continue
        chain, on_chain = [start], {start.key}
        todo = [iter(start.superseded_by)]
        while todo:
            link = next(todo[-1], None)
            if link is None:
                todo.pop()
                left = chain.pop()
                on_chain.remove(left.key)
                done.add(left.key)
                continue
            successor = book.part(link.number)
            if successor is None or successor.key in done:
                continue
            if successor.key in on_chain:
                yield chain, link
                continue
            chain.append(successor)
            on_chain.add(successor.key)
            todo.append(iter(successor.superseded_by))


def _key(book: Book, link: Succession) -> str:
    part = book.part(link.number)
    assert part is not None
    return part.key


_FIX = "find out which is the newest of them; take out the link that leads back from it"

MESSAGES = {
    "back": Told("{part} is said to be superseded by {number}, and the chain from there leads back: {ring|to}", _FIX),
    "itself": Told("{part} is said to be superseded by itself", _FIX),
}

RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(WholeBook, check_book), messages=MESSAGES)
