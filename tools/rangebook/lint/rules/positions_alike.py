"""Two positions that a module cannot tell apart.

Where a part has a range output (a resistance ladder, code lines or a powered signal), what all of its range outputs read
together differs from each position of the lever to every other. Contacts for single positions (starter, backup lamps, park signal) do
not count. A part with anything of this not stated is left alone.

Why it matters: the module would show and shift for the wrong range, and nobody could find the fault on the scan tool, for
there is none. Most often a figure was copied one line too far.

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
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 910, 1: 200}, tolerance_percent: 5}
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
from rangebook.electrics.mistakable import alike
from rangebook.lint.context import Circuits
from rangebook.lint.readings import reading_of
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Circuits) -> Iterator[Problem]:
    """Yield a finding at each position that reads like an earlier one of the lever."""
    for part in family.designs:
        for position, earlier, listed, at in alike(part, family.positions, context.roles, means_of(family)):
            yield problem(
                family,
                (*at.path, at.key, position) if at else (*part.home("contacts"), "contacts"),
                "alike",
                key=at is None,
                part=part.number,
                position=position,
                earlier=earlier,
                read=tuple(reading_of(output, position) for output in listed),
            )


MESSAGES = {
    "alike": Told(
        "{part} reads the same in {position} as in {earlier}: {read|output_reads|semicolon}; expected something else in each position",
        "measure it in {earlier} and in {position} and correct the one that is wrong",
        beside=("read",),
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Circuits, check_family), messages=MESSAGES)
