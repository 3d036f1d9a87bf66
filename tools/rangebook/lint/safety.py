"""What ``start-path`` and ``backup-lamp`` have in common: a guarded path of a part, at its place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from rangebook.book.model import CASE, Family, KeyPath, Part, Signal
from rangebook.electrics.relation import PathKind, Relation
from rangebook.electrics.safety import danger_of, is_guarded
from rangebook.electrics.safety_paths import Ends, LackingPath, WrongWay, driven, ends_of, wrong_ways
from rangebook.fitting.cranking import asked_of, lacking_of
from rangebook.fitting.jumpers import Jumpers, jumpers_on
from rangebook.lint.context import Guarded
from rangebook.lint.finding import Problem, problem
from rangebook.lint.mentions import as_stated
from rangebook.reasons.codes import Danger
from rangebook.words.problems import Told

_FOUND_AS = (PathKind.OHMS, PathKind.JOINED, PathKind.UNKNOWN, PathKind.OPEN)
"""The order in which readings are told."""


class PinsOf(NamedTuple):
    """Pins of one circuit or several; none for the housing."""

    pins: tuple[str, ...] = ()
    circuits: tuple[str, ...] = ()


MESSAGES = {
    "wrong": Told(
        [
            "{part}: in {position} there is a path from {start|pins_of} to {end|pins_of}",
            {"given": "over", "yes": " (over {over|comma})"},
            ": {danger|danger}; it may be there only in ",
            {"given": "allowed", "yes": "{allowed|and}", "no": "none of its positions"},
        ],
        [
            "meter {start_pin} to {end_pin} in {position}; if it reads open, ",
            {"given": "contact", "yes": "take {position} out of `{listed_in}` of contact {contact}", "no": "write `{position}: open`"},
            "; if not, correct the circuits in `pins`",
        ],
        beside=("over", "allowed"),
    ),
    "driven": Told(
        "{part}: in {position} {pin|pins_of} gives what it gives in {allowed|and}: {danger|danger}",
        "measure what it gives in {position}; if it is as written, correct the circuits in `pins`",
        beside=("allowed",),
    ),
    "lacking": Told(
        [
            "{part}: ",
            {"given": "feeds", "yes": "{feeds|pins_of}", "no": "every other pin"},
            " to {outs|pins_of} is {read|between|one_or_other} in {positions|and}; expected closed in {allowed|and}, or ",
            {
                "select": "danger",
                "starter_in_gear": "the starter would not turn",
                "backup_lamps_not_in_reverse": "the backup lamps would stay dark",
                "other": "what hangs on it would not work",
            },
        ],
        "meter it in {positions|and}; if it reads closed, add {positions|and} to its contact; if not, correct the circuits in `pins`",
        beside=("allowed",),
    ),
}
"""What the two rules tell."""


def path_findings(family: Family, danger: Danger, context: Guarded) -> Iterator[Problem]:
    """Yield a finding at each contact of the family's parts that makes a path where it must not be, or never makes it, and at each value of
    electronics that work it: of all circuits of the list with which there is this danger."""
    guards = [one for one in context.circuits.values() if is_guarded(one) and danger_of(one) is danger]
    for part in family.designs:
        for guard in guards:
            asked = asked_of(family, part, guard)
            ends = ends_of(part, asked.guard, family.positions, asked.needed)
            if ends is not None:
                yield from _found(family, ends, context.jumpers)


def _found(family: Family, ends: Ends, jumpers: Jumpers) -> Iterator[Problem]:
    for one in wrong_ways(ends):
        yield _wrong(family, ends, one)
    for signal, position in driven(ends):
        yield _driven(family, ends, signal, position)
    lacking = lacking_of(ends, jumpers_on(ends.part, jumpers))
    if lacking is not None:
        yield _lacking(family, ends, lacking)


def _wrong(family: Family, ends: Ends, one: WrongWay) -> Problem:
    contact, position = one.contact, one.position
    closed = contact.closed is not None
    listed_in = "overlaps" if position in contact.overlaps else "closed"
    there = (listed_in, as_stated(family, (*contact.path, listed_in)).index(position)) if closed else ("ohms", position)
    return problem(
        family,
        (*contact.path, *there),
        "wrong",
        key=not closed,
        part=ends.part.number,
        position=position,
        start=_named(ends.part, [one.start]),
        end=_named(ends.part, [one.end]),
        over=() if len(one.way) == 1 else tuple(f"{each.a}-{each.b}" for each in one.way),
        danger=danger_of(ends.guard),
        allowed=tuple(ends.allowed),
        start_pin=one.start,
        end_pin=one.end,
        contact=f"{contact.a}-{contact.b}" if closed else None,
        listed_in=listed_in,
    )


def _driven(family: Family, ends: Ends, signal: Signal, position: str) -> Problem:
    return problem(
        family,
        (*signal.path, "values", position),
        "driven",
        part=ends.part.number,
        position=position,
        pin=_named(ends.part, [signal.pin]),
        allowed=tuple(ends.allowed),
        danger=danger_of(ends.guard),
    )


def _lacking(family: Family, ends: Ends, one: LackingPath) -> Problem:
    part, direct = ends.part, one.direct
    there: KeyPath
    if direct is None:
        there = (*part.home("contacts"), "contacts")
    elif direct.ohms is not None and one.positions[0] in direct.ohms:
        there = (*direct.path, "ohms", one.positions[0])
    else:
        there = (*direct.path, "closed")
    return problem(
        family,
        there,
        "lacking",
        key=direct is None,
        part=part.number,
        feeds=_named(part, ends.feeds) if ends.feeds else None,
        outs=_named(part, ends.outs),
        read=_read(one.readings),
        positions=one.positions,
        allowed=tuple(ends.needed),
        danger=danger_of(ends.guard),
    )


def _read(readings: Iterable[Relation]) -> tuple[Relation, ...]:
    """Each different one, as far as it is told."""
    told = {(_FOUND_AS.index(one.path), f"{one.ohms or 0:.4g}"): one for one in readings}
    return tuple(told[one] for one in sorted(told))


def _named(part: Part, pins: Sequence[str]) -> PinsOf:
    if CASE in pins:
        return PinsOf()
    return PinsOf(tuple(pins), tuple(dict.fromkeys((part.pins or {})[pin] for pin in pins)))
