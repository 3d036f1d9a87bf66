"""Verdict changes put together for reading: the same change of the same part on several seats is told once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from rangebook.desk.fit import WORDS
from rangebook.desk.impact.chains import EndSeen
from rangebook.desk.impact.report import FindingData, Impact
from rangebook.desk.impact.verdicts import Kind, Side, State, VerdictChange
from rangebook.fitting.verdict import Word
from rangebook.fitting.words import moves


@dataclass(frozen=True, slots=True)
class Group:
    """Changes of one part that are alike, seat after seat."""

    changes: tuple[VerdictChange, ...]

    @property
    def first(self) -> VerdictChange:
        """Any of them: they differ by their seats only."""
        return self.changes[0]


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with what stands under it; ``folded`` where few will want to read all of it."""

    title: str
    groups: tuple[Group, ...]
    folded: bool = False


def sections(report: Impact) -> Iterator[Section]:
    """The verdicts by what somebody does with them, safety first; empty sections are left out."""
    files = tuple(one.file for one in report.broken)
    chosen: dict[str, list[VerdictChange]] = {title: [] for title in _TITLES}
    for one in report.verdicts:
        chosen[_title(one, files)].append(one)
    for title, found in chosen.items():
        if found:
            yield Section(title, tuple(_grouped(found)), title in _FOLDED)


_SAFETY = "Look at these first: safety"
_BROKEN = "Not known until the entry that cannot be read is mended"
_WORD = "Other verdicts that changed"
_ORDER = "Other parts to order or wires to move"
_CAME = "New answers"
_GONE = "Answers that are gone"
_REASONS = "The same verdict for other reasons"
_TITLES = (_SAFETY, _WORD, _ORDER, _CAME, _GONE, _BROKEN, _REASONS)
_FOLDED = frozenset({_BROKEN, _REASONS})


def _title(one: VerdictChange, broken: tuple[str, ...]) -> str:
    """The heading that a change stands under."""
    if one.safety:
        return _SAFETY
    if one.new.state is State.BROKEN:
        return _BROKEN
    if one.new.word is Word.UNKNOWN and any(file in reason.text for reason in one.new.reasons for file in broken):
        return _BROKEN
    if one.old.state is not State.JUDGED:
        return _CAME
    if one.new.state is State.NOT_IN_BOOK:
        return _GONE
    return {Kind.WORD: _WORD, Kind.ORDER: _ORDER, Kind.REASONS: _REASONS}[one.kind]


def _grouped(changes: Iterable[VerdictChange]) -> Iterator[Group]:
    found: dict[tuple, list[VerdictChange]] = {}
    for one in changes:
        key = one.number, one.part_family, side_words(one.old), side_words(one.new), one.old.reasons, one.new.reasons, one.safety
        found.setdefault(key, []).append(one)
    yield from (Group(tuple(listed)) for listed in found.values())


def side_words(side: Side) -> str:
    """One answer in words, with what has to be ordered or moved."""
    if side.word is None:
        return {State.BROKEN: "no longer known (its entry cannot be read)", State.NOT_IN_BOOK: "not in the book"}[side.state]
    more = [_need(one.kit, one.seal, one.blanks) for one in side.needs]
    if side.moves:
        more.append(f"wires {moves(dict(side.moves))}")
    return WORDS[side.word] + (f" ({'; '.join(more)})" if more else "")


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
    old, new = ([f"{one.check}: {one.text}" for one in side.reasons] for side in (change.old, change.new))
    old += [f"safety: {text}" for text in change.old.safety if f"safety: {text}" not in old]
    new += [f"safety: {text}" for text in change.new.safety if f"safety: {text}" not in new]
    yield from (("was", text) for text in old if text not in new or text.startswith("safety: "))
    yield from (("now", text) for text in new if text not in old or text.startswith("safety: "))


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
    count = _count
    words = [count(len(report.files), "entry", "entries")]
    if report.broken:
        words.append(f"{len(report.broken)} of them cannot be read")
    if report.schema_changed:
        words.append("the schema")
    changed = [one for one in report.verdicts if one.kind is not Kind.REASONS]
    words.append(count(len(changed), "verdict", "verdicts") + (f" ({len(report.safety)} to look at first)" if report.safety else ""))
    if report.gone:
        words.append(f"{count(len(report.gone), 'published number', 'published numbers')} gone")
    words.append(count(len(report.chains), "chain end", "chain ends"))
    words.append(f"{count(len(report.came), 'finding', 'findings')} more and {len(report.went)} fewer")
    words.append(f"{count(len(report.pages), 'page', 'pages')} touched")
    return ", ".join(words) + "."


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"
