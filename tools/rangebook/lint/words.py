"""Words that several rules share: the nearest known name to one that is not known, lists, what a range output reads."""

from __future__ import annotations

from collections.abc import Iterable
from math import inf

from rangebook.electrics.range_output import Output
from rangebook.reading.nearest import nearest
from rangebook.words.book import unit_words
from rangebook.words.lists import enumerated

MOST = 20
"""After so many different names the nearest is not looked for: it takes longer the larger the book is."""

listed = enumerated
"""The name that the rules have for it."""


class Nearest:
    """Finds the nearest of some known names, capitals and small letters taken as the same.

    What was asked once is remembered, so that a thousand mentions of one wrong name cost no more than one.
    """

    def __init__(self, known: Iterable[str]) -> None:
        self._known = known
        self._asked: dict[str, str | None] = {}

    def __call__(self, name: str) -> str | None:
        """The nearest known name, or ``None`` where none is near."""
        if name in self._asked:
            return self._asked[name]
        if len(self._asked) >= MOST:
            return None
        self._asked[name] = nearest(name, self._known)
        return self._asked[name]


def meant(near: str | None, otherwise: str) -> str:
    """The remedy for an unknown name: the nearest one if there is one, and what else to do."""
    return f"did you mean {near}? If not, {otherwise}" if near else otherwise


def output_name(output: Output) -> str:
    """A range output: ``contact 5-6`` or ``signal on pin 3``."""
    return f"contact {'-'.join(output.pins)}" if len(output.pins) == 2 else f"signal on pin {output.pins[0]}"


def output_reading(output: Output, position: str) -> str:
    """What a range output reads in a position: ``330 ohm (297 to 363)``."""
    value = output.values[position]
    if value is None:
        return "not stated"
    if not output.unit or value == inf:
        return "open" if value == inf else "closed"
    unit = "ohm" if output.unit == "ohm" else unit_words(output.unit)
    low, high = output.low[position], output.high[position]
    return f"{value:g} {unit}" + (f" ({low:g} to {high:g})" if low != high else "")
