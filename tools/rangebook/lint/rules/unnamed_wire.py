"""A wire of which nobody says what it is for.

Each wire of a plug that a vehicle came with has its ``circuit``, or meets a pin of the vehicle's own part that has one.

Why it matters: that wire may be the starter's. Whether a part may touch it in gear is not known, so the answer is ``unknown`` for all parts
but those that say what the wire is for.

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
          7: {colour: GN}

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
          7: {circuit: shift_lock, colour: GN}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family, Part
from rangebook.lint.context import Meeting
from rangebook.lint.meeting import met_by
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Meeting) -> Iterator[Problem]:
    """Yield a finding at each wire without a circuit that meets a pin without one, in any of the parts that the plug came with."""
    unnamed = {name for name, plug in family.plugs.items() if any(wire.circuit is None for _, wire in plug.each())}
    came: dict[str, dict[str, Part]] = {}
    for one in family.applications if unnamed else ():
        part = context.part(one.came_with) if one.came_with else None
        if part is not None and one.plug in unnamed:
            came.setdefault(one.plug or "", {}).update((design.key, design) for design in part.designs)
    for name, parts in came.items():
        plug = family.plugs[name]
        meeting = [(part, met_by(context, plug, part)) for part in parts.values()]
        for path, wire in plug.each():
            if wire.circuit is not None:
                continue
            cavity = wire.cavity
            # What a pin is for does not say where the second of two wires on it goes.
            shared = len(path) > len(plug.path) + 2
            silent = [part.number for part, met in meeting if shared or met is None or (part.pins or {}).get(met(cavity) or "") is None]
            if silent:
                yield problem(family, path, "no_circuit", key=True, cavity=cavity, plug=name, part=silent[0])


MESSAGES = {
    "no_circuit": Told(
        "nothing says what the wire in cavity {cavity} of the plug {plug} is for: it has no circuit, nor has {part} "
        "a pin there that has one; it may be the starter's",
        "follow the wire to where it ends, and write its `circuit`",
        beside=("part",),
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Family, Meeting, check_family), messages=MESSAGES)
