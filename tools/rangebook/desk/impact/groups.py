"""Verdict changes put together for reading: the same change of the same part on several seats is told once."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from rangebook.fitting.verdict import VerdictKind
from rangebook.reasons.reason import Check, Reason
from rangebook.revisions.report import Impact
from rangebook.revisions.verdicts import Differs, Side, State, VerdictChange


@dataclass(frozen=True, slots=True)
class Group:
    """Changes of one part that are alike, seat after seat."""

    changes: tuple[VerdictChange, ...]

    @property
    def first(self) -> VerdictChange:
        """Any of them: they differ by their seats only."""
        return self.changes[0]


class Heading(StrEnum):
    """What is done with a change, in the order of the report."""

    SAFETY = "safety"
    VERDICT = "verdict"
    ORDER = "order"
    CAME = "came"
    GONE = "gone"
    NO_VEHICLE = "no_vehicle"
    BROKEN = "broken"
    REASONS = "reasons"


_FOLDED = frozenset({Heading.NO_VEHICLE, Heading.BROKEN, Heading.REASONS})


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with what stands under it; ``folded`` where few will want to read all of it."""

    heading: Heading
    groups: tuple[Group, ...]
    folded: bool = False


def sections(report: Impact) -> Iterator[Section]:
    """The verdicts by what somebody does with them, safety first; empty sections are left out."""
    files = frozenset(one.file for one in report.broken)
    chosen: dict[Heading, list[VerdictChange]] = {heading: [] for heading in Heading}
    for one in report.verdicts:
        chosen[_heading(one, files)].append(one)
    for heading, found in chosen.items():
        if found:
            yield Section(heading, tuple(_grouped(found)), heading in _FOLDED)


def _heading(one: VerdictChange, broken: frozenset[str]) -> Heading:
    """The heading that a change stands under."""
    if one.safety:
        return Heading.SAFETY
    if one.new.state is State.BROKEN:
        return Heading.BROKEN
    if one.new.kind is VerdictKind.UNKNOWN and not broken.isdisjoint(one.new.waits_for):
        return Heading.BROKEN
    if one.old.state is not State.JUDGED:
        return Heading.CAME
    if one.new.state is State.NO_VEHICLE:
        return Heading.NO_VEHICLE
    if one.new.state is State.NOT_IN_BOOK:
        return Heading.GONE
    return {Differs.WORD: Heading.VERDICT, Differs.ORDER: Heading.ORDER, Differs.REASONS: Heading.REASONS}[one.differs]


def _grouped(changes: Iterable[VerdictChange]) -> Iterator[Group]:
    found: dict[Hashable, list[VerdictChange]] = {}
    for one in changes:
        key = one.number, one.part_family, _alike(one.old), _alike(one.new), one.safety
        found.setdefault(key, []).append(one)
    yield from (Group(tuple(listed)) for listed in found.values())


def _alike(side: Side) -> Hashable:
    """What is told of one answer; pins without a wire are not."""
    return side.state, side.kind, side.ordered, side.reasons


def told_reasons(change: VerdictChange) -> tuple[list[Reason], list[Reason]]:
    """The reasons that were and those that are now; what is the same on both sides is left out, but for the safety check's."""
    old, new = (list(dict.fromkeys((*side.reasons, *side.safety))) for side in (change.old, change.new))
    return (
        [reason for reason in old if reason not in new or reason.check is Check.SAFETY],
        [reason for reason in new if reason not in old or reason.check is Check.SAFETY],
    )
