"""The answer of :mod:`rangebook.desk.fit`, line by line, for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rangebook.book.book import Book
from rangebook.book.model import Kit, ids_of
from rangebook.book.numbers import normalise
from rangebook.desk.answer import Candidate
from rangebook.desk.fit import FitAnswer, SeatTaken
from rangebook.desk.layers import candidate_lines, layer_lines, of_part, of_plug
from rangebook.desk.measuring import measure_words
from rangebook.desk.setting import setting_of
from rangebook.desk.worklists import Measurement
from rangebook.fitting.standing import OFFERED, Group, group_of
from rangebook.fitting.supersession import End
from rangebook.fitting.verdict import Verdict, VerdictKind
from rangebook.reasons.reason import Outcome
from rangebook.words.book import (
    application_words,
    caution_words,
    link_words,
    moves_of,
    need_words,
    number_words,
    provenance_words,
    reason_line,
    tried_words,
    unsaid_words,
    verdict_words,
    withdrawn_words,
)
from rangebook.words.catalogue import Words, say
from rangebook.words.lists import listed
from rangebook.words.measures import torque
from rangebook.words.reasons import reason_words

Line = tuple[str, str]
"""A style (``head``, a verdict, ``why``, ``plain`` or ``caution``) and a line of text."""

_MARKS = {Outcome.FOR: "+", Outcome.AGAINST: "-", Outcome.MISSING: "?"}


def as_lines(answer: FitAnswer) -> Iterator[Line]:
    """The answer, line by line."""
    part = answer.removed
    yield "head", say("fit.part", number=part.number, status=part.status)
    yield from (("plain", words) for words in layer_lines(answer.book, *of_part(answer.book, part)))
    for end in answer.ends:
        yield "plain", _chain(end, answer)
    if not answer.seats:
        yield "plain", say("answer.no_seats")
        return
    told = answer.measure_first if len(answer.seats) > 1 else None
    if told is not None:
        yield "caution", measure_words(told)
    for one in answer.seats:
        yield from _seat(one, answer.book, told)
    yield "plain", ""
    yield "caution", caution_words()


def _seat(one: SeatTaken, book: Book, told: Measurement | None) -> Iterator[Line]:
    seat = one.seat
    plug, family, wires = seat.plug.name, seat.family.title, len(seat.plug.wires)
    yield "plain", ""
    yield "head", say("fit.seat", plug=plug, family=family, wires=wires, how=one.how, original=number_words(seat.original))
    yield from (("plain", f"  {words}") for words in layer_lines(book, *of_plug(book, seat.plug)))
    if seat.renewal or one.asks:
        names = tuple(kit.number for kit in seat.renewal)
        yield "plain", f"  {say('fit.plug_now', connector=listed(ids_of(seat.plug.sockets)), kits=names, look=one.asks)}"
    for application in seat.applications:
        yield "plain", f"  {application_words(application)}"
    for end, verdict in one.answer.ends:
        yield "plain", f"  {_end(end, verdict, one, book.kits)}"
    # What was told for all seats is not told again.
    if one.measure_first is not None and (told is None or not told.is_same(one.measure_first)):
        yield "caution", f"  {measure_words(one.measure_first)}"
    for found in one.candidates:
        yield from _candidate(found, one, book)
    fitted = (found.verdict for found in one.candidates if found.verdict.goes_on)
    for caution in dict.fromkeys(caution for verdict in fitted for caution in setting_of(seat, verdict.part).cautions):
        yield "caution", f"  {caution}"


def _end(end: End, verdict: Verdict | None, one: SeatTaken, kits: Mapping[str, Kit]) -> Words:
    fitting = [other.verdict.part for other in one.candidates if other.verdict.fits and other.group in OFFERED]
    return say(
        "fit.chain_end",
        number=end.number,
        needs=_needs(end, kits),
        verdict=verdict and verdict_words(verdict.kind),
        status=verdict and verdict.part.status,
        fits=verdict and verdict.fits and group_of(verdict) in OFFERED,
        others=tuple(number_words(part) for part in fitting if part is not one.seat.original),
    )


def _candidate(found: Candidate, one: SeatTaken, book: Book) -> Iterator[Line]:
    verdict = found.verdict
    part = verdict.part
    if found.group is Group.WITHDRAWN:
        yield str(VerdictKind.NO), f"  {say('fit.withdrawn', number=part.number, warning=withdrawn_words(one.answer.best))}"
    else:
        yield str(verdict.kind), f"  {say('fit.candidate', number=part.number, status=part.status, verdict=verdict_words(verdict.kind))}"
    yield from (("plain", f"    {words}") for words in candidate_lines(book, one.seat, part))
    if found.group is Group.LOOK_ALIKE:
        yield str(VerdictKind.NO), f"    {say('fit.look_alike')}"
    if found.unsaid is not None:
        yield "plain", f"    {say('fit.unsaid', number=part.number, unsaid=unsaid_words(found.unsaid))}"
    for record, accord in found.tried:
        yield "plain", f"    {say('fit.tried', record=tried_words(record, accord))}"
    back = one.ways.get(part.number)
    if back is not None:
        yield "plain", f"    {say('answer.both_ways') if back else say('answer.one_way')}"
    for reason in verdict.checked:
        yield "why", f"    {_MARKS[reason.outcome]} {reason_line(reason)}"
    if found.group is Group.UNKNOWN and verdict.measure_first is not None and len(verdict.reasons) > 1:
        yield "plain", f"    {say('answer.measure_first', what=reason_words(verdict.measure_first))}"
    if verdict.moves or verdict.fans:
        yield "plain", f"    {say('answer.wires', moves=moves_of(verdict.moves, verdict.fans))}"
    said = setting_of(one.seat, part)
    if verdict.goes_on and (said.set_in or said.set_by or said.torque_nm is not None):
        bolts = None if said.torque_nm is None else torque(said.torque_nm)
        yield "plain", f"    {say('fit.setting', set_in=said.set_in, by=said.set_by, torque=bolts)}"
    yield "plain", f"    {say('answer.known_no_better', source=provenance_words(found.known_from))}"


def _chain(end: End, answer: FitAnswer) -> Words:
    known = [answer.parts.get(normalise(link.number)) for link in end.links[:-1]]
    numbers = [number_words(part) if part else link.number for part, link in zip(known, end.links[:-1], strict=True)]
    steps = zip([*numbers, end.links[-1].number], end.links, strict=True)
    return say(
        "fit.chain",
        steps=tuple(say("fit.step", number=number, since=link.since, note=link_words(link)) for number, link in steps),
        needs=_needs(end, answer.kits),
        end="loops" if end.loops else "in_book" if end.part else "absent",
        status=end.part and end.part.status,
    )


def _needs(end: End, kits: Mapping[str, Kit]) -> tuple[Words, ...]:
    return tuple(need_words(need, kits) for need in end.needs)
