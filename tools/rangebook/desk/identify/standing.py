"""Where the questions have come to: what is left, what to ask next, and what to do with what was found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from rangebook.book.book import Book
from rangebook.book.laid_over import layers_saying
from rangebook.desk.identify.answers import choices, flag_of
from rangebook.desk.identify.narrow import Mirrored, Narrowed, State, families_of, mirrored, narrow
from rangebook.desk.identify.questions import Question, confirming_question, next_question
from rangebook.desk.identify.table import Table
from rangebook.desk.identify.words import mirrored_words, standing_words, told_words
from rangebook.words.book import caution_words, gone_words
from rangebook.words.catalogue import Words, say

Line = tuple[str, str]
"""A style, as in :mod:`rangebook.desk.fit_lines`, and a line of text."""


@dataclass(frozen=True)
class Standing:
    """What follows from a state. ``question`` is the best next one; ``None`` where none is left, or all is asked.

    ``confirms``: nothing splits what is left any more, and the question is one by which a wrong answer would be noticed. ``doubts``, where
    nothing is left: each answer that alone stands in the way, with how many parts are left without it."""

    table: Table
    state: State
    narrowed: Narrowed
    mirrored: tuple[Mirrored, ...]
    question: Question | None
    confirms: bool = False
    doubts: tuple[tuple[str, int], ...] = ()

    @property
    def numbers(self) -> tuple[str, ...]:
        """The parts that are left, in the order of the book."""
        return self.numbers_of(self.narrowed.rows)

    @property
    def named(self) -> tuple[Words, ...]:
        """The same with the status of those that are not to be had by their number any more."""
        return self.named_of(self.narrowed.rows)

    def named_of(self, rows: Iterable[int]) -> tuple[Words, ...]:
        """Some rows of the table so."""
        found = (self.table.rows[at] for at in rows)
        return tuple(say("answer.number", number=one.number, gone=gone_words(one.status)) for one in found)

    def numbers_of(self, rows: tuple[int, ...]) -> tuple[str, ...]:
        """The numbers of some rows of the table."""
        return tuple(self.table.rows[at].number for at in rows)


def standing(table: Table, state: State) -> Standing:
    """Where a state leads. Raises :class:`~rangebook.desk.identify.narrow.NotUnderstoodError`."""
    narrowed = narrow(table, state)
    question = next_question(table, state) if len(narrowed.rows) > 1 else None
    more = confirming_question(table, state) if question is None else None
    doubts = () if narrowed.rows else tuple(_doubts(table, state))
    return Standing(table, state, narrowed, mirrored(table, state, narrowed), question or more, more is not None, doubts)


def _doubts(table: Table, state: State) -> Iterator[tuple[str, int]]:
    for name, value in state.items():
        count = 0 if value is None else len(narrow(table, {other: fact for other, fact in state.items() if other != name}).rows)
        if count:
            yield name, count


def disagrees(now: Standing) -> str | None:
    """The last answer, where nothing has all of them, and something had all those before it."""
    *before, last = now.state or ("",)
    if now.narrowed.rows or not before:
        return None
    return last if narrow(now.table, {name: now.state[name] for name in before}).rows else None


def as_data(now: Standing) -> dict[str, Any]:
    """The same as JSON data. An answer stands in it as in a state, and as ``flag``, the way ``--answer`` takes it."""
    table, question = now.table, now.question
    return {
        "answers": dict(now.state),
        "flags": [flag_of(name, value) for name, value in now.state.items()],
        "parts": [
            {
                "number": table.rows[at].number,
                "status": table.rows[at].status,
                "family": table.families[table.rows[at].family],
                "seats": [seat for place in now.narrowed.places[at] if (seat := table.places[place].seat) is not None],
            }
            for at in now.narrowed.rows
        ],
        "of": len(table.rows),
        "excluded": {table.rows[at].number: name for at, name in now.narrowed.aside.items()},
        "mirrored": [
            {
                "question": one.id,
                "flag": flag_of(one.id, one.state[one.id]),
                "parts": list(now.numbers_of(one.rows)),
                "text": mirrored_words(one.id),
            }
            for one in now.mirrored
        ],
        "question": None
        if question is None
        else {
            "id": question.id,
            "kind": question.kind,
            "face": question.face,
            "answers": [{"answer": value, "flag": flag_of(question.id, value), "text": words} for value, words in question.answers],
            "text": question.words,
            "confirms": now.confirms,
        },
        "disagrees": disagrees(now),
        "doubts": [{"question": name, "parts": count} for name, count in now.doubts],
        "found": now.numbers[0] if len(now.numbers) == 1 else None,
        "caution": caution_words(),
    }


def as_lines(book: Book, now: Standing) -> Iterator[Line]:
    """What is left and how to go on, for flags: with the next question and how to answer it."""
    yield from left_lines(book, now)
    for one in now.mirrored:
        yield from mirrored_lines(now, one)
        yield "plain", standing_words("mirrored_flag", flag=flag_of(one.id, one.state[one.id]))
    if now.question:
        yield "plain", ""
        yield "plain", standing_words("confirm" if now.confirms else "next")
        yield from question_lines(now.table, now.question)
        yield "why", _how_as_flag(now.table, now.question)
    yield from end_lines(now)


def left_lines(book: Book, now: Standing) -> Iterator[Line]:
    """What was told, and the parts that are left, family by family; where nothing is, which answers stand in the way."""
    table = now.table
    for name, value in now.state.items():
        yield "plain", told_words(table, name, value)
    if not now.narrowed.rows:
        if not now.mirrored:
            yield from nothing_lines(now)
        else:
            yield "head", standing_words("none")
        return
    yield left_line(now)
    for family in families_of(table, now.narrowed):
        named = now.named_of(at for at in now.narrowed.rows if table.families[table.rows[at].family] == family)
        yield "plain", f"  {book.families[family].title}: {', '.join(named)}{_layers(book, family)}"


def _layers(book: Book, family: str) -> str:
    """The layers that say something of a family, where the book has several."""
    layers = layers_saying(book, book.families[family])
    return f" ({say('layers.said_by', layers=layers)})" if layers else ""


def left_line(now: Standing) -> Line:
    """Which part it is, or how many are left."""
    if len(now.numbers) == 1:
        return "head", standing_words("found", number=now.named[0])
    families = len(families_of(now.table, now.narrowed))
    return "head", standing_words("left", parts=len(now.numbers), families=families, all=len(now.table.rows))


def mirrored_lines(now: Standing, one: Mirrored) -> Iterator[Line]:
    """That a pattern fits in mirror image only, and what it would be then."""
    yield "unknown", mirrored_words(one.id)
    yield "plain", standing_words("mirrored", parts=len(one.rows), numbers=now.named_of(one.rows))


def question_lines(table: Table, question: Question) -> Iterator[Line]:
    """A question with its answers, what is typed in front of each; or the face with its cavities."""
    yield "head", question.words
    if question.kind == "cavities":
        face = table.faces[table.face_at[question.face or ""]]
        wide = max(map(len, face.cavities))
        for row in face.rows:
            yield "plain", "    " + " ".join((label or "").rjust(wide) for label in row).rstrip()
        return
    keys = choices(question)
    wide = max(len(key) for key, _ in keys)
    for key, (_, words) in keys:
        yield "plain", f"  {key:>{wide}}" if key == words else f"  {key:>{wide}}  {words}"


def how_words(table: Table, question: Question) -> str:
    """How a question is answered where it is asked."""
    if question.kind == "cavities":
        return standing_words("how_cavities", first=table.faces[table.face_at[question.face or ""]].cavities[0])
    return standing_words("how_size" if question.kind == "size" else "how_choice")


def end_lines(now: Standing) -> Iterator[Line]:
    """Where to go from here, and the caution."""
    yield "plain", ""
    if len(now.numbers) == 1:
        yield "plain", standing_words("fit_this", number=now.numbers[0])
    elif now.numbers:
        if now.question is None:
            yield "plain", standing_words("alike")
        yield "plain", standing_words("fit_one")
    yield "caution", caution_words()


def _how_as_flag(table: Table, question: Question) -> str:
    if question.kind != "cavities":
        return standing_words("next_flag", name=question.id)
    first, *others = table.faces[table.face_at[question.face or ""]].cavities
    return standing_words("next_pattern", name=question.id, face=question.face, first=first, other=others[0] if others else "")


def nothing_lines(now: Standing, numbered: bool = False) -> Iterator[Line]:
    """Nothing has all of it: which answer alone stands in the way of how many."""
    yield "head", standing_words("none")
    last = disagrees(now)
    if last:
        yield "unknown", standing_words("disagrees", fact=told_words(now.table, last, now.state[last]))
    yield "plain", standing_words("none_ways" if now.doubts else "none_two")
    for at, (name, count) in enumerate(now.doubts, 1):
        number = f"{at}  " if numbered else ""
        yield "plain", f"  {number}{standing_words('none_way', fact=told_words(now.table, name, now.state[name]), parts=count)}"
    yield "plain", standing_words("none_write")
