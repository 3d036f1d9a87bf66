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

from collections.abc import Iterator
from typing import NamedTuple

from rangebook.book.model import NOT_CONNECTED, Family, Part
from rangebook.lint.context import Meeting
from rangebook.lint.meeting import met_by
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


class Met(NamedTuple):
    """A circuit, and the parts whose pin there has it."""

    circuit: str
    parts: tuple[str, ...]


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
        meeting = [(part, met) for part in parts.values() if (met := met_by(context, plug, part)) is not None]
        for cavity, wire in plug.wires.items():
            own = wire.circuits
            named = [one for one in own if one in circuits]
            if not named:
                continue
            others: dict[str, list[str]] = {}
            for part, met in meeting:
                pin = (part.pins or {}).get(met(cavity) or "")
                if pin is not None and pin not in own and pin != NOT_CONNECTED and pin in circuits:
                    others.setdefault(pin, []).append(part.number)
            if others:
                yield problem(
                    family,
                    (*plug.path, "wires", cavity, *(() if wire.others else ("circuit",))),
                    "other",
                    cavity=cavity,
                    plug=plug.name,
                    circuits=tuple(named),
                    met=tuple(Met(circuit, tuple(numbers)) for circuit, numbers in others.items()),
                )


MESSAGES = {
    "other": Told(
        "the wire in cavity {cavity} of plug {plug} is {circuits|and}, but the pin that it meets is {met|pin_met|and_and}",
        "follow the wire to where it ends, and correct the one of the two that is wrong",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Meeting, check_family), messages=MESSAGES)
