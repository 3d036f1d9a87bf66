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

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.electrics.meaning import means_of
from rangebook.fitting.contradictions import Misplaced, lever_against, out_of_place
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule

_SOURCE = "49 CFR 571.102 S3.1.1"


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each position that stands in the wrong place."""
    lever = list(dict.fromkeys(family.positions))
    for one in out_of_place(lever, means_of(family)):
        yield finding(
            family,
            ("positions", family.positions.index(one.position)),
            f"{_said(one)} ({_SOURCE})",
            "write the positions in the order in which the lever goes through them, as in [P, R, N, D, 2, 1]",
        )
    for application in family.applications:
        for path, (position, before) in lever_against(application, family.positions):
            known = {each for each in application.lever or () if each in lever}
            yield finding(
                family,
                path,
                f"the lever of {application.vehicle} has {position} after {before}; in `positions` it stands before it",
                f"write the positions in the family's order: {', '.join(sorted(known, key=lever.index))}",
            )


def _said(one: Misplaced) -> str:
    """What was found and expected."""
    if one.how == "outside":
        return f"N stands outside R and {', '.join(one.others)}; expected it between reverse and the forward positions"
    if one.how == "beside_r":
        return f"{one.position} stands on the same side of N as R; expected N between reverse and the forward positions"
    if one.how == "no_neutral":
        return f"the lever has R and {', '.join(one.others)} and no N; expected N between reverse and the forward positions"
    if one.how == "park_inside":
        return f"P stands between {one.others[0]} and {one.others[1]}; expected it at the end, next to R"
    return f"P stands next to {one.others[0]}; expected it at the end, next to R"


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family))
