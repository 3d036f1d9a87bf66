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
from rangebook.fitting.contradictions import lever_against, out_of_place
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each position that stands in the wrong place."""
    lever = list(dict.fromkeys(family.positions))
    for one in out_of_place(lever, means_of(family)):
        yield problem(family, ("positions", family.positions.index(one.position)), one.how, position=one.position, others=tuple(one.others))
    for application in family.applications:
        for path, (position, before) in lever_against(application, family.positions):
            known = {each for each in application.lever or () if each in lever}
            yield problem(
                family,
                path,
                "lever",
                vehicle=application.vehicle,
                position=position,
                before=before,
                order=tuple(sorted(known, key=lever.index)),
            )


_SOURCE = " (49 CFR 571.102 S3.1.1)"
_NEUTRAL = f"; expected N between reverse and the forward positions{_SOURCE}"
_PARK = f"; expected it at the end, next to R{_SOURCE}"
_FIX = "write the positions in the order in which the lever goes through them, as in [P, R, N, D, 2, 1]"

MESSAGES = {
    "outside": Told(
        ["N stands outside R and {others|comma}; expected it between reverse and the forward positions", _SOURCE],
        _FIX,
    ),
    "beside_r": Told(["{position} stands on the same side of N as R", _NEUTRAL], _FIX),
    "no_neutral": Told(["the lever has R and {others|comma} and no N", _NEUTRAL], _FIX),
    "park_inside": Told(["P stands between {others|and}", _PARK], _FIX),
    "park_apart": Told(["P stands next to {others|and}", _PARK], _FIX),
    "lever": Told(
        "the lever of {vehicle} has {position} after {before}; in `positions` it stands before it",
        "write the positions in the family's order: {order|comma}",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
