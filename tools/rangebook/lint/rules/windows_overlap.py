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
from itertools import combinations, pairwise
from math import inf

from rangebook.book.model import Family
from rangebook.electrics.range_output import Output, outputs
from rangebook.lint.context import Circuits
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule
from rangebook.lint.words import output_name, output_reading

_ROUNDING = 1e-9


def check_family(family: Family, context: Circuits) -> Iterator[Problem]:
    """Yield a finding at the later of each two positions of the lever whose readings overlap."""
    for part in family.parts:
        listed = outputs(part, family.positions, context.roles)
        figures = [output for output in listed if output.unit]
        if not any(_crowded(output) for output in figures):
            continue
        for one, other in combinations(dict.fromkeys(family.positions), 2):
            apart = next((output for output in figures if output.values[one] != output.values[other]), None)
            if apart is None or not all(_overlap(output, one, other) for output in listed):
                continue
            yield finding(
                family,
                (*apart.path, apart.key, other),
                f"{part.number}, {output_name(apart)}: {other} with {output_reading(apart, other)} overlaps {one} with "
                f"{output_reading(apart, one)}; "
                "expected readings that cannot be mistaken for each other",
                f"measure it again in {one} and {other}, or state the tolerance that it really has",
            )


def _crowded(output: Output) -> bool:
    """Whether any two positions overlap: of readings in order, then two neighbours do too."""
    ordered = sorted(output.low, key=output.low.__getitem__)
    return any(_overlap(output, one, other) for one, other in pairwise(ordered))


def _overlap(output: Output, one: str, other: str) -> bool:
    """Whether some reading may be of either position. Windows that only touch do not overlap; the same value always does."""
    first, second = output.values[one], output.values[other]
    if first is None or second is None:
        return False
    if first == second:
        return True
    if inf in (first, second):
        return False
    (_, left), (right, _) = sorted(((output.low[one], output.high[one]), (output.low[other], output.high[other])))
    return right < left - _ROUNDING * abs(left)


RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Family, Circuits, check_family))
