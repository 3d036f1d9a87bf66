"""What stands in the book, and what is said of an answer, in words: the same on every page and in the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from rangebook.book.model import Application, Fitted, Kit, Need, Part, Succession, When
from rangebook.electrics.relation import Relation
from rangebook.fitting.cases import terms_of
from rangebook.fitting.check_needs import other_things
from rangebook.fitting.interchange import Evidence
from rangebook.fitting.provenance import Provenance
from rangebook.fitting.tried import Accord
from rangebook.fitting.verdict import VerdictKind
from rangebook.reasons.codes import Also, Move
from rangebook.reasons.reason import Check, Outcome, Reason
from rangebook.words.catalogue import Words, catalogue, say
from rangebook.words.lists import listed
from rangebook.words.reasons import reason_words

_NO_FANS: Mapping[str, Iterable[str]] = MappingProxyType({})


def caution_words() -> Words:
    """Shown with every answer."""
    return say("answer.caution")


def verdict_words(kind: VerdictKind) -> Words:
    """A verdict."""
    return catalogue().say("verdict", kind)


def verdict_short(kind: VerdictKind) -> Words:
    """The same in one or two words."""
    return catalogue().say("verdict_short", kind)


def verdict_means(kind: VerdictKind) -> Words:
    """What a verdict means, in sentences."""
    return catalogue().say("verdict_means", kind)


def outcome_words(outcome: Outcome) -> Words:
    """What one reason comes to."""
    return catalogue().say("outcome", outcome)


def status_words(status: str | None) -> Words:
    """What the status of a part means; ``None``: not stated. A status that is new to the catalogue is its own word."""
    return _known("status", status)


def status_short(status: str | None) -> Words:
    """The same in two words."""
    return _known("status_short", status)


def number_words(part: Part) -> Words:
    """A part's number, with its status behind it where it is not to be had by this number any more: what stands wherever a number does."""
    return say("answer.number", number=part.number, gone=gone_words(part.status))


def gone_words(status: str | None) -> Words:
    """The status of a part in two words where it is not to be had by its number any more; nothing where it is, or that is not stated."""
    return Words("") if status in ("current", None) else status_short(status)


def how_words(code: str) -> Words:
    """How to find out what a reason's code says is missing."""
    return catalogue().say("how_to", code)


def withdrawn_words(best: Part | None) -> Words:
    """The warning beside a part that its maker has withdrawn, with what to fit instead on the seat."""
    return say("answer.withdrawn", instead=best and number_words(best))


def group_words(group: str) -> Words:
    """The heading under which candidates stand."""
    return catalogue().say("group", group)


def work_words(work: str) -> Words:
    """What is to be found out of a part, or what the book lacks."""
    return catalogue().say("work", work)


def fact_words(fact: str) -> Words:
    """A fact that a source stands for, or a verdict."""
    return _known("fact", fact)


def source_words(kind: str) -> Words:
    """A kind of source."""
    return _known("source", kind)


def signal_words(kind: str | None) -> Words:
    """What a meter is set to for a powered signal."""
    return _known("signal_kind", kind)


def _known(section: str, name: str | None) -> Words:
    key = "none" if name is None else name
    return catalogue().say(section, key) if catalogue().has(section, key) else Words(key)


def relation_words(found: Relation) -> Words:
    """``closed``, ``open``, so many ohms, or that it is not stated."""
    return catalogue().say("shared", "between", {"path": found.path, "ohms": found.ohms})


def moves_of(moves: Mapping[str, str], fans: Mapping[str, Iterable[str]] = _NO_FANS) -> tuple[Move, ...]:
    """Wires that move, by their old cavities, as the catalogue takes them: ``3 -> 4, 4 -> 3``; one that a lead brings to several, ``fans``,
    as ``1 -> 1 + 5``."""
    every = {**{old: (new,) for old, new in moves.items()}, **fans}
    return tuple(Move(old, " + ".join(new)) for old, new in every.items())


def unsaid_words(seen: Evidence) -> Words:
    """How much was compared where a part fits and no maker says so."""
    return say("answer.unsaid", wires=seen.wires, positions=seen.positions, closed=seen.closed, resistances=seen.resistances)


def tried_words(record: Fitted, accord: Accord | None = None) -> Words:
    """One record of the bay; beside a verdict also whether it says otherwise."""
    return say(
        "answer.tried",
        outcome=record.outcome,
        vehicle=record.vehicle,
        on=record.on,
        by=record.by,
        note=record.note,
        against=accord is Accord.AGAINST,
    )


def provenance_words(known: Provenance) -> Words:
    """The weakest source of a verdict and what it is for, as ``hearsay, for the pins of TB-1, looked at 2019-03-02``."""
    source = known.source
    return say(
        "answer.known_from",
        kind=source and source_words(source.kind),
        itself=known.fact,
        fact=fact_words(known.fact),
        of=known.of,
        on=source and source.on,
    )


def application_words(application: Application, with_vehicle: bool = True) -> Words:
    """One vehicle in one line, or what stands in it behind the vehicle's name."""
    years = application.years or say("answer.no_years")
    head = f"{application.vehicle} {years}" if with_vehicle else years
    optional = say("answer.optional_cavities", cavities=application.optional_cavities) if application.optional_cavities else ""
    when = when_words(application.when, "built")
    said = (head, built_words(application), when, application.engine, application.drive, application.gearbox, optional)
    return listed(filter(None, said), "comma")


def when_words(when: When | None, but: str = "") -> Words:
    """A condition, and where it is read; nothing where there is none. ``but`` is a key that is told elsewhere."""
    terms = tuple(term for term in terms_of(when) if term.what != but) if when is not None else ()
    return say("answer.when", terms=terms, stamped_at=when.stamped_at) if when is not None and terms else Words("")


def link_words(link: Succession) -> Words:
    """For which vehicles a number takes another's place, and what the maker says besides; nothing where that is nothing."""
    return listed(filter(None, (when_words(link.when), link.note)), "semicolon")


def built_words(application: Application) -> Words:
    """When a vehicle was built; nothing where it is not stated."""
    since, until = application.built
    return say("answer.built", since=since, until=until) if since or until else Words("")


def need_words(need: Need, kits: Mapping[str, Kit]) -> Words:
    """What a maker says has to be ordered too."""
    words: list[str] = []
    if need.kit:
        words.append(say("answer.kit", number=kits[need.kit].number if need.kit in kits else need.kit))
    if need.seal:
        words.append(say("answer.rear_seal", seal=need.seal))
    if need.blanks:
        words.append(say("answer.blanks", blanks=need.blanks))
    return listed(filter(None, (*words, *map(also_words, other_things(need)), need.note)), "comma")


def also_words(one: Also) -> Words:
    """One thing that is needed beside the plug's kits."""
    return catalogue().say("shared", "also", one._asdict())


def check_words(check: Check) -> Words:
    """The name of a check."""
    return catalogue().say("shared", "check", {"value": check})


def reason_line(reason: Reason) -> Words:
    """A reason behind its check's name."""
    return say("answer.reason", check=reason.check, reason=reason_words(reason))
