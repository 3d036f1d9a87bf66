"""The answer of :mod:`rangebook.desk.fit` in words, for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rangebook.book.model import Application, Kit, Need
from rangebook.desk.fit import CAUTION, WORDS, FitAnswer, SeatAnswer
from rangebook.fitting.interchange import evidence
from rangebook.fitting.standing import Footing
from rangebook.fitting.supersession import End
from rangebook.fitting.verdict import Says, Verdict
from rangebook.fitting.words import moves, plural

Line = tuple[str, str]
"""A style (``head``, a verdict, ``why``, ``plain`` or ``caution``) and a line of text."""

FACTS = {
    "connector": "the housing",
    "pins": "the pins",
    "contacts": "the contacts",
    "mount": "the mount",
    "plugs": "the plug",
    "applications": "the vehicles",
}
"""A fact that a verdict stands on -> its words."""

SOURCES = {
    "seen": "seen and measured",
    "wiring-diagram": "wiring diagram",
    "service-manual": "service manual",
    "bulletin": "maker's bulletin",
    "catalogue": "parts catalogue",
    "hearsay": "hearsay",
}
"""Kind of source -> its words."""

_MARKS = {Says.FOR: "+", Says.AGAINST: "-", Says.MISSING: "?"}


def as_lines(answer: FitAnswer) -> Iterator[Line]:
    """The answer, line by line."""
    part = answer.removed
    yield "head", f"{part.number} ({part.status or 'status not stated'})"
    for end in answer.ends:
        yield "plain", f"The maker's chain: {_chain(end, answer.kits)}"
    if not answer.seats:
        yield (
            "plain",
            (
                "No vehicle in the book is known to take this part, so nothing can be said about what fits in its place. "
                "Add the vehicle, its plug and the part it came with to the entry."
            ),
        )
        return
    for one in answer.seats:
        yield from _seat(one, answer.kits)
    yield "plain", ""
    yield "caution", CAUTION


def _seat(one: SeatAnswer, kits: Mapping[str, Kit]) -> Iterator[Line]:
    seat = one.seat
    was = "was built with it" if one.how == "came_with" else f"was built with {seat.original.number}, and this part fits there"
    yield "plain", ""
    yield "head", f"Plug {seat.plug.name} ({seat.family.title}): {plural(len(seat.plug.wires), 'wire')}; {was}"
    for application in seat.applications:
        yield "plain", f"  {application_words(application)}"
    for end, verdict in one.ends:
        yield "plain", f"  The maker's chain ends at {_end(end, verdict, one, kits)}"
    for verdict in one.candidates:
        yield from _verdict(verdict, one)


def _end(end: End, verdict: Verdict | None, one: SeatAnswer, kits: Mapping[str, Kit]) -> str:
    words = f"{end.number}{_with(end.needs, kits)}"
    if verdict is None:
        return f"{words}, which is not in the book"
    words += f", {verdict.part.status or 'status not stated'}: {WORDS[verdict.word]}"
    if verdict.fits:
        return words
    others = [other.part.number for other in one.candidates if other.fits and other.part is not one.seat.original]
    does = "do" if len(others) > 1 else "does"
    return f"{words} here; in the book {', '.join(others)} {does}" if others else f"{words} here, and in the book nothing else does"


def _verdict(verdict: Verdict, one: SeatAnswer) -> Iterator[Line]:
    part = verdict.part
    status = f", {part.status}" if part.status and part.status != "current" else ""
    yield str(verdict.word), f"  {part.number}{status}: {WORDS[verdict.word]}"
    if part.number in one.unsaid:
        seen = evidence(one.seat)
        yield (
            "plain",
            (
                f"    {part.number}: nobody has said so, the facts show it: {plural(seen.wires, 'wire')} in "
                f"{plural(seen.positions, 'position')}, "
                f"{plural(seen.closed, 'closed path')} and {plural(seen.resistances, 'resistance')} compared"
            ),
        )
    back = one.ways.get(part.number)
    if back is not None:
        yield (
            "plain",
            "    both ways: the original fits wherever this one came"
            if back
            else "    one way only: where this one came, the original does not fit",
        )
    for reason in verdict.checked:
        yield "why", f"    {_MARKS[reason.says]} {reason.check}: {reason.text}"
    if verdict.measure_first is not None and len(verdict.reasons) > 1:
        yield "plain", f"    measure first: {verdict.measure_first.text}"
    if verdict.moves:
        yield "plain", f"    wires: {moves(verdict.moves)}"
    yield "plain", f"    known no better than: {footing_words(one.stands_on[part.number])}"


def footing_words(footing: Footing) -> str:
    """The weakest source of a verdict and what it is for, as ``hearsay, for the pins of TB-1, looked at 2019-03-02``."""
    about = f"for {FACTS[footing.fact]} of {footing.of}" if footing.fact in FACTS else f"for {footing.fact} {footing.of}"
    source = footing.source
    if source is None:
        return f"no source, {about}"
    return f"{SOURCES.get(source.kind, source.kind)}, {about}, {f'looked at {source.on}' if source.on else 'day not stated'}"


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
    return f" (with {'; '.join(_need(need, kits) for need in needs)})" if needs else ""


def _need(need: Need, kits: Mapping[str, Kit]) -> str:
    words = []
    if need.kit:
        words.append(f"kit {kits[need.kit].number if need.kit in kits else need.kit}")
    if need.seal:
        words.append(f"rear seal for {need.seal} wires")
    if need.blanks:
        words.append(plural(need.blanks, "blanking plug"))
    return ", ".join(filter(None, (*words, need.note)))


def application_words(application: Application) -> str:
    """One vehicle in one line."""
    built = [
        f"from {application.built_from}" if application.built_from else "",
        f"to {application.built_to}" if application.built_to else "",
    ]
    when = " ".join(filter(None, ("built", *built))) if any(built) else ""
    optional = f"some without a wire in {', '.join(application.optional_cavities)}" if application.optional_cavities else ""
    head = f"{application.vehicle} {application.years or '(years not stated)'}"
    return ", ".join(filter(None, (head, when, application.engine, application.drive, application.gearbox, optional)))
