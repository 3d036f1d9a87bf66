"""The answer to "this came off: what fits, and what else does it take"."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from rangebook.book.book import Book
from rangebook.book.model import Application, Part
from rangebook.book.numbers import nearest
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
from rangebook.fitting.supersession import End, chain_ends
from rangebook.fitting.verdict import Says, Verdict, Word

WORDS = {
    Word.STRAIGHT: "fits as it is",
    Word.WITH_PARTS: "fits with other parts",
    Word.REWIRE: "fits if wires are moved",
    Word.UNKNOWN: "not known",
    Word.NO: "does not fit",
}
"""The verdicts in words for people."""

CAUTION = (
    "A wrong switch, or one set wrongly, can let the engine crank in gear or the vehicle move. Chock the wheels, set the brake, "
    "disconnect the battery, mind hot parts. Prove it: it cranks only in P and N. The vehicle maker's service information comes first."
)
"""Shown with every answer."""


class NotInBook(LookupError):
    """A number is not in the book; ``nearest`` are the numbers that look most like it."""

    def __init__(self, number: str, near: list[str]) -> None:
        super().__init__(f"{number} is not in the book")
        self.number = number
        self.nearest = near


@dataclass(frozen=True, slots=True)
class SeatAnswer:
    """One seat that the removed part may have been on, and the candidates for it. ``how`` is ``came_with`` or ``fits``."""

    seat: Seat
    how: str
    candidates: tuple[Verdict, ...]


@dataclass(frozen=True, slots=True)
class FitAnswer:
    """All seats of a removed part with their candidates, and where the makers' chain from it leads."""

    removed: Part
    seats: tuple[SeatAnswer, ...]
    ends: tuple[End, ...]


def find_part(book: Book, number: str) -> Part:
    """The part with this number in any spelling. Raises :class:`NotInBook`."""
    part = book.part(number)
    if part is None:
        raise NotInBook(number, nearest(number, (one.number for one in book.parts)))
    return part


def fit(fitter: Fitter, removed: str, candidate: str | None = None) -> FitAnswer:
    """What fits in place of ``removed``, or how ``candidate`` would. Raises :class:`NotInBook` for either number."""
    part = find_part(fitter.book, removed)
    other = find_part(fitter.book, candidate) if candidate else None
    seats = tuple(
        SeatAnswer(seat, how, (fitter.verdict(seat, other),) if other else tuple(fitter.candidates(seat)))
        for seat, how in fitter.seats_taken_by(part)
    )
    return FitAnswer(part, seats, tuple(chain_ends(fitter.book, part)))


def as_data(answer: FitAnswer) -> dict[str, Any]:
    """The answer as JSON data, in the fixed form of ``rangebook fit --json``."""
    return {
        "removed": answer.removed.number,
        "seats": [
            {
                "family": one.seat.family.id,
                "plug": one.seat.plug.name,
                "came_with": one.seat.original.number,
                "how": one.how,
                "applications": [dict(application.stated) for application in one.seat.applications],
                "candidates": [_candidate(verdict) for verdict in one.candidates],
            }
            for one in answer.seats
        ],
    }


def _candidate(verdict: Verdict) -> dict[str, Any]:
    return {
        "number": verdict.part.number,
        "verdict": str(verdict.word),
        "needs": [{"kit": one.kit, "seal": one.seal, "blanks": one.blanks} for one in verdict.needs],
        "moves": dict(verdict.moves),
        "unused_pins": list(verdict.unused_pins),
        "reasons": [{"check": one.check, "text": one.text} for one in verdict.reasons],
    }


def as_lines(answer: FitAnswer) -> Iterator[tuple[str, str]]:
    """The answer as lines for people, each with its style: ``head``, a verdict, ``why``, ``plain`` or ``caution``."""
    part = answer.removed
    yield "head", f"{part.number} ({part.status or 'status not stated'})"
    for end in answer.ends:
        yield "plain", _end_words(end)
    if not answer.seats:
        yield "plain", (
            "No vehicle in the book is known to take this part, so nothing can be said about what fits in its place. "
            "Add the vehicle, its plug and the part it came with to the entry."
        )
        return
    for one in answer.seats:
        seat = one.seat
        yield "plain", ""
        was = "was built with it" if one.how == "came_with" else f"was built with {seat.original.number}, and this part fits there"
        yield "head", f"Plug {seat.plug.name} ({seat.family.title}): {len(seat.plug.wires)} wires; {was}"
        for application in seat.applications:
            yield "plain", f"  {application_words(application)}"
        for verdict in one.candidates:
            yield from _verdict_lines(verdict)
    yield "plain", ""
    yield "caution", CAUTION


def _verdict_lines(verdict: Verdict) -> Iterator[tuple[str, str]]:
    part = verdict.part
    status = f", {part.status}" if part.status and part.status != "current" else ""
    yield str(verdict.word), f"  {part.number}{status}: {WORDS[verdict.word]}"
    for reason in verdict.checked:
        mark = {Says.FOR: "+", Says.AGAINST: "-", Says.MISSING: "?"}[reason.says]
        yield "why", f"    {mark} {reason.check}: {reason.text}"
    if verdict.moves:
        yield "plain", "    wires: " + ", ".join(f"{old} -> {new}" for old, new in verdict.moves.items())


def _end_words(end: End) -> str:
    way = " -> ".join(link.number for link in end.links)
    needs = "; ".join(
        " ".join(filter(None, (need.kit and f"kit {need.kit}", need.seal and f"rear seal for {need.seal} wires", need.blanks and f"{need.blanks} blanking plugs", need.note)))
        for need in end.needs
    )
    words = f"The maker's chain: {way}" + (f" (with {needs})" if needs else "")
    if end.loops:
        return f"{words}; it comes back to where it was, so it has no end"
    if end.part is None:
        return f"{words}; that number is not in the book"
    return f"{words}, {end.part.status or 'status not stated'}"


def application_words(application: Application) -> str:
    """One vehicle in one line."""
    built = ""
    if application.built_from or application.built_to:
        built = f" built {'from ' + application.built_from if application.built_from else ''}{' ' if application.built_from and application.built_to else ''}{'to ' + application.built_to if application.built_to else ''}"
    more = [one for one in (application.engine, application.drive, application.gearbox) if one]
    optional = f"; some without a wire in {', '.join(application.optional_cavities)}" if application.optional_cavities else ""
    return f"{application.vehicle} {application.years or '(years not stated)'}{built}" + (f", {', '.join(more)}" if more else "") + optional
