"""What a powered signal of its kind does not have.

``protocol`` is said of ``serial`` data, ``ratiometric`` of ``volts``; and of a range in ``supply_volts`` the least stands before the most.

Why it matters: one of the two is wrong, and nobody can tell from the entry whether the part goes on a vehicle that waits for the other.

Fails: a duty cycle has no protocol.

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: range_signal, 6: signal_ground, 7: supply}
        signals:
          - pin: 5
            supply: 7
            ground: 6
            kind: duty_percent
            values: {P: 10, R: 20, N: 30, D: 40, 2: 50, 1: 60}
            tolerance: 2
            protocol: house
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
          - pin: 5
            supply: 7
            ground: 6
            kind: duty_percent
            values: {P: 10, R: 20, N: 30, D: 40, 2: 50, 1: 60}
            tolerance: 2
        sources: [{kind: seen}]
    applications: []
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.fitting.contradictions import signal_facts_against
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each fact of a signal that its kind does not have, and at each supply the wrong way round."""
    for part in family.designs:
        for path, (pin,) in signal_facts_against(part):
            yield problem(family, path, str(path[-1]), pin=pin, part=part.number)


_SAID = "the signal on pin {pin} of {part}: "

MESSAGES = {
    "protocol": Told([_SAID, "only `serial` data have a protocol"], "correct `kind`, or take `protocol` out"),
    "ratiometric": Told([_SAID, "only `volts` go with their supply"], "correct `kind`, or take `ratiometric` out"),
    "supply_volts": Told([_SAID, "the least supply is more than the most"], "write the least first"),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
