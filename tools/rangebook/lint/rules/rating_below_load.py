"""A contact that is made for less than the wires of its vehicle carry.

Where a plug's wires say what they carry (``carries_a``) and the contacts of the part that the vehicle was built with what they are made
for (``rated_a``), the contacts are made for as much. Of contacts one after the other the weakest counts.

Why it matters: the vehicle left the works with this part, so one of the figures is wrong. By them it is decided whether another part can
take the starter solenoid's current; a contact that is too weak welds shut, and then the starter turns in gear.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N], rated_a: 6}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        sources: [{kind: seen}]
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, carries_a: 9}
          2: {circuit: start_out, carries_a: 9}

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N], rated_a: 12}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        sources: [{kind: seen}]
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, carries_a: 9}
          2: {circuit: start_out, carries_a: 9}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.electrics.rating import is_rated
from rangebook.fitting.check_rating import own_ratings
from rangebook.lint.context import Chains
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule
from rangebook.reasons.codes import RatingTooLow


def check_seats(context: Chains) -> Iterator[Problem]:
    """Yield a finding at the wire of each seat whose own part is too weak for it."""
    for seat in context.seats:
        wires = seat.plug.wires
        if not is_rated(seat.original) or all(wire.amps is None for wire in wires.values()):
            continue
        for reason in own_ratings(seat):
            detail = reason.detail
            if isinstance(detail, RatingTooLow):
                cavity = next(one for one in (detail.b.cavity, detail.a.cavity) if one in wires and wires[one].amps is not None)
                yield problem(
                    seat.family,
                    (*seat.plug.path, "wires", cavity, *(() if wires[cavity].others else ("carries_a",))),
                    "too_weak",
                    a=detail.a.cavity,
                    b=detail.b.cavity,
                    plug=seat.plug.name,
                    carries_amps=detail.carries_amps,
                    part=seat.original.number,
                    vehicle=seat.applications[0].vehicle,
                    rated_amps=detail.rated_amps,
                )


MESSAGES = {
    "too_weak": Told(
        "the wires in {a} and {b} of the plug {plug} carry {carries_amps|g} A, "
        "and the contacts of {part} there, with which {vehicle} was built, are made for {rated_amps|g} A",
        "correct `carries_a` here or `rated_a` there",
        beside=("vehicle",),
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(Chains, check_seats), messages=MESSAGES)
