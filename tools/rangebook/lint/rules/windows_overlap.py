"""Two positions whose readings overlap within their tolerance.

In a resistance ladder each position may read its ohms plus or minus ``tolerance_percent`` (10 where none is stated), in a
powered signal its value plus or minus ``tolerance``. What may be read in one position is not also what may be read in another,
unless another range output of the part tells the two apart. Readings that are the same to the figure are ``positions-alike``.

Why it matters: a good switch at one end of its tolerance reads as the next range. What is in the entry then cannot tell a good
one from a bad one, and the module may show the wrong range with nothing broken.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 390}, tolerance_percent: 5}
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
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.electrics.meaning import means_of
from rangebook.electrics.mistakable import overlapping
from rangebook.lint.context import Circuits
from rangebook.lint.readings import reading_of
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Circuits) -> Iterator[Problem]:
    """Yield a finding at the later of each two positions of the lever whose readings overlap."""
    for part in family.designs:
        for position, earlier, _, at in overlapping(part, family.positions, context.roles, means_of(family)):
            assert at is not None, "what overlaps are figures"
            yield problem(
                family,
                (*at.path, at.key, position),
                "overlap",
                part=part.number,
                position=position,
                reading=reading_of(at, position),
                earlier=earlier,
                earlier_reading=reading_of(at, earlier),
            )


MESSAGES = {
    "overlap": Told(
        "{part}, {reading.output|output}: {position} with {reading.figure|output_reading} overlaps {earlier} with "
        "{earlier_reading.figure|output_reading}; expected readings that cannot be mistaken for each other",
        "measure it again in {earlier} and {position}, or state the tolerance that it really has",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Family, Circuits, check_family), messages=MESSAGES)
