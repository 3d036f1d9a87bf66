"""What a range output reads, as the rules tell of it."""

from __future__ import annotations

from math import inf
from typing import NamedTuple

from rangebook.electrics.range_output import Output


class Pins(NamedTuple):
    """The two ends of a contact, or the pin of a signal."""

    pin: str
    other_pin: str | None = None


class Figure(NamedTuple):
    """``state`` is ``not_stated``, ``open``, ``closed`` or ``figure``: then ``value`` in ``unit``, as low as ``low`` and as high as
    ``high``; these are ``None`` where all three are one."""

    state: str
    value: float | None = None
    unit: str | None = None
    low: float | None = None
    high: float | None = None


class Reading(NamedTuple):
    """An output, and what it reads."""

    output: Pins
    figure: Figure


def reading_of(output: Output, position: str) -> Reading:
    """What an output reads in a position."""
    return Reading(Pins(*output.pins[:2]), _figure(output, position))


def _figure(output: Output, position: str) -> Figure:
    value, low, high = output.values[position], output.low[position], output.high[position]
    if value is None:
        return Figure("not_stated")
    if not output.unit or value == inf:
        return Figure("open" if value == inf else "closed")
    return Figure("figure", value, output.unit, *((low, high) if low != high else ()))
