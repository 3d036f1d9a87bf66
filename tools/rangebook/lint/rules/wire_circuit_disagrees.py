"""A wire labelled as another circuit than the pin that it meets.

In each cavity of a plug, the wire's circuit is that of the pin of the part that the vehicle came with. A cavity without a pin, a pin
that is ``not_connected`` and a circuit that is not stated are left alone.

Why it matters: one of the two labels is wrong. The safety check goes by both, so that nothing dangerous gets through, but
somebody who follows the label puts a meter, or a wire, in the wrong place.

Fails:

    kind: switch
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
          3: {circuit: backup_feed, colour: BN}
          4: {circuit: park_signal, colour: WH}

Mended:

    kind: switch
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
          3: {circuit: backup_feed, colour: BN}
          4: {circuit: backup_out, colour: WH}
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from rangebook.book.model import NOT_CONNECTED, Family, Part, Plug, Socket
from rangebook.fitting.mating import BY_LABEL, Leg, Mated, Way, likeliest, on_housing, placings
from rangebook.lint.context import Meeting
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule


def check_family(family: Family, context: Meeting) -> Iterator[Problem]:
    """Yield a finding at each wire whose circuit is not that of the pin, once for all parts that the plug came with."""
    circuits = context.circuits
    came: dict[str, dict[str, Part]] = {}
    for one in family.applications:
        part = context.part(one.came_with) if one.came_with else None
        if part is not None and part.pins is not None and one.plug is not None and one.plug in family.plugs:
            came.setdefault(one.plug, {}).setdefault(part.key, part)
    for name, parts in came.items():
        plug = family.plugs[name]
        meeting = [(part, met) for part in parts.values() if (met := _met(context, plug, part)) is not None]
        for cavity, wire in plug.wires.items():
            if wire.circuit not in circuits:
                continue
            others: dict[str, list[str]] = {}
            for part, met_by in meeting:
                pin = (part.pins or {}).get(met_by(cavity) or "")
                if pin is not None and pin in circuits and pin not in (wire.circuit, NOT_CONNECTED):
                    others.setdefault(pin, []).append(part.number)
            if others:
                said = " and ".join(f"{pin} in {', '.join(numbers)}" for pin, numbers in others.items())
                yield finding(
                    family,
                    (*plug.path, "wires", cavity, "circuit"),
                    f"the wire in cavity {cavity} of plug {plug.name} is {wire.circuit}, but the pin that it meets is {said}",
                    "follow the wire to where it ends, and correct the one of the two that is wrong",
                )


def _met(context: Meeting, plug: Plug, part: Part) -> Callable[[str], str | None] | None:
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


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Meeting, check_family))
