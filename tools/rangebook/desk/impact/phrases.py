"""An impact report's pieces in words, the same for a terminal and for Markdown."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Contact
from rangebook.desk.impact.groups import Heading, told_reasons
from rangebook.reasons.reason import Reason
from rangebook.revisions.chains import EndSeen
from rangebook.revisions.report import FindingData, Impact, PageCause
from rangebook.revisions.safety_circuits import Circuits, PlugCircuits
from rangebook.revisions.verdicts import Alarm, Differs, Side, State, VerdictChange
from rangebook.words.book import moves_words, verdict_words
from rangebook.words.catalogue import Words, catalogue
from rangebook.words.lists import counted, listed
from rangebook.words.reasons import reason_words


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
    """The safety circuits of a part or of a plug."""
    if isinstance(circuits, PlugCircuits):
        words = [f"cavity {cavity} {name}" for cavity, name in circuits.wires.items()]
    else:
        words = [f"pin {pin} {name}" for pin, name in circuits.pins.items()]
        words += [_contact_words(one, circuits.positions) for one in circuits.contacts or ()]
        words += ["contacts not stated"] if circuits.contacts is None else []
    return listed(words, "semicolon") or Words("none stated")


def _contact_words(contact: Contact, positions: tuple[str, ...]) -> str:
    name = f"{contact.a}-{contact.b}"
    if contact.closed is not None:
        closed = [position for position in positions if position in contact.closed]
        closed += sorted(contact.closed - set(closed))
        return f"{name} closed in {listed(closed)}" if closed else f"{name} never closed"
    if contact.ohms is not None:
        return f"{name} " + listed((f"{at} {'open' if ohms is None else f'{ohms:g} ohm'}" for at, ohms in contact.ohms.items()), "comma")
    return f"{name} not stated"


def side_words(side: Side) -> str:
    """One answer in words, with what has to be ordered or moved."""
    if side.kind is None:
        return {State.BROKEN: "no longer known (its entry cannot be read)", State.NOT_IN_BOOK: "not in the book"}[side.state]
    more = [_need(one.kit, one.seal, one.blanks) for one in side.needs]
    if side.moves:
        more.append(f"wires {moves_words(dict(side.moves))}")
    return verdict_words(side.kind) + (f" ({'; '.join(more)})" if more else "")


def _need(kit: str | None, seal: int | None, blanks: int | None, note: str | None = None) -> str:
    words = [f"kit {kit}" if kit else "", f"seal for {seal}" if seal else "", f"{blanks} blanks" if blanks else "", note or ""]
    return ", ".join(filter(None, words))


def seat_words(change: VerdictChange) -> str:
    """The seat in words: family, plug, what it was built with, its vehicles."""
    seat = change.seat
    vehicles = change.vehicles
    more = f" and {len(vehicles) - 2} more" if len(vehicles) > 2 else ""
    lever = "" if seat.positions == seat.family.positions else f", lever {' '.join(seat.positions)}"
    shown = f": {', '.join(vehicles[:2])}{more}" if vehicles else ""
    return f"{seat.family.id}, plug {seat.plug.name}, came with {seat.original.number}{lever}{shown}"


def reason_lines(change: VerdictChange) -> Iterator[tuple[str, str]]:
    """``was`` or ``now`` and a reason; those that are the same on both sides are left out, the safety check's never."""
    was, now = told_reasons(change)
    yield from (("was", _reason(one)) for one in was)
    yield from (("now", _reason(one)) for one in now)


def _reason(reason: Reason) -> str:
    return f"{reason.check}: {reason_words(reason)}"


def ends_words(ends: tuple[EndSeen, ...] | None, broken: bool) -> str:
    """The ends of a chain in words."""
    if ends is None:
        return "no longer known (its entry cannot be read)" if broken else "not in the book"
    return " or ".join(map(_end_words, ends)) or "nothing takes its place"


def _end_words(end: EndSeen) -> str:
    if end.loops:
        return f"none, it comes back to {end.number}"
    needs = "; ".join(filter(None, (_need(one.kit, one.seal, one.blanks, one.note) for one in end.needs)))
    status = (end.status or "status not stated") if end.in_book else "not in the book"
    return f"{end.number} ({status}{', with ' + needs if needs else ''})"


def finding_words(finding: FindingData) -> str:
    """Where, how bad, what and by which rule."""
    return f"{finding['file']}:{finding['line']}:{finding['column']}: {finding['severity']}: {finding['message']} [{finding['rule']}]"


def summary(report: Impact) -> str:
    """All in one line."""
    if report.is_empty:
        return "Nothing in the book differs."
    words: list[str] = [counted(len(report.files), "entry", "entries")]
    if report.broken:
        words.append(f"{len(report.broken)} of them cannot be read")
    if report.schema_changed:
        words.append("the schema")
    changed = [one for one in report.verdicts if one.differs is not Differs.REASONS]
    words.append(counted(len(changed), "verdict", "verdicts") + (f" ({len(report.safety)} to look at first)" if report.safety else ""))
    if report.gone:
        words.append(f"{counted(len(report.gone), 'published number', 'published numbers')} gone")
    words.append(counted(len(report.chains), "chain end", "chain ends"))
    words.append(f"{counted(len(report.came), 'finding', 'findings')} more and {len(report.went)} fewer")
    words.append(f"{counted(len(report.pages), 'page', 'pages')} touched")
    return ", ".join(words) + "."
