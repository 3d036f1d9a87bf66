"""The same number twice in the book.

No two parts or kits have one number, capitals, spaces, hyphens, dots and slashes left out of account; the other numbers by which a part
goes (``also_numbered``) are counted with the rest. It is told where the number came in last, in the layer that lies over the other,
else by the dates of the sources; where they do not tell, where it stands last. One kit may have several entries, each for other old
plugs, that supply the same new one.

Why it matters: a number is what people have in the hand. If it leads to two parts, one of the two is never shown, and the
answer may be that of the wrong one.

Fails: the kit has the number of the part that it is for.

    kind: kit
    number: tb 20455

Mended:

    kind: kit
    number: TW-7706
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rangebook.book.book import Book
from rangebook.book.model import KeyPath, Kit, Source
from rangebook.lint.context import WholeBook
from rangebook.lint.rule import BookCheck, Line, Owner, Problem, Severity, Told, place_of, problem, rule


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding at each number that the book has already."""
    first: dict[str, tuple[Owner, KeyPath, str]] = {}
    for _, key, owner, path, number in sorted(_numbers(context.book), key=_came_last):
        if key not in first:
            first[key] = owner, path, number
            continue
        other, other_path, other_number = first[key]
        if isinstance(owner, Kit) and isinstance(other, Kit) and key not in context.book.doubled:
            continue
        yield problem(
            owner,
            path,
            "twice",
            number=number,
            file=other.entry.file,
            line=Line(place_of(other.entry, other_path).line),
            as_there=None if other_number == number else other_number,
        )


def _numbers(book: Book) -> Iterator[tuple[str, str, Owner, KeyPath, str]]:
    """Each number with the day on which it came in, as far as that is stated, its key, and where it stands."""
    for family in book.families.values():
        for part in family.parts:
            came = _came_in(part.sources)
            yield came, part.key, family, (*part.path, "number"), part.number
            for other in part.also_numbered:
                yield came, other.key, family, (*other.path, "number"), other.number
    for kit in book.kits.values():
        yield _came_in(kit.sources), kit.key, kit, ("number",), kit.number


def _came_last(one: tuple[str, str, Owner, KeyPath, str]) -> tuple[int, str]:
    """What a layer below has is there before what is laid over it."""
    came, _, owner, path, _ = one
    # To look for a place in an entry of one layer would have it read again.
    return place_of(owner.entry, path).layer if owner.entry.pieces else 0, came


def _came_in(sources: Iterable[Source]) -> str:
    """The first day that a source names; behind every day where none does."""
    return min((one.on for one in sources if one.on), default="9999")


MESSAGES = {
    "twice": Told(
        [
            "the number {number} is already in {file}, line {line}",
            {"given": "as_there", "yes": " as {as_there}, which is the same number"},
        ],
        "correct the number, or put what is said in both places together in one",
        beside=("as_there",),
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(WholeBook, check_book), messages=MESSAGES)
