"""What a change to the book does to every answer that the book gives: two states of it compared."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from rangebook.book.book import Book
from rangebook.book.model import ids_of
from rangebook.book.removed_numbers import RemovedNumber, removed_numbers
from rangebook.reading.finding import Finding, Problem
from rangebook.revisions.chains import ChainChange, chain_changes
from rangebook.revisions.facts import FactChange, fact_changes
from rangebook.revisions.safety_circuits import CircuitChange, SafetyCircuits
from rangebook.revisions.states import States
from rangebook.revisions.touched import Touched
from rangebook.revisions.vehicles import VehicleChange, vehicle_changes
from rangebook.revisions.verdicts import VerdictChange, verdict_changes


@dataclass(frozen=True, slots=True)
class FileChange:
    """One entry file. ``how`` is ``added``, ``removed`` or ``changed``; ``problems`` are what keeps it out of the book as it is
    now, ``was_broken`` whether the earlier state could not be taken in."""

    file: str
    how: str
    problems: tuple[Problem, ...]
    was_broken: bool


class Why(StrEnum):
    """Why a page shows something else."""

    ENTRY_NEW = "entry_new"
    ENTRY_GONE = "entry_gone"
    ENTRY_CHANGED = "entry_changed"
    CONNECTOR = "connector"
    VEHICLES = "vehicles"
    PART = "part"
    CHAIN = "chain"


@dataclass(frozen=True, slots=True)
class PageCause:
    """One cause; ``name`` is the connector or the part that it comes from."""

    why: Why
    name: str = ""


@dataclass(frozen=True, slots=True)
class PageTouched:
    """A page of the site that shows something else: ``kind`` is ``switch``, ``connector`` or ``kit``, ``id`` the entry's; ``why`` begins
    with the page's own entry."""

    kind: str
    id: str
    why: tuple[PageCause, ...]


@dataclass(frozen=True)
class Impact:
    """All that differs. ``base`` says in words what the working tree was compared with, ``commit`` is its full id."""

    base: str
    commit: str
    files: tuple[FileChange, ...]
    schema_changed: bool
    circuits: tuple[CircuitChange, ...]
    facts: tuple[FactChange, ...]
    vehicles: tuple[VehicleChange, ...]
    verdicts: tuple[VerdictChange, ...]
    gone: tuple[RemovedNumber, ...]
    chains: tuple[ChainChange, ...]
    came: tuple[Finding, ...]
    went: tuple[Finding, ...]
    pages: tuple[PageTouched, ...]
    layers: tuple[tuple[str, ...], tuple[str, ...]] = ((), ())
    """The names of the layers of the book before and now; none of one that has but one."""

    @property
    def broken(self) -> tuple[FileChange, ...]:
        """The entries that cannot be taken in as they are now and differ from the base."""
        return tuple(one for one in self.files if one.problems)

    @property
    def safety(self) -> tuple[VerdictChange, ...]:
        """The verdicts to look at first."""
        return tuple(one for one in self.verdicts if one.safety)

    @property
    def first(self) -> int:
        """How many things are to be looked at first: facts, vehicles, verdicts."""
        facts, vehicles = (one.safety for one in self.facts), (one.safety for one in self.vehicles)
        return len(self.safety) + sum(facts) + sum(vehicles)

    @property
    def is_empty(self) -> bool:
        """Whether nothing differs at all."""
        return not (self.files or self.schema_changed or self.facts or self.verdicts or self.chains or self.came or self.went)


def impact(states: States, base: str, commit: str, old_findings: Iterable[Finding], new_findings: Iterable[Finding]) -> Impact:
    """Compare two states of a book. Findings that both have alike may be left out of both lists."""
    circuits = SafetyCircuits(states)
    touched = Touched(*states.fitters)
    verdicts = tuple(verdict_changes(states, circuits, touched))
    facts = tuple(fact_changes(states))
    vehicles = vehicle_changes(touched, facts, (one.seat.key for one in verdicts))
    chains = tuple(chain_changes(states))
    came, went = finding_changes(old_findings, new_findings)
    return Impact(
        base,
        commit,
        tuple(_files(states)),
        states.old.schemas.files != states.new.schemas.files,
        circuits.changes,
        facts,
        tuple(vehicles),
        verdicts,
        tuple(removed_numbers(states.old.book, states.new.book)),
        chains,
        tuple(came),
        tuple(went),
        tuple(_pages(states, verdicts, chains)),
        (states.old.book.layers, states.new.book.layers),
    )


def nothing(base: str, commit: str) -> Impact:
    """The report where both states are the same, file by file."""
    return Impact(base, commit, (), False, (), (), (), (), (), (), (), (), ())


def finding_changes(old: Iterable[Finding], new: Iterable[Finding]) -> tuple[list[Finding], list[Finding]]:
    """The findings that came and those that went. One that is at the same place of the same thing did neither, whatever it says of it."""
    return _without(new, old), _without(old, new)


def _without(findings: Iterable[Finding], taken: Iterable[Finding]) -> list[Finding]:
    left = Counter(one.identity for one in taken)
    kept = []
    for one in findings:
        if left[one.identity]:
            left[one.identity] -= 1
        else:
            kept.append(one)
    return kept


def _files(states: States) -> Iterator[FileChange]:
    old, new = ({entry.file: entry for entry in loaded.entries} for loaded in (states.old, states.new))
    for file, how in states.files.items():
        now, before = new.get(file), old.get(file)
        yield FileChange(file, how, tuple(now.problems) if now else (), bool(before and before.problems))


def _pages(states: States, verdicts: Sequence[VerdictChange], chains: Sequence[ChainChange]) -> Iterator[PageTouched]:
    """The pages of entries. Lists (numbers, vehicles, gearboxes) and the search are not told of: they follow from these."""
    why: dict[tuple[str, str], dict[PageCause, None]] = {}

    def add(kind: str, name: str, cause: Why, of: str = "") -> None:
        why.setdefault((kind, name), {})[PageCause(cause, of)] = None

    old, new = states.old.book, states.new.book
    changed = {kind: _changed(_index(old, kind), _index(new, kind)) for kind in ("switch", "connector", "kit")}
    for kind, names in changed.items():
        for name, how in names.items():
            add(kind, name, how)
    for book in (new, old):
        for family in book.families.values():
            used = [name for part in family.designs for name in ids_of(part.sockets)]
            used += [name for plug in family.plugs.values() for name in ids_of(plug.sockets)]
            for housing in dict.fromkeys(used):
                if housing in changed["connector"]:
                    add("switch", family.id, Why.CONNECTOR, housing)
        for kit in book.kits.values():
            for end in dict.fromkeys((*kit.olds, kit.new)):
                if end in changed["connector"]:
                    add("kit", kit.id, Why.CONNECTOR, end)
    for one in verdicts:
        add("switch", one.seat.family.id, Why.VEHICLES)
        add("switch", one.part_family, Why.PART, one.number)
    for chain in chains:
        add("switch", chain.family, Why.CHAIN, chain.number)
    order = ("switch", "connector", "kit")
    for kind, name in sorted(why, key=lambda key: (order.index(key[0]), key[1])):
        yield PageTouched(kind, name, tuple(why[kind, name]))


def _index(book: Book, kind: str) -> Mapping[str, object]:
    return {"switch": book.families, "connector": book.connectors, "kit": book.kits}[kind]


def _changed(old: Mapping[str, object], new: Mapping[str, object]) -> dict[str, Why]:
    why = {}
    for name in {**new, **old}:
        if name not in old:
            why[name] = Why.ENTRY_NEW
        elif name not in new:
            why[name] = Why.ENTRY_GONE
        elif old[name] is not new[name]:
            why[name] = Why.ENTRY_CHANGED
    return why
