"""A chain of supersessions that ends at a part which cannot be ordered.

What is said to take a part's place is not itself ``discontinued`` or ``withdrawn``, and not ``superseded`` without a word by
what. A successor of unknown status is left alone.

Why it matters: the answer that a technician gets is a number that no counter sells. The maker may well leave a chain so; then
look for what else in the book fits, or say with ``allow`` that it is so.

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
        status: discontinued
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

from rangebook.book.model import Part
from rangebook.lint.context import WholeBook
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding at each link that leads to a part where the chain ends and nothing can be ordered."""
    book = context.book
    for part in book.parts:
        for link in part.superseded_by:
            successor = book.part(link.number)
            if successor is not None and _ends(successor):
                yield problem(
                    book.family_of(part), (*link.path, "number"), successor.status or "", part=part.number, number=successor.number
                )


def _ends(part: Part) -> bool:
    return not part.superseded_by and part.status in MESSAGES


_SAID = "{part} is said to be superseded by {number}, "
_EXPECTED = "; expected a chain that ends at a part which can be ordered"
_FIX = "state what takes the place of {number}, or correct its status"

MESSAGES = {
    "discontinued": Told([_SAID, "which is discontinued and has no successor itself", _EXPECTED], _FIX),
    "withdrawn": Told([_SAID, "which is withdrawn and must not be fitted", _EXPECTED], _FIX),
    "superseded": Told([_SAID, "which is itself superseded, and by what is not stated", _EXPECTED], _FIX),
}
"""By the status of the part at the end."""

RULE = rule(__name__, __doc__, Severity.WARNING, BookCheck(WholeBook, check_book), messages=MESSAGES)
