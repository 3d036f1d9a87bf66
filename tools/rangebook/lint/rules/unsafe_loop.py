"""A jumper inside a plug with which the engine cranks in gear, or the backup lamps are lit in no reverse.

With the jumpers in a plug's ``loops`` no output of the starter or the backup lamps has a path, on the part that the vehicle came with, to
any other wire or the housing in a position in which it must not. Source: 49 CFR 571.102 S3.1.3 and 571.108 Table I-a.

Why it matters: a jumper is closed in every position. Across the start contact it cranks the engine with the drive engaged.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out}
        contacts: [{pins: [1, 2], closed: [P, N]}]
        sources: [{kind: seen}]
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
        loops: [[1, 2]]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out}
        contacts: [{pins: [1, 2], closed: [P, N]}]
        sources: [{kind: seen}]
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
        loops: [[7, 8]]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.electrics.safety import danger_of, hazards
from rangebook.lint.context import Chains
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule


def check_verdicts(context: Chains) -> Iterator[Problem]:
    """Yield a finding at the first jumper of each plug with which the part that it came with is no longer safe."""
    told = set()
    for seat in context.seats:
        if not seat.loops or (seat.family.id, seat.plug.name) in told:
            continue
        without = seat.on_lever.part if seat.on_lever else seat.original
        own = {(one.guard.name, one.out) for one in hazards(without, seat.meets, seat.named, seat.every_position) if one.sure}
        for one in hazards(seat.inside, seat.meets, seat.named, seat.every_position):
            if one.sure and (one.guard.name, one.out) not in own:
                told.add((seat.family.id, seat.plug.name))
                yield problem(
                    seat.family,
                    (*seat.plug.path, "loops"),
                    "path",
                    key=True,
                    plug=seat.plug.name,
                    part=seat.original.number,
                    cavity=one.out,
                    circuit=one.guard.name,
                    other=one.other,
                    positions=tuple(one.positions),
                    danger=danger_of(one.guard),
                )
                break


MESSAGES = {
    "path": Told(
        [
            "with the jumpers of the plug {plug} on {part} cavity {cavity} ({circuit}) has a path to {other} in {positions|and}: ",
            "{danger|danger}",
        ],
        "meter the plug by itself, its other end unplugged, and correct `loops`, the wires or the contacts of the part",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(Chains, check_verdicts), messages=MESSAGES)
