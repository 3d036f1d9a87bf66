"""A powered signal on a pin that the part does not have.

The ``pin``, ``supply`` and ``ground`` of every signal are keys of the part's ``pins``; ``ground`` may be ``case``. Where
``pins`` is left out nothing is checked.

Why it matters: a signal is compared from its pin against its ground, fed from its supply. With one of the three on a
missing pin the comparison says "no", or nothing, for every candidate.

Fails:

    kind: switch
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        pins: {5: range_signal, 6: signal_ground, 7: supply}
        signals:
          - {pin: 5, supply: 8, ground: 6, kind: duty_percent, values: {P: 10, R: 20, N: 30, D: 40, 2: 50, 1: 60}, tolerance: 2}
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
from rangebook.fitting.contradictions import signals_without_pin
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each pin of a signal that the part does not have."""
    for part in family.designs:
        for path, (pin,) in signals_without_pin(part):
            yield problem(family, path, "no_pin", role=path[-1], part=part.number, pin=pin, pins=some(part.pins or ()))


MESSAGES = {
    "no_pin": Told(
        [
            "the ",
            {"select": "role", "pin": "signal", "other": "{role}"},
            " of {part} is said to be on pin {pin}, which is not among its `pins` ({pins|some})",
        ],
        "correct `{role}`, or add {pin} to `pins`",
        beside=("pins",),
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
