"""What ``start-path`` and ``backup-lamp`` have in common: a guarded path of a part, in words and at its place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rangebook.book.model import CASE, Contact, Family, Part, Signal
from rangebook.electrics.safety import is_guarded
from rangebook.electrics.safety_paths import Ends, LackingPath, WrongWay, driven, ends_of, wrong_ways
from rangebook.fitting.check_safety import danger_of
from rangebook.fitting.cranking import asked_of, lacking_of, loops_of, loops_on_part
from rangebook.lint.context import Circuits
from rangebook.lint.finding import Problem, finding
from rangebook.lint.mentions import as_stated
from rangebook.reasons.codes import Danger
from rangebook.words.book import danger_words, relation_words
from rangebook.words.lists import listed

_NEVER_CLOSED = {Danger.STARTER: "the starter would not turn", Danger.BACKUP: "the backup lamps would stay dark"}


def path_findings(family: Family, danger: Danger, context: Circuits) -> Iterator[Problem]:
    """Yield a finding at each contact of the family's parts that makes a path where it must not be, or never makes it, and at each value of
    electronics that work it: of all circuits of the list with which there is this danger."""
    guards = [one for one in context.circuits.values() if is_guarded(one) and danger_of(one) is danger]
    for part in family.designs:
        for guard in guards:
            asked = asked_of(family, part, guard)
            ends = ends_of(part, asked.guard, family.positions, asked.needed)
            if ends is not None:
                yield from _found(family, ends)


def _found(family: Family, ends: Ends) -> Iterator[Problem]:
    for one in wrong_ways(ends):
        yield _wrong(family, ends, one)
    for signal, position in driven(ends):
        yield _driven(family, ends, signal, position)
    lacking = lacking_of(ends, loops_on_part(ends.part, loops_of(family.plugs.values())))
    if lacking is not None:
        yield _lacking(family, ends, lacking)


def at_position(family: Family, contact: Contact, position: str, message: str, fix: str) -> Problem:
    """A finding where a contact is stated for a position."""
    if contact.closed is None:
        return finding(family, (*contact.path, "ohms", position), message, fix, key=True)
    key = "overlaps" if position in contact.overlaps else "closed"
    index = as_stated(family, (*contact.path, key)).index(position)
    return finding(family, (*contact.path, key, index), message, fix)


def _wrong(family: Family, ends: Ends, one: WrongWay) -> Problem:
    only = listed(ends.allowed or ["none of its positions"])
    over = "" if len(one.way) == 1 else f" (over {', '.join(f'{each.a}-{each.b}' for each in one.way)})"
    if one.contact.closed is None:
        take_out = f"write `{one.position}: open`"
    else:
        key = "overlaps" if one.position in one.contact.overlaps else "closed"
        take_out = f"take {one.position} out of `{key}` of contact {one.contact.a}-{one.contact.b}"
    return at_position(
        family,
        one.contact,
        one.position,
        f"{ends.part.number}: in {one.position} there is a path from {_named(ends.part, [one.start])} to "
        f"{_named(ends.part, [one.end])}{over}: {danger_words(danger_of(ends.guard))}; it may be there only in {only}",
        f"meter {one.start} to {one.end} in {one.position}; if it reads open, {take_out}; if not, correct the circuits in `pins`",
    )


def _driven(family: Family, ends: Ends, signal: Signal, position: str) -> Problem:
    return finding(
        family,
        (*signal.path, "values", position),
        f"{ends.part.number}: in {position} {_named(ends.part, [signal.pin])} gives what it gives in {listed(ends.allowed)}: "
        f"{danger_words(danger_of(ends.guard))}",
        f"measure what it gives in {position}; if it is as written, correct the circuits in `pins`",
    )


def _lacking(family: Family, ends: Ends, one: LackingPath) -> Problem:
    part, positions, direct = ends.part, listed(one.positions), one.direct
    read = " or ".join(sorted({relation_words(reading) for reading in one.readings}))
    otherwise = _NEVER_CLOSED.get(danger_of(ends.guard), "what hangs on it would not work")
    feed = _named(part, ends.feeds) if ends.feeds else "every other pin"
    message = (
        f"{part.number}: {feed} to {_named(part, ends.outs)} is {read} in {positions}; "
        f"expected closed in {listed(ends.needed)}, or {otherwise}"
    )
    fix = f"meter it in {positions}; if it reads closed, add {positions} to its contact; if not, correct the circuits in `pins`"
    if direct is None:
        return finding(family, (*part.home("contacts"), "contacts"), message, fix, key=True)
    if direct.ohms is not None and one.positions[0] in direct.ohms:
        return finding(family, (*direct.path, "ohms", one.positions[0]), message, fix)
    return finding(family, (*direct.path, "closed"), message, fix)


def _named(part: Part, pins: Sequence[str]) -> str:
    """``pin 1 (start_feed)``."""
    if CASE in pins:
        return "the housing"
    circuits = dict.fromkeys((part.pins or {})[pin] for pin in pins)
    return f"pin {'/'.join(pins)} ({'/'.join(circuits)})"
