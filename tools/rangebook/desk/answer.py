"""The answer for one seat, as data: what can stand in, best first, and what there is to tell of each. The one place that derives it:
terminal, pages, files for the browser and for other programs show what it says."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rangebook.book.model import Part
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.interchange import Evidence, evidence, said
from rangebook.fitting.provenance import Provenance, weakest
from rangebook.fitting.seats import Seat
from rangebook.fitting.standing import OFFERED, Group, first_offer, group_of
from rangebook.fitting.supersession import End, chain_ends
from rangebook.fitting.tried import Tried, tried_on
from rangebook.fitting.verdict import Verdict
from rangebook.reasons.reason import Check, Reason


@dataclass(frozen=True, slots=True)
class Candidate:
    """One part on a seat. ``unsaid`` is what was compared where it fits though no maker says so, else ``None``; ``known_from`` the weakest
    source of all that the verdict was computed from; ``tried`` what was seen of it in the bay, which decides nothing."""

    verdict: Verdict
    group: Group
    unsaid: Evidence | None
    known_from: Provenance
    tried: tuple[Tried, ...] = ()


@dataclass(frozen=True, slots=True)
class SeatAnswer:
    """A seat with its candidates, what to fit first. ``ends`` is where the makers' chain from the seat's original leads, each end with its
    verdict here, ``None`` where it is not in the book. ``best`` is what to fit instead of one that its maker has withdrawn: the first
    of the candidates that may be offered, ``None`` where there is none."""

    seat: Seat
    candidates: tuple[Candidate, ...]
    ends: tuple[tuple[End, Verdict | None], ...]
    best: Part | None


def seat_answer(fitter: Fitter, seat: Seat, verdicts: Iterable[Verdict] | None = None) -> SeatAnswer:
    """The answer for a seat, or for some ``verdicts`` on it alone."""
    judged = list(fitter.candidates(seat) if verdicts is None else verdicts)
    alone = verdicts is not None and any(group_of(one) is Group.WITHDRAWN for one in judged)
    best = best_offer(fitter.candidates(seat) if alone else judged)
    ends = tuple((end, fitter.verdict(seat, end.part) if end.part else None) for end in chain_ends(fitter.book, seat.original))
    return SeatAnswer(seat, tuple(candidate(fitter, seat, one) for one in judged), ends, best)


def best_offer(ranked: Iterable[Verdict]) -> Part | None:
    """The first part of a seat's answers that somebody may be told to fit, ``None`` where there is none."""
    best = first_offer(ranked)
    return best.part if best is not None else None


def candidate(fitter: Fitter, seat: Seat, verdict: Verdict) -> Candidate:
    """What there is to tell of one verdict."""
    unsaid = evidence(seat) if is_unsaid(fitter, seat, verdict) else None
    return Candidate(verdict, group_of(verdict), unsaid, weakest(fitter.book, seat, verdict), tried_on(fitter, seat, verdict))


def is_unsaid(fitter: Fitter, seat: Seat, verdict: Verdict) -> bool:
    """Whether a part other than the seat's own is offered and fits though no maker's chain leads from the one to the other, or back."""
    part, original = verdict.part, seat.original
    return (
        verdict.fits
        and group_of(verdict) in OFFERED
        and part.key != original.key
        and not said(fitter, original, part)
        and not said(fitter, part, original)
    )


def leading_reasons(verdict: Verdict) -> tuple[Reason, ...]:
    """The two reasons that say most: what is against it, danger first; what to measure first; or behaviour and mount where it goes on."""
    reasons = verdict.reasons
    if verdict.goes_on:
        first: dict[str, Reason] = {}
        for reason in reasons:
            first.setdefault(reason.check, reason)
        chosen = [first[check] for check in ("behaviour", "mount", "mating") if check in first]
    elif verdict.measure_first is not None:
        chosen = [verdict.measure_first, *(reason for reason in reasons if reason is not verdict.measure_first)]
    else:
        chosen = sorted(reasons, key=lambda one: one.check is not Check.SAFETY)
    return tuple(chosen[:2])
