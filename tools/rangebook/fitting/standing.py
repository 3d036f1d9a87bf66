"""Where a verdict stands among those of its seat: what is done with the part, and which of several comes first."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from enum import StrEnum

from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import RANK, Verdict, VerdictKind
from rangebook.reasons.reason import Check, Outcome

_STATUS_RANK = {"current": 0, None: 1, "superseded": 2, "discontinued": 3, "withdrawn": 4}


class Group(StrEnum):
    """What is done with a candidate, in the order in which they are shown: fitted; looked for on a shelf; measured; not fitted, for its
    maker took it back, whatever its verdict; not fitted though it bolts on and the plug goes on; left alone."""

    FIT = "fit"
    SHELF = "shelf"
    UNKNOWN = "unknown"
    WITHDRAWN = "withdrawn"
    LOOK_ALIKE = "look_alike"
    NO = "no"


_PLACE = {group: place for place, group in enumerate(Group)}

OFFERED = frozenset({Group.FIT, Group.SHELF})
"""The groups of what somebody may be told to fit."""


def group_of(verdict: Verdict) -> Group:
    """Where a verdict stands. What its maker has withdrawn is never offered, and nobody is sent to measure it; nor is what needs such a
    part."""
    if verdict.kind is VerdictKind.NO:
        return Group.LOOK_ALIKE if is_look_alike(verdict) else Group.NO
    if verdict.part.status == "withdrawn" or verdict.taken_back:
        return Group.WITHDRAWN
    if verdict.kind is VerdictKind.UNKNOWN:
        return Group.UNKNOWN
    return Group.FIT if verdict.part.status in ("current", None) else Group.SHELF


def first_offer(ranked: Iterable[Verdict]) -> Verdict | None:
    """The first of a seat's answers that somebody may be told to fit, ``None`` where there is none."""
    return next((one for one in ranked if group_of(one) in OFFERED), None)


def is_look_alike(verdict: Verdict) -> bool:
    """Whether nothing but behaviour or safety speaks against a part: it bolts on and the plug goes on, as far as is known, so it is the
    wrong part that somebody fits."""
    refused = {reason.check for reason in verdict.checked if reason.outcome is Outcome.AGAINST}
    return bool(refused) and refused <= {Check.BEHAVIOUR, Check.SAFETY}


def rank(verdict: Verdict, seat: Seat, ends: Collection[str]) -> tuple[int, ...]:
    """Sorts answers, first what is done with them. Of those that fit, the maker's own chain end (``ends``: keys of the parts at which the
    chain from the seat's original ends) comes before current parts of the same maker, these before all others. No entry states who made
    a part: parts of one family are taken to be of one maker. Of what is refused, other makers' look-alikes come first, and of these those
    with which something could go wrong: nobody expects them to be another switch."""
    group, part = group_of(verdict), verdict.part
    other = part.family != seat.original.family
    status = _STATUS_RANK.get(part.status, 1)
    if group is Group.LOOK_ALIKE:
        unsafe = any(one.check is Check.SAFETY and one.outcome is Outcome.AGAINST for one in verdict.checked)
        return _PLACE[group], not other, not unsafe, status
    chain = 0 if part.key in ends else 1 if not other and part.status == "current" else 2
    return _PLACE[group], not verdict.fits, chain, RANK[verdict.kind], status, other
