"""Answers as people type them, and as they are written: in the address of the page, and behind ``--answer`` on the command line.

A number is written as it is, a pattern as ``FACE:1.2:3.4`` (cavities that have one, cavities that have none), several years as
``2004.2034``, a mark as ``yes`` or ``no``; ``other`` is "none of these" and ``-`` "can't tell". ``?`` is taken for ``-`` when typed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from rangebook.desk.identify.narrow import OTHER, PATTERNS, STAMPED
from rangebook.desk.identify.questions import ABOUT_THE_VEHICLE, LOOKED_AT, MEASURED, Question
from rangebook.desk.identify.table import Face, Table
from rangebook.desk.identify.words import fact_words, plain_words, wrong_words
from rangebook.reading.nearest import nearest_of

CANNOT_TELL = "-"
DO_NOT_KNOW = "?"
QUESTIONS = (*LOOKED_AT, *MEASURED, *ABOUT_THE_VEHICLE)
"""The ids of all questions but those about marks."""

WHOLE_NUMBERS = ("cavities", "wires", "bolts", "year")
MOST_LISTED = 12


class AnswerError(ValueError):
    """Something that is no answer was typed; the message says what would be one."""


def read_flags(table: Table, flags: Iterable[str]) -> dict[str, Any]:
    """The state that several ``NAME=ANSWER`` give. Raises :class:`AnswerError`."""
    state: dict[str, Any] = {}
    for flag in flags:
        # A mark may have "=" in it, its answer has none.
        name, equals, text = flag.rpartition("=") if flag.startswith(STAMPED) else flag.partition("=")
        name, text = name.strip() if not name.startswith(STAMPED) else name, text.strip()
        if not equals or not text:
            raise AnswerError(wrong_words("no_answer", flag=flag))
        if name not in QUESTIONS and not (name.startswith(STAMPED) and name != STAMPED):
            raise AnswerError(wrong_words("no_question", name=name, near=tuple(nearest_of(name, QUESTIONS, 1)), known=QUESTIONS))
        if name in state:
            raise AnswerError(wrong_words("twice", name=name))
        state[name] = read_answer(table, name, text)
    return state


def read_answer(table: Table, name: str, text: str) -> Any:
    """One answer, as it stands in a state. Raises :class:`AnswerError`."""
    if text in (CANNOT_TELL, DO_NOT_KNOW):
        return None
    if name.startswith(STAMPED):
        if text.casefold() not in ("yes", "no"):
            raise AnswerError(wrong_words("not_yes_no", fact=fact_words(name), text=text))
        return text.casefold() == "yes"
    if name in PATTERNS:
        return _pattern(table, name, text)
    if text == OTHER:
        return OTHER
    if name == "year":
        years = [_whole(name, one) for one in text.split(".")]
        return years if len(years) > 1 else years[0]
    if name in WHOLE_NUMBERS:
        return _whole(name, text)
    if name in MEASURED:
        return _size(name, text)
    return _listed(name, text, {one: one for one in _names(table, name)})


def typed_answer(table: Table, question: Question, text: str) -> Any:
    """An answer typed at its question: its number, or the answer itself or how it begins; cavities one after the other.

    Raises :class:`AnswerError`.
    """
    text = text.strip()
    if text in (CANNOT_TELL, DO_NOT_KNOW):
        return None
    if question.kind == "cavities":
        return _tapped(table.faces[table.face_at[question.face or ""]], question.id, text)
    if question.id in MEASURED:
        return OTHER if text == OTHER else _size(question.id, text)
    keys = dict(choices(question))
    if text in keys:
        return keys[text][0]
    values = {written(value).casefold(): value for value, _ in keys.values()}
    begun = [name for name in values if text and name.startswith(text.casefold())]
    if text.casefold() not in values and len(begun) != 1:
        raise AnswerError(wrong_words("no_choice", text=text, keys=tuple(keys)))
    return values.get(text.casefold(), values[begun[0]])


def choices(question: Question) -> list[tuple[str, tuple[Any, str]]]:
    """What is typed for each answer to a question, and the answer with its words. Where the answers are numbers, each is its own."""
    own = question.id in WHOLE_NUMBERS or question.id in MEASURED
    found = [(f"{value:g}" if own else str(at), (value, words)) for at, (value, words) in enumerate(question.answers, 1)]
    if question.kind in ("choice", "size"):
        found.append((OTHER, (OTHER, plain_words("none_of_these"))))
    return found


def flag_of(name: str, value: Any) -> str:
    """``NAME=ANSWER``, as :func:`read_flags` takes it."""
    return f"{name}={written(value)}"


def written(value: Any) -> str:
    """An answer as it stands in an address."""
    match value:
        case None:
            return CANNOT_TELL
        case bool():
            return "yes" if value else "no"
        case Mapping():
            return ":".join((value["face"], ".".join(value.get("yes", ())), ".".join(value.get("no", ()))))
        case list() | tuple():
            return ".".join(map(str, value))
        case float() if value.is_integer():
            return str(int(value))
        case _:
            return str(value)


def _listed(name: str, text: str, known: Mapping[str, Any]) -> Any:
    if text not in known:
        near = nearest_of(text, known, 1)
        if near and near[0].casefold() == text.casefold():
            return known[near[0]]
        more = len(known) - MOST_LISTED
        values = {"text": text, "near": tuple(near), "known": tuple(known)[:MOST_LISTED], "more": max(more, 0)}
        raise AnswerError(wrong_words("not_listed", fact=fact_words(name), name=name, **values))
    return known[text]


def _names(table: Table, name: str) -> Iterable[str]:
    """All that the book has of what is answered by a name. To the book, an outline that no connector has is none of these."""
    match name:
        case "outline":
            return dict.fromkeys(face.outline for face in table.faces)
        case "face":
            return [face.id for face in table.faces]
        case "shaft":
            return dict.fromkeys(one.shaft for one in table.mountings if one.shaft)
        case "gearbox":
            return table.gearboxes
        case _:
            return table.vehicles


def _whole(name: str, text: str) -> int:
    if not (text.isascii() and text.isdigit()):
        raise AnswerError(wrong_words("no_number", fact=fact_words(name), name=name, text=text))
    return int(text)


def _size(name: str, text: str) -> float:
    try:
        size = float(text.lower().removesuffix("mm").strip().replace(",", "."))
    except ValueError:
        size = 0.0
    if not 0 < size < float("inf"):
        raise AnswerError(wrong_words("no_size", fact=fact_words(name), name=name, text=text))
    return size


def _pattern(table: Table, name: str, text: str) -> dict[str, Any]:
    face_id, *sides = text.split(":")
    if len(sides) != 2:
        raise AnswerError(wrong_words("no_pattern", fact=fact_words(name), name=name, text=text))
    face = table.faces[table.face_at[_listed("face", face_id, {one.id: one.id for one in table.faces})]]
    yes, no = ([one for one in side.split(".") if one] for side in sides)
    return _of_face(face, name, yes, no)


def _tapped(face: Face, name: str, text: str) -> dict[str, Any]:
    """``1 2 4``: these and no others. ``1 2 -4 ?``: these, not that one, and the others cannot be told."""
    labels = text.replace(",", " ").split()
    partly = DO_NOT_KNOW in labels
    yes = [one for one in labels if one != DO_NOT_KNOW and (one in face.cavities or not one.startswith("-"))]
    no = [one[1:] for one in labels if one not in yes and one != DO_NOT_KNOW]
    if not yes and not no:
        raise AnswerError(wrong_words("nothing_told", cavities=face.cavities))
    pattern = _of_face(face, name, yes, no)
    if not partly:
        pattern["no"] = [one for one in face.cavities if one not in pattern["yes"]]
    return pattern


def _of_face(face: Face, name: str, yes: list[str], no: list[str]) -> dict[str, Any]:
    """A pattern on a face, its cavities in the face's own order. Raises :class:`AnswerError` where they are not all cavities of it."""
    by_capitals = {one.upper(): one for one in face.cavities}
    yes, no = ([one if one in face.cavities else by_capitals.get(one.upper(), one) for one in side] for side in (yes, no))
    strange = tuple(one for one in (*yes, *no) if one not in face.cavities)
    if strange:
        raise AnswerError(wrong_words("no_cavity", fact=fact_words(name), strange=strange, title=face.title, cavities=face.cavities))
    both = tuple(one for one in yes if one in no)
    if both:
        raise AnswerError(wrong_words("both_ways", cavities=both))
    return {"face": face.id, "yes": [one for one in face.cavities if one in yes], "no": [one for one in face.cavities if one in no]}
