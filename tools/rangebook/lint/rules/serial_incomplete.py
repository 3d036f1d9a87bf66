"""Serial data of which it is not said how they are sent.

A signal of the kind ``serial`` has its ``protocol`` and its ``supply_volts``.

Why it matters: a meter shows that something is sent and not what. Without both no other part is known to talk to the same module.

Fails:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: range_signal, 6: signal_ground, 7: supply}
        signals:
          - {pin: 5, supply: 7, ground: 6, kind: serial, supply_volts: {min: 8, max: 18}}
        sources: [{kind: seen}]
    applications: []

Mended:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: range_signal, 6: signal_ground, 7: supply}
        signals:
          - {pin: 5, supply: 7, ground: 6, kind: serial, supply_volts: {min: 8, max: 18}, protocol: one-wire of the house}
        sources: [{kind: seen}]
    applications: []
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.electrics.signals import ALWAYS_ASKED
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each signal of serial data without its protocol or its supply."""
    for part in family.designs:
        for signal in part.signals:
            lacking = tuple(key for key in ALWAYS_ASKED if signal.kind == "serial" and getattr(signal, key) is None)
            if lacking:
                yield problem(family, signal.path, "lacking", pin=signal.pin, part=part.number, lacking=lacking)


MESSAGES = {
    "lacking": Told(
        "the serial data on pin {pin} of {part} have no {lacking|code|or}",
        "look in the wiring diagram or the maker's data sheet",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Family, Context, check_family), messages=MESSAGES)
