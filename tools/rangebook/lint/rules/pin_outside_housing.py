"""A pin in a cavity that the housing does not have.

Every key of a part's ``pins`` is a cavity of the part's connector.

Why it matters: pins are counted from the housing. A label that is not there means that the wrong housing was written
down, or that the pins were counted from the wrong side, and then every wire is compared with the wrong pin.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return, 10: ground}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}}
          - {pins: [10, case], closed: [P, R, N, D, 2, 1]}
        sources: [{kind: seen}]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}}
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.fitting.contradictions import housing_at, pins_outside
from rangebook.lint.context import Housings
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some


def check_family(family: Family, context: Housings) -> Iterator[Problem]:
    """Yield a finding for each pin label that is not among the cavities of the part's connector."""
    for part in family.designs:
        for path, (label,) in pins_outside(part, context.connectors):
            connector, cavities = housing_at(part.sockets, label, context.connectors)
            yield problem(
                family,
                path,
                "outside",
                key=True,
                part=part.number,
                cavity=label,
                connector=connector,
                cavities=some(cavities),
            )


MESSAGES = {
    "outside": Told(
        "{part} has a pin in cavity {cavity}, which {connector} does not have (it has {cavities|some})",
        "correct the label, or the part's connector, or the rows of {connector}",
        beside=("cavities",),
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Housings, check_family), messages=MESSAGES)
