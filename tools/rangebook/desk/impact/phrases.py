"""An impact report's pieces in words, the same for a terminal and for Markdown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from rangebook.book.model import Circuit, Contact, Need
from rangebook.desk.impact.groups import Heading, told_reasons
from rangebook.desk.impact.typed import both_typed
from rangebook.fitting.check_needs import other_things
from rangebook.reading.finding import Finding, Problem
from rangebook.revisions.chains import EndSeen
from rangebook.revisions.facts import FactChange
from rangebook.revisions.report import Impact, PageCause
from rangebook.revisions.safety_circuits import Circuits, PlugCircuits
from rangebook.revisions.vehicles import Told, VehicleChange
from rangebook.revisions.verdicts import Alarm, Differs, Side, State, VerdictChange
from rangebook.words.book import also_words, moves_of, reason_line, verdict_words
from rangebook.words.catalogue import Words, catalogue, say
from rangebook.words.lists import listed
from rangebook.words.problems import problem_fix, problem_words

When = Literal["was", "now"]


def heading_words(heading: Heading) -> Words:
    """A heading of the report."""
    return catalogue().say("impact_heading", heading)


def alarm_words(alarm: Alarm) -> Words:
    """Why a change is for safety to look at first."""
    return catalogue().say("impact_alarm", alarm.flag, {"name": alarm.name})


def cause_words(cause: PageCause) -> Words:
    """Why a page shows something else."""
    return catalogue().say("impact_page", cause.why, {"name": cause.name})


def circuits_words(circuits: Circuits) -> Words:
    """The safety circuits of a part or of a plug, or what the list says of one."""
    if isinstance(circuits, Circuit):
        return say("impact.listed", law=circuits.law, positions=circuits.positions, feeds=circuits.feeds)
    if isinstance(circuits, PlugCircuits):
        words = [
            say("impact.wire", cavity=cavity, circuit=name, grounded=cavity in circuits.grounded) for cavity, name in circuits.wires.items()
        ]
        words += [say("impact.jumper", cavities=one) for one in circuits.loops]
        if (cranks := circuits.cranks) is not None:
            words.append(
                say("impact.cranks", by=cranks.by, positions=cranks.positions or (), side=cranks.side, sources=len(cranks.sources))
            )
    else:
        words = [say("impact.pin", pin=pin, circuit=name) for pin, name in circuits.pins.items()]
        words += [_contact_words(one, circuits.positions) for one in circuits.contacts or ()]
        words += [say("impact.overlaps", a=one.a, b=one.b, positions=one.overlaps) for one in circuits.contacts or () if one.overlaps]
        words += [say("impact.means", position=position, meaning=meaning) for position, meaning in circuits.means]
        words += [say("impact.contacts_not_stated")] if circuits.contacts is None else []
    return listed(words, "semicolon") or say("impact.none_stated")


def _contact_words(contact: Contact, positions: tuple[str, ...]) -> Words:
    a, b = contact.a, contact.b
    if contact.closed is not None:
        closed = [position for position in positions if position in contact.closed]
        closed += sorted(contact.closed - set(closed))
        if not closed:
            return say("impact.contact_never_closed", a=a, b=b)
        if contact.one_way:
            return say("impact.contact_one_way", a=a, b=b, positions=closed)
        return say("impact.contact_closed", a=a, b=b, positions=closed)
    if contact.ohms is not None:
        readings = tuple(say("impact.reads", position=at, ohms=ohms) for at, ohms in contact.ohms.items())
        return say("impact.contact_ohms", a=a, b=b, readings=readings)
    return say("impact.contact_not_stated", a=a, b=b)


def fact_words(change: FactChange) -> Words:
    """One fact with what was typed and what is."""
    old, new = both_typed(change.old, change.new)
    return say("impact.fact", kind=change.kind, entry=change.entry, at=change.place, old=old, new=new)


def vehicle_words(change: VehicleChange) -> Words:
    """A vehicle with what it was told and is told now; plugs and years only where they differ."""
    old, new = change.old, change.new
    moved = old is not None and new is not None and (old.plug, old.came_with) != (new.plug, new.came_with)
    years = change.old_years if old is not None and new is not None and change.old_years != change.years else None
    return say(
        "impact.vehicle",
        vehicle=change.vehicle,
        years=change.years,
        engine=change.engine,
        drive=change.drive,
        family=change.family,
        was=None if old is None else _told_words(old, moved, years),
        now=None if new is None else _told_words(new, moved, change.years if years else None),
    )


def _told_words(told: Told, moved: bool, years: str | None) -> Words:
    more: list[str] = [_kit(one.kit, one.seal, one.blanks) for one in told.needs]
    more += map(also_words, told.also)
    if told.moves:
        more.append(say("impact.moves", moves=moves_of(dict(told.moves))))
    return say(
        "impact.vehicle_side",
        years=years,
        plug=told.plug if moved else None,
        came_with=told.came_with,
        answer="no_seat" if not told.has_seat else "first" if told.first else "nothing",
        first=told.first,
        verdict=told.verdict and verdict_words(told.verdict),
        more=more,
    )


def circuits_of_words(what: str, name: str, family: str) -> Words:
    """Whose safety circuits read otherwise: a ``part``'s or a ``plug``'s; or of which ``circuit`` the list says something else."""
    return say("impact.circuits_of", what=what, name=name, family=family)


def side_words(side: Side) -> Words:
    """One answer in words, with what has to be ordered or moved."""
    more = [_kit(one.kit, one.seal, one.blanks) for one in side.needs]
    more += map(also_words, side.also)
    if side.moves or side.fans:
        more.append(say("impact.moves", moves=moves_of(dict(side.moves), dict(side.fans))))
    return say("impact.side", state=side.state, verdict=side.kind and verdict_words(side.kind), more=more)


def _kit(kit: str | None, seal: int | None, blanks: int | None) -> Words:
    words = (
        say("impact.kit", kit=kit) if kit else "",
        say("impact.seal", seal=seal) if seal else "",
        say("impact.blanks", blanks=blanks) if blanks else "",
    )
    return listed(filter(None, words), "comma")


def _need(need: Need) -> Words:
    words = (_kit(need.kit, need.seal, need.blanks), *map(also_words, other_things(need)), need.note)
    return listed(filter(None, words), "comma")


def seat_words(change: VerdictChange) -> Words:
    """The seat in words: family, plug, what it was built with, its vehicles."""
    seat, vehicles = change.seat, change.vehicles
    return say(
        "impact.seat",
        family=seat.family.id,
        plug=seat.plug.name,
        original=seat.original.number,
        lever=() if seat.positions == seat.family.positions else seat.positions,
        vehicles=vehicles[:2],
        more=max(len(vehicles) - 2, 0),
    )


def reason_lines(change: VerdictChange) -> Iterator[tuple[When, Words]]:
    """``was`` or ``now`` and a reason; those that are the same on both sides are left out, the safety check's never."""
    was, now = told_reasons(change)
    yield from (("was", reason_line(one)) for one in was)
    yield from (("now", reason_line(one)) for one in now)


def then_words(when: When, text: str) -> Words:
    """What was, or is now."""
    return say("impact.then", when=when, text=text)


def ends_words(ends: tuple[EndSeen, ...] | None, broken: bool) -> Words:
    """The ends of a chain in words."""
    if ends is None:
        return say("impact.side", state=State.BROKEN if broken else State.NOT_IN_BOOK, verdict=None, more=())
    return listed(map(_end_words, ends), "one_or_other") or say("impact.no_end")


def _end_words(end: EndSeen) -> Words:
    return say(
        "impact.end",
        end="loops" if end.loops else "in_book" if end.in_book else "absent",
        number=end.number,
        status=end.status,
        needs=tuple(filter(None, map(_need, end.needs))),
    )


def finding_words(finding: Finding, layers: Sequence[str] = ()) -> str:
    """Where, how bad, what and by which rule."""
    layer = f"{layers[finding.layer]}: " if len(layers) > 1 else ""
    return f"{layer}{finding.file}:{finding.line}:{finding.column}: {finding.severity}: {finding.message} [{finding.rule}]"


def problem_line(problem: Problem) -> Words:
    """What keeps an entry out of the book, on one line."""
    return say("impact.problem", line=problem.mark.in_file.line, message=problem_words(problem), fix=problem_fix(problem))


def summary(report: Impact) -> Words:
    """All in one line."""
    if report.is_empty:
        return say("impact.nothing")
    return say(
        "impact.summary",
        files=len(report.files),
        broken=len(report.broken),
        schema_changed=report.schema_changed,
        verdicts=sum(one.differs is not Differs.REASONS for one in report.verdicts),
        safety=report.first,
        facts=len(report.facts),
        vehicles=len(report.vehicles),
        gone=len(report.gone),
        chains=len(report.chains),
        came=len(report.came),
        went=len(report.went),
        pages=len(report.pages),
    )
