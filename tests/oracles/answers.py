"""What only tests use: the long way round, to hold the short one against."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.desk.answer import is_unsaid
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import Verdict, VerdictKind
from rangebook.revisions.safety_circuits import SafetyCircuits
from rangebook.revisions.states import States
from rangebook.revisions.touched import SeatKey
from rangebook.revisions.verdicts import VerdictChange, compared, listed_on


def unsaid(fitter: Fitter) -> Iterator[tuple[Seat, Verdict]]:
    """Every interchange of a book as it is that no maker has said, seat by seat."""
    for seat in fitter.seats:
        for verdict in fitter.candidates(seat):
            if verdict.kind is VerdictKind.STRAIGHT and is_unsaid(fitter, seat, verdict):
                yield seat, verdict


def every_verdict_change(states: States, circuits: SafetyCircuits) -> list[VerdictChange]:
    """The verdicts that differ, by judging every part on every seat of both books anew, each by itself."""
    pairs: dict[tuple[SeatKey, str], None] = {}
    for book in (states.new.book, states.old.book):
        fitter = Fitter(book)
        pairs |= dict.fromkeys(listed_on(fitter, fitter.seats))
    return compared(states, pairs, circuits)
