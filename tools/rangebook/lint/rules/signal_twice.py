"""Two powered signals on one pin of a part.

Each pin of a part has one item in ``signals`` at the most.

Why it matters: a pin gives one signal. Which of the two it is nobody can tell from the entry, so whatever hangs on it is not known.

Fails:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: range_signal, 6: signal_ground, 7: supply}
        signals:
          - {pin: 5, supply: 7, ground: 6, kind: duty_percent, values: {P: 10, R: 20, N: 30, D: 40, 2: 50, 1: 60}, tolerance: 2}
          - {pin: 5, supply: 7, ground: 6, kind: volts, values: {P: 1, R: 1.5, N: 2, D: 2.5, 2: 3, 1: 3.5}, tolerance: 0.1}
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
          - {pin: 5, supply: 7, ground: 6, kind: duty_percent, values: {P: 10, R: 20, N: 30, D: 40, 2: 50, 1: 60}, tolerance: 2}
        sources: [{kind: seen}]
    applications: []
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.fitting.contradictions import signals_twice
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each signal on a pin that has one before it."""
    for part in family.designs:
        for path, (pin,) in signals_twice(part):
            yield problem(family, path, "twice", part=part.number, pin=pin)


MESSAGES = {
    "twice": Told(
        "{part} has a second signal on pin {pin}; expected one for each pin",
        "measure which of the two it gives and take the other out, or correct `pin`",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
