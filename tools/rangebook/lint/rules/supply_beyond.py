"""A wire that feeds electronics by what they are not made for.

What a wire gives (``gives_volts``) lies within the ``supply_volts`` of the part that the vehicle came with, where its electronics are fed
through that wire; and of a range the least stands before the most.

Why it matters: the vehicle ran with that part, so one of the two figures is wrong. A part that is made for the wrong one burns out, or
stays silent and leaves the starter dead.

Fails: fed with the battery's voltage, and made for five volts.

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: current
        pins: {1: supply, 2: range_signal, 3: signal_ground}
        signals:
          - pin: 2
            supply: 1
            ground: 3
            kind: volts
            values: {P: 1, R: 1.5, N: 2, D: 2.5, 2: 3, 1: 3.5}
            tolerance: 0.1
            supply_volts: 5
        sources: [{kind: seen}]
    plugs:
      six-wire:
        connector: oval-9
        wires: {1: {circuit: supply, gives_volts: [11, 15]}, 2: {circuit: range_signal}, 3: {circuit: signal_ground}}

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: current
        pins: {1: supply, 2: range_signal, 3: signal_ground}
        signals:
          - pin: 2
            supply: 1
            ground: 3
            kind: volts
            values: {P: 1, R: 1.5, N: 2, D: 2.5, 2: 3, 1: 3.5}
            tolerance: 0.1
            supply_volts: 5
        sources: [{kind: seen}]
    plugs:
      six-wire:
        connector: oval-9
        wires: {1: {circuit: supply, gives_volts: [4.9, 5.1]}, 2: {circuit: range_signal}, 3: {circuit: signal_ground}}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family, KeyPath, Volts
from rangebook.electrics.signals import within
from rangebook.fitting.contradictions import supplies_beyond
from rangebook.lint.context import Meeting
from rangebook.lint.meeting import met_by
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Meeting) -> Iterator[Problem]:
    """Yield a finding at each wire that gives what the electronics of a part which the plug came with are not made for."""
    told: set[KeyPath] = set()
    for one in family.applications:
        part, plug = context.part(one.came_with) if one.came_with else None, family.plugs.get(one.plug or "")
        if part is None or plug is None or not part.signals:
            continue
        met = met_by(context, plug, part)
        meets = {cavity: met(cavity) for cavity in plug.wires} if met else {}
        given = {path: wire.gives_volts for path, wire in plug.each() if wire.gives_volts is not None}
        for path, (cavity,) in supplies_beyond(plug, part, meets):
            if path in told:
                continue
            told.add(path)
            volts = given[path[:-1]]
            gives = _figures(volts)
            if gives[0] > gives[-1]:
                yield problem(family, path, "backwards", cavity=cavity, plug=plug.name, gives=gives)
                continue
            fed = (signal.supply_volts for signal in part.signals if signal.supply == meets[cavity])
            made_for = _figures(next(made for made in fed if made is not None and not within(volts, made)))
            yield problem(family, path, "beyond", cavity=cavity, plug=plug.name, gives=gives, part=part.number, made_for=made_for)


def _figures(volts: Volts) -> tuple[float, ...]:
    return volts if isinstance(volts, tuple) else (volts,)


MESSAGES = {
    "beyond": Told(
        "the wire in cavity {cavity} of the plug {plug} gives {gives|g|to} V, and {part} is made for {made_for|g|to} V",
        "measure it at the plug, key on, and correct the one of the two that is wrong",
    ),
    "backwards": Told(
        "the wire in cavity {cavity} of the plug {plug} gives {gives|g|to} V: the least is more than the most",
        "write the least first",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Meeting, check_family), messages=MESSAGES)
