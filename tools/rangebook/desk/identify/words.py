"""What is said while a switch is being identified, the same in the browser as here."""

from __future__ import annotations

from types import MappingProxyType
from typing import Any

from rangebook.desk.identify.narrow import STAMPED, TOGETHER
from rangebook.desk.identify.table import Table

QUESTIONS = MappingProxyType(
    {
        "outline": "What outline does the connector on the switch have?",
        "cavities": "How many cavities does its connector have? Count the empty ones too.",
        "face": "Which of these is its connector?",
        "pins": "Which cavities carry a pin? Look into the switch, latch up.",
        "wires": "How many wires go into the vehicle's plug?",
        "wired": "Which cavities of the vehicle's plug carry a wire? Go by the numbers beside them, or look at its back, where the wires "
        "go in, latch up: left and right are then as they are looking into the switch.",
        "bolts": "How many bolts hold the switch?",
        "shaft": "What shape is the hole that the selector shaft goes through?",
        "across_mm": "How wide is that hole, across the flats or across the middle?",
        STAMPED: "Is “{mark}” stamped or moulded on it?",
        "gearbox": "Which gearbox is it on?",
        "vehicle": "Which vehicle is it from?",
        "year": "Which model year is the vehicle?",
    }
)
"""Id of a question -> its words."""

FACTS = MappingProxyType(
    {
        "outline": "outline of the connector",
        "cavities": "cavities",
        "face": "connector",
        "pins": "cavities with a pin",
        "wires": "wires in the plug",
        "wired": "cavities of the plug with a wire",
        "bolts": "bolts",
        "shaft": "hole for the shaft",
        "across_mm": "width of that hole",
        STAMPED: "“{mark}” on it",
        "gearbox": "gearbox",
        "vehicle": "vehicle",
        "year": "model year",
        TOGETHER: "no vehicle has all of that",
    }
)
"""Id of a question -> what it is about, in few words."""

ANSWERS = MappingProxyType(
    {
        "outline": {"oval": "oval", "rectangular": "rectangular", "round": "round", "square": "square", "d-shaped": "D-shaped"},
        "shaft": {
            "double-flat": "round with two flats",
            "single-flat": "round with one flat",
            "square": "square",
            "splined": "splined",
            "round": "round, without a flat",
            "tongue": "a slot for a tongue",
        },
    }
)
"""Words for answers that are not their own."""

YES, NO, CANNOT_TELL, NONE_OF_THESE = "yes", "no", "can't tell", "none of these"

MIRRORED = MappingProxyType(
    {
        "pins": (
            "As tapped, these pins are in no part of the book. In mirror image they are. So it was not looked at into the switch with "
            "the latch up but from the other side: the plug's face, or the wire side of the connector. Turn the pattern over?"
        ),
        "wired": (
            "As tapped, these wires are in no plug of the book. In mirror image they are. So the plug was not looked at from the wire side "
            "with the latch up but into its face, or the drawing was. Turn the pattern over?"
        ),
    }
)
"""What is said where a pattern fits only in mirror image.

Looking at the back of a plug, where the wires go in, is looking the same way as into the switch; it is the plug's face, with its
terminals, that is the mirror image. Source: a shop manual (Honda GX390, how to read connector drawings), which numbers the
terminals of one half from left to right on its wire side and those of the other on its terminal side.
"""


def question_words(name: str) -> str:
    """The words of a question."""
    return _filled(QUESTIONS, name)


def fact_words(name: str) -> str:
    """What a question is about."""
    return _filled(FACTS, name)


def answer_words(table: Table, name: str, value: Any) -> str:
    """The words of one answer as it stands in a state."""
    if value is True or value is False:
        return YES if value else NO
    if name == "face":
        return table.faces[table.face_at[value]].title
    if name == "across_mm":
        return f"{value:g} mm"
    return ANSWERS.get(name, {}).get(value, str(value))


def words_data() -> dict[str, Any]:
    """All of it as JSON data, for the browser."""
    return {
        "questions": dict(QUESTIONS),
        "facts": dict(FACTS),
        "answers": {name: dict(words) for name, words in ANSWERS.items()},
        "mirrored": dict(MIRRORED),
        "yes": YES,
        "no": NO,
        "cannot_tell": CANNOT_TELL,
        "none_of_these": NONE_OF_THESE,
    }


def _filled(words: MappingProxyType[str, str], name: str) -> str:
    return words[STAMPED].format(mark=name.removeprefix(STAMPED)) if name.startswith(STAMPED) else words[name]
