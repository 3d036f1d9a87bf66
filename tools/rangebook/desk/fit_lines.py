"""The answer of :mod:`rangebook.desk.fit`, line by line, for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rangebook.book.model import Kit, Need
from rangebook.desk.answer import Candidate
from rangebook.desk.fit import FitAnswer, SeatTaken
from rangebook.fitting.supersession import End
from rangebook.fitting.verdict import Verdict
from rangebook.reasons.reason import Outcome
from rangebook.words.book import (
    CAUTION,
    application_words,
    moves_of,
    need_words,
    provenance_words,
    unsaid_words,
    verdict_words,
)
from rangebook.words.catalogue import catalogue
from rangebook.words.lists import counted
from rangebook.words.reasons import reason_words

Line = tuple[str, str]
"""A style (``head``, a verdict, ``why``, ``plain`` or ``caution``) and a line of text."""

_MARKS = {Outcome.FOR: "+", Outcome.AGAINST: "-", Outcome.MISSING: "?"}


def as_lines(answer: FitAnswer) -> Iterator[Line]:
    """The answer, line by line."""
    part = answer.removed
    yield "head", f"{part.number} ({part.status or 'status not stated'})"
    for end in answer.ends:
        yield "plain", f"The maker's chain: {_chain(end, answer.kits)}"
    if not answer.seats:
        yield "plain", catalogue().say("answer", "no_seats")
        return
    for one in answer.seats:
        yield from _seat(one, answer.kits)
    yield "plain", ""
    yield "caution", CAUTION


def _seat(one: SeatTaken, kits: Mapping[str, Kit]) -> Iterator[Line]:
    seat = one.seat
    was = "was built with it" if one.how == "came_with" else f"was built with {seat.original.number}, and this part fits there"
    yield "plain", ""
    yield "head", f"Plug {seat.plug.name} ({seat.family.title}): {counted(len(seat.plug.wires), 'wire')}; {was}"
    for application in seat.applications:
        yield "plain", f"  {application_words(application)}"
    for end, verdict in one.answer.ends:
        yield "plain", f"  The maker's chain ends at {_end(end, verdict, one, kits)}"
    for found in one.candidates:
        yield from _candidate(found, one)


def _end(end: End, verdict: Verdict | None, one: SeatTaken, kits: Mapping[str, Kit]) -> str:
    words = f"{end.number}{_with(end.needs, kits)}"
    if verdict is None:
        return f"{words}, which is not in the book"
    words += f", {verdict.part.status or 'status not stated'}: {verdict_words(verdict.kind)}"
    if verdict.fits:
        return words
    fitting = [other.verdict.part for other in one.candidates if other.verdict.fits]
    others = [part.number for part in fitting if part is not one.seat.original]
    does = "do" if len(others) > 1 else "does"
    return f"{words} here; in the book {', '.join(others)} {does}" if others else f"{words} here, and in the book nothing else does"


def _candidate(found: Candidate, one: SeatTaken) -> Iterator[Line]:
    verdict, say = found.verdict, catalogue().say
    part = verdict.part
    status = f", {part.status}" if part.status and part.status != "current" else ""
    yield str(verdict.kind), f"  {part.number}{status}: {verdict_words(verdict.kind)}"
    if found.unsaid is not None:
        yield "plain", f"    {part.number}: {unsaid_words(found.unsaid)}"
    back = one.ways.get(part.number)
    if back is not None:
        yield "plain", f"    {say('answer', 'both_ways' if back else 'one_way')}"
    for reason in verdict.checked:
        yield "why", f"    {_MARKS[reason.outcome]} {reason.check}: {reason_words(reason)}"
    if verdict.measure_first is not None and len(verdict.reasons) > 1:
        yield "plain", f"    {say('answer', 'measure_first', {'what': reason_words(verdict.measure_first)})}"
    if verdict.moves:
        yield "plain", f"    {say('answer', 'wires', {'moves': moves_of(verdict.moves)})}"
    yield "plain", f"    {say('answer', 'known_no_better', {'source': provenance_words(found.known_from)})}"


def _chain(end: End, kits: Mapping[str, Kit]) -> str:
    steps = []
    for link in end.links:
        more = ", ".join(filter(None, (link.since and f"since {link.since}", link.note)))
        steps.append(f"{link.number} ({more})" if more else link.number)
    words = " -> ".join(steps) + _with(end.needs, kits)
    if end.loops:
        return f"{words}; it comes back to where it was, so it has no end"
    if end.part is None:
        return f"{words}; that number is not in the book"
    return f"{words}, {end.part.status or 'status not stated'}"


def _with(needs: tuple[Need, ...], kits: Mapping[str, Kit]) -> str:
    return f" (with {'; '.join(need_words(need, kits) for need in needs)})" if needs else ""
