"""Which pins of a part a vehicle's plugs meet, for rules of one entry."""

from __future__ import annotations

from collections.abc import Callable

from rangebook.book.model import Part, Plug, Socket
from rangebook.fitting.mating import BY_LABEL, Leg, Mated, Way, likeliest, on_housing, placings
from rangebook.lint.context import Meeting


def met_by(context: Meeting, plug: Plug, part: Part) -> Callable[[str], str | None] | None:
    """Which cavity of the part each of the plug meets; ``None`` where another plug is on it: nothing meets, and ``original-misfit`` says
    so, or it is not known which of several is on which."""
    if not part.sockets:
        return lambda cavity: cavity
    placed = [
        tuple(Leg(*pair, mated=_mated(context, *pair)) for pair in one)
        for one in placings(plug.sockets, part.sockets, lambda plug, housing: _goes_on(context, plug, housing))
    ]
    way = likeliest([Way(legs) for legs in placed])
    return way.met if way else None


def _goes_on(context: Meeting, plug: Socket, housing: Socket) -> bool:
    return plug.connector == housing.connector or housing.connector in context.mates.get(plug.connector, ())


def _mated(context: Meeting, plug: Socket, housing: Socket) -> Mated:
    """How the one sits on the other; by a map where one is stated."""
    one, other = context.connectors.get(plug.connector), context.connectors.get(housing.connector)
    return BY_LABEL if one is None or other is None or one is other else on_housing(one, other)
