"""The answer of :mod:`rangebook.desk.fit`, line by line, for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rangebook.book.model import Kit
from rangebook.desk.answer import Candidate
from rangebook.desk.fit import FitAnswer, SeatTaken
from rangebook.desk.setting import setting_of
from rangebook.fitting.supersession import End
from rangebook.fitting.verdict import Verdict
from rangebook.reasons.reason import Outcome
from rangebook.words.book import (
    application_words,
    caution_words,
    moves_of,
    need_words,
    provenance_words,
    reason_line,
    unsaid_words,
    verdict_words,
)
from rangebook.words.catalogue import Words, say
from rangebook.words.reasons import reason_words

Line = tuple[str, str]
"""A style (``head``, a verdict, ``why``, ``plain`` or ``caution``) and a line of text."""

_MARKS = {Outcome.FOR: "+", Outcome.AGAINST: "-", Outcome.MISSING: "?"}


def as_lines(answer: FitAnswer) -> Iterator[Line]:
    """The answer, line by line."""
    part = answer.removed
    yield "head", say("fit.part", number=part.number, status=part.status)
    for end in answer.ends:
        yield "plain", _chain(end, answer.kits)
    if not answer.seats:
        yield "plain", say("answer.no_seats")
        return
    for one in answer.seats:
        yield from _seat(one, answer.kits)
    yield "plain", ""
    yield "caution", caution_words()


def _seat(one: SeatTaken, kits: Mapping[str, Kit]) -> Iterator[Line]:
    seat = one.seat
    plug, family, wires = seat.plug.name, seat.family.title, len(seat.plug.wires)
    yield "plain", ""
    yield "head", say("fit.seat", plug=plug, family=family, wires=wires, how=one.how, original=seat.original.number)
    if seat.renewal or one.asks:
        names = tuple(kit.number for kit in seat.renewal)
        yield "plain", f"  {say('fit.plug_now', connector=seat.plug.connector, kits=names, look=one.asks)}"
    for application in seat.applications:
        yield "plain", f"  {application_words(application)}"
    for end, verdict in one.answer.ends:
        yield "plain", f"  {_end(end, verdict, one, kits)}"
    for found in one.candidates:
        yield from _candidate(found, one)
    fitted = (found.verdict for found in one.candidates if found.verdict.goes_on)
    for caution in dict.fromkeys(caution for verdict in fitted for caution in setting_of(seat, verdict.part).cautions):
        yield "caution", f"  {caution}"


def _end(end: End, verdict: Verdict | None, one: SeatTaken, kits: Mapping[str, Kit]) -> Words:
    fitting = [other.verdict.part for other in one.candidates if other.verdict.fits]
    return say(
        "fit.chain_end",
        number=end.number,
        needs=_needs(end, kits),
        verdict=verdict and verdict_words(verdict.kind),
        status=verdict and verdict.part.status,
        fits=verdict and verdict.fits,
        others=tuple(part.number for part in fitting if part is not one.seat.original),
    )


def _candidate(found: Candidate, one: SeatTaken) -> Iterator[Line]:
    verdict = found.verdict
    part = verdict.part
    yield str(verdict.kind), f"  {say('fit.candidate', number=part.number, status=part.status, verdict=verdict_words(verdict.kind))}"
    if found.unsaid is not None:
        yield "plain", f"    {say('fit.unsaid', number=part.number, unsaid=unsaid_words(found.unsaid))}"
    back = one.ways.get(part.number)
    if back is not None:
        yield "plain", f"    {say('answer.both_ways') if back else say('answer.one_way')}"
    for reason in verdict.checked:
        yield "why", f"    {_MARKS[reason.outcome]} {reason_line(reason)}"
    if verdict.measure_first is not None and len(verdict.reasons) > 1:
        yield "plain", f"    {say('answer.measure_first', what=reason_words(verdict.measure_first))}"
    if verdict.moves:
        yield "plain", f"    {say('answer.wires', moves=moves_of(verdict.moves))}"
    said = setting_of(one.seat, part)
    if verdict.goes_on and (said.set_in or said.torque_nm is not None):
        yield "plain", f"    {say('fit.setting', set_in=said.set_in, torque_nm=said.torque_nm)}"
    yield "plain", f"    {say('answer.known_no_better', source=provenance_words(found.known_from))}"


def _chain(end: End, kits: Mapping[str, Kit]) -> Words:
    return say(
        "fit.chain",
        steps=tuple(say("fit.step", number=link.number, since=link.since, note=link.note) for link in end.links),
        needs=_needs(end, kits),
        end="loops" if end.loops else "in_book" if end.part else "absent",
        status=end.part and end.part.status,
    )


def _needs(end: End, kits: Mapping[str, Kit]) -> tuple[Words, ...]:
    return tuple(need_words(need, kits) for need in end.needs)
