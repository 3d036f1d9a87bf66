"""A problem in words: what was found, and how it is mended."""

from __future__ import annotations

from collections.abc import Hashable
from typing import NamedTuple

from rangebook.reading.finding import Line, Problem
from rangebook.words.catalogue import Message, Words, catalogue, places_of


class Told(NamedTuple):
    """What is said of a problem: what was found and expected, and what to do about it; both as a catalogue has messages.

    A fix is empty where only what is mended without asking is told; ``beside`` are the places in what was found that only help, as a list
    of what is known: it is the same problem when they change.
    """

    found: Message
    fix: Message = ""
    beside: tuple[str, ...] = ()


def problem_words(problem: Problem) -> Words:
    """What was found, and what was expected."""
    return catalogue().say("problem", problem.code, problem.values)


def problem_fix(problem: Problem) -> Words:
    """What to do about it."""
    return catalogue().say("problem_fix", problem.code, problem.values)


def sameness(problem: Problem, told: Told) -> Hashable:
    """What stays the same of a problem when lines move and when it would be mended otherwise: its place, and of what it speaks."""
    names = dict.fromkeys(place.partition(".")[0] for place in places_of(told.found))
    values = ((name, problem.values[name]) for name in names if name in problem.values and name not in told.beside)
    return problem.code, problem.place, tuple((name, value) for name, value in values if not isinstance(value, Line))
