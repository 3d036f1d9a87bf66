"""What is said while a switch is being identified, from the catalogue: the same in the browser as here.

Looking at the back of a plug, where the wires go in, is looking the same way as into the switch; it is the plug's face, with its
terminals, that is the mirror image, and so say the messages ``identify_mirrored``. Source: a shop manual (Honda GX390, how to read
connector drawings), which numbers the terminals of one half from left to right on its wire side and those of the other on its
terminal side.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rangebook.desk.identify.narrow import OTHER, STAMPED
from rangebook.desk.identify.table import Table
from rangebook.words.catalogue import Words, catalogue
from rangebook.words.lists import listed

_OF_LISTS = ("outline", "shaft")
"""Questions whose answers are words of a controlled list, and so have words of their own."""


def question_words(name: str) -> Words:
    """The words of a question."""
    return _said("identify_question", name)


def fact_words(name: str) -> Words:
    """What a question is about."""
    return _said("identify_fact", name)


def answer_words(table: Table, name: str, value: Any) -> str:
    """The words of one answer as it stands in a state."""
    say, has = catalogue().say, catalogue().has
    if value is True or value is False:
        return say("identify_answer", "yes" if value else "no")
    if name == "face":
        return table.faces[table.face_at[value]].title
    if name == "across_mm":
        return say("identify_answer", "across_mm", {"value": value})
    return say(f"identify_{name}", value) if name in _OF_LISTS and has(f"identify_{name}", value) else str(value)


def plain_words(name: str) -> Words:
    """An answer that any question may have: ``cannot_tell`` or ``none_of_these``."""
    return catalogue().say("identify_answer", name)


def told_words(table: Table, name: str, value: Any) -> Words:
    """One fact that was told, with its value."""
    say = catalogue().say
    said: str
    if isinstance(value, Mapping):
        has, has_not, all_of_it = value.get("yes", ()), value.get("no", ()), table.faces[table.face_at[value["face"]]].cavities
        said = say("identify_told", "pattern", {"cavities": tuple(has), "partly": len(has) + len(has_not) < len(all_of_it)})
    elif isinstance(value, list | tuple):
        said = listed(value, "or")
    else:
        said = (
            plain_words("cannot_tell")
            if value is None
            else plain_words("none_of_these")
            if value == OTHER
            else answer_words(table, name, value)
        )
    return say("identify_told", "fact", {"fact": fact_words(name), "value": said})


def standing_words(message: str, **values: Any) -> Words:
    """What is said of where the questions have come to."""
    return catalogue().say("identify_standing", message, values)


def wrong_words(message: str, **values: Any) -> Words:
    """What is said to something that is no answer."""
    return catalogue().say("identify_wrong", message, values)


def mirrored_words(name: str) -> Words:
    """That a pattern fits in mirror image only."""
    return catalogue().say("identify_mirrored", name)


def words_data() -> dict[str, Any]:
    """All of it as JSON data, for the browser."""
    data = catalogue().data
    return {
        "questions": data["identify_question"],
        "facts": data["identify_fact"],
        "answers": {name: data[f"identify_{name}"] for name in _OF_LISTS},
        "mirrored": data["identify_mirrored"],
        **{name: data["identify_answer"][name] for name in ("yes", "no", "cannot_tell", "none_of_these")},
    }


def _said(section: str, name: str) -> Words:
    if name.startswith(STAMPED):
        return catalogue().say(section, STAMPED, {"mark": name.removeprefix(STAMPED)})
    return catalogue().say(section, name)
