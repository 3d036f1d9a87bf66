"""A vehicle that is said to have come with a part that does not fit it.

The part in ``came_with`` goes straight onto the plug in ``plug``: the plug is of the part's connector or mates with it, and the part
has every position of the lever. What is not stated is not found fault with.

Why it matters: the vehicle left the works with this part on this plug, so they fit; if the facts say otherwise one of them is
wrong, and with it every answer for this vehicle.

Fails: the plug is of the later housing.

    kind: switch
    plugs:
      six-wire:
        connector: oval-13
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}

Mended:

    kind: switch
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import ids_of
from rangebook.fitting.check_mating import original_goes_on
from rangebook.fitting.mating import ways
from rangebook.fitting.verdict import VerdictKind, settle
from rangebook.lint.context import Chains
from rangebook.lint.faults import Faults
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule
from rangebook.reasons.reason import Check, Outcome


def check_verdicts(context: Chains) -> Iterator[Problem]:
    """Yield a finding at the first application of each seat whose own part does not go straight on."""
    faults = Faults(context)
    for seat in context.seats:
        if original_goes_on(context.book, seat):
            continue
        # That it does not go on is itself a reason of safety to build nothing on it.
        found = [reason for reason in context.verdict(seat, seat.original).checked if reason.check is not Check.SAFETY]
        against = tuple(reason for reason in found if reason.outcome is Outcome.AGAINST)
        over = ways(context.book, seat.plug.sockets, seat.original.sockets)
        # No vehicle leaves the works with a kit, whatever is in its bag.
        renewed = not against and bool(over) and bool(over[0].kits)
        if (
            (renewed or against)
            and (renewed or settle(VerdictKind.STRAIGHT, found) is not VerdictKind.UNKNOWN)
            and not faults.are_in(seat, ())
        ):
            first, *others = seat.applications
            yield problem(
                seat.family,
                (*first.path, "came_with"),
                "with_kits" if renewed else "against",
                vehicle=first.vehicle,
                others=len(others),
                part=seat.original.number,
                plug=seat.plug.name,
                against=against,
                plug_connectors=ids_of(seat.plug.sockets),
                connectors=ids_of(seat.original.sockets),
                kits=tuple(kit.id for kit in over[0].kits) if renewed else (),
            )


_SAID = [
    "{vehicle}",
    {"given": "others", "yes": " (and {others} more)"},
    " is said to have come with {part} on plug {plug}, but it does not go on as it is: ",
]
_FIX = "correct `came_with` or `plug`, or the connectors of the part and of the plug"

MESSAGES = {
    "against": Told([*_SAID, "{against|semicolon}"], _FIX, beside=("others",)),
    "with_kits": Told(
        [*_SAID, "its plug ({plug_connectors|comma}) goes onto {connectors|comma} only with {kits|and}"], _FIX, beside=("others",)
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(Chains, check_verdicts), messages=MESSAGES)
