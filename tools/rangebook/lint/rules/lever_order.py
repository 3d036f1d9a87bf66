"""Lever positions out of order.

Neutral stands between reverse and the forward positions, and park, where the lever has it, stands at the end next to reverse.
An application's own ``lever`` has its positions in the order of the family's. Source: 49 CFR 571.102 S3.1.1 and S3.1.1.1.

Why it matters: the positions are read off in this order at the bench, lever click by lever click. In another order every
reading is compared with that of the wrong position.

Fails:

    kind: switch
    positions: [P, N, R, D, 2, 1]

Mended:

    kind: switch
    positions: [P, R, N, D, 2, 1]
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from rangebook.book.model import Family
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule

_SOURCE = "49 CFR 571.102 S3.1.1"


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each position that stands in the wrong place."""
    lever = list(dict.fromkeys(family.positions))
    for position, message in _out_of_place(lever):
        yield finding(
            family,
            ("positions", family.positions.index(position)),
            f"{message} ({_SOURCE})",
            "write the positions in the order in which the lever goes through them, as in [P, R, N, D, 2, 1]",
        )
    place = {position: index for index, position in enumerate(lever)}
    for one in family.applications:
        known = [position for position in one.lever or () if position in place]
        for before, position in itertools.pairwise(known):
            if place[position] < place[before] and position not in known[: known.index(before)]:
                yield finding(
                    family,
                    (*one.path, "lever", (one.lever or ()).index(position)),
                    f"the lever of {one.vehicle} has {position} after {before}; in `positions` it stands before it",
                    f"write the positions in the family's order: {', '.join(sorted(set(known), key=place.__getitem__))}",
                )
                break


def _out_of_place(lever: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Each position that is out of place, with what was found and expected."""
    at = {position: index for index, position in enumerate(lever)}
    forward = [position for position in lever if position not in ("P", "R", "N")]
    if "R" in at and "N" in at:
        astray = [position for position in forward if (at[position] < at["N"]) == (at["R"] < at["N"])]
        if forward and len(astray) == len(forward):
            yield "N", f"N stands outside R and {', '.join(forward)}; expected it between reverse and the forward positions"
            return
        for position in astray:
            yield position, f"{position} stands on the same side of N as R; expected N between reverse and the forward positions"
    elif "R" in at and forward:
        yield "R", f"the lever has R and {', '.join(forward)} and no N; expected N between reverse and the forward positions"
    if "P" in at and len(lever) > 1:
        neighbour = lever[1] if at["P"] == 0 else lever[at["P"] - 1]
        if 0 < at["P"] < len(lever) - 1:
            yield "P", f"P stands between {neighbour} and {lever[at['P'] + 1]}; expected it at the end, next to R"
        elif "R" in at and neighbour != "R":
            yield "P", f"P stands next to {neighbour}; expected it at the end, next to R"


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family))
