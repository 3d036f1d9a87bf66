"""Lint two revisions of one book that share entries, without finding twice, or at all, what must be the same in both."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date

from rangebook.book import build
from rangebook.book.book import Book
from rangebook.book.load import Loaded
from rangebook.book.model import ids_of
from rangebook.fitting.fitter import Fitter
from rangebook.lint.context import Context
from rangebook.lint.engine import Run, lint
from rangebook.lint.finding import Finding
from rangebook.lint.inputs import Values, refs
from rangebook.lint.joined import joined_families
from rangebook.lint.mentions import needs_said
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import Check
from rangebook.reading import garbage
from rangebook.reading.entry import Entry
from rangebook.revisions.two_books import ChangedWays, differing


def lint_both(
    old: Loaded, new: Loaded, today: date | None = None, fitters: tuple[Fitter, Fitter] | None = None
) -> tuple[list[Finding], list[Finding]]:
    """The findings of each revision, less some that both have alike.

    An entry that is one and the same object in both is looked at only by rules of which some input is not the same in both. So
    what is in one list only is exactly what is in one revision only. ``fitters`` of both books, where there are any yet, save
    computing verdicts again.
    """
    today = today or date.today()
    with garbage.put_off():
        if old.schemas.files != new.schemas.files:
            return lint(old, today), lint(new, today)
        one, other = _runs(old, new, today, fitters or (None, None))
        return one.settled(one.all()), other.settled(other.all())


def lint_beside_clean(clean: Loaded, new: Loaded, today: date | None = None) -> list[Finding]:
    """Every finding of a book beside one of which it shares most entries and in which nothing is found."""
    today = today or date.today()
    with garbage.put_off():
        if clean.schemas.files != new.schemas.files:
            return lint(new, today)
        _, run = _runs(clean, new, today, (None, None))
        return run.settled(run.all())


def _runs(old: Loaded, new: Loaded, today: date, fitters: Iterable[Fitter | None]) -> list[Run]:
    unchanged = _unchanged(old, new, today)
    families = _families_in_touch(old.book, new.book)
    rules = tuple(all_rules().values())
    return [Run(loaded, today, rules, fitter, unchanged, families) for loaded, fitter in zip((old, new), fitters, strict=True)]


def _unchanged(old: Loaded, new: Loaded, today: date) -> Callable[[Check, build.Item | Entry], bool]:
    """Whether a generator has the same inputs in both revisions, and its findings were not asked for by an entry that allows some."""
    common = {id(entry) for entry in old.entries} & {id(entry) for entry in new.entries}
    # Where an entry allows something, whether it still needs to is found by running every rule on it.
    common -= {id(entry) for entry in new.entries if build.allowances(entry)}
    before, now = Values(old, today), Values(new, today)
    known: dict[tuple[type[Context], int], bool] = {}

    def unchanged(check: Check, item: build.Item | Entry) -> bool:
        if id(item if isinstance(item, Entry) else item.entry) not in common:
            return False
        key = check.sees, id(item)
        found = known.get(key)
        if found is None:
            found = known[key] = all(before.of(ref) == now.of(ref) for ref in refs(check, item))
        return found

    return unchanged


def _families_in_touch(old: Book, new: Book) -> set[str] | None:
    """The families that are not the same in both books or allow something, those that a connector or kit which is not the same may
    concern, and all that vehicles or makers' chains join to them.

    ``None`` where something changed that any seat may have to do with: what could not be read, a connector that is named and is not
    there, a number that is there twice.
    """
    if [id(entry) for entry in old.lost] != [id(entry) for entry in new.lost]:
        return None
    if (differing(old.connectors, new.connectors) or differing(old.kits, new.kits)) and not all(map(_knows_its_connectors, (old, new))):
        return None
    for book in (old, new):
        if book.doubled:
            return None
    joined = joined_families(old, new)
    ways = ChangedWays(old, new)
    todo = [
        name
        for book in (old, new)
        for name, family in book.families.items()
        if any(name in ways.connectors for part in family.designs for name in ids_of(part.sockets))
        or any(ways.are_met_by(name) for plug in family.plugs.values() for name in ids_of(plug.sockets))
        or any(need.kit in ways.kits for part in family.parts for need in needs_said(part))
    ]
    found: set[str] = set()
    todo += differing(old.families, new.families)
    # Whether what an entry allows is still needed is seen by what is found there.
    todo += [name for name, family in new.families.items() if build.allowances(family.entry)]
    while todo:
        name = todo.pop()
        if name not in found:
            found.add(name)
            todo += joined.get(name, ())
    return found


def _knows_its_connectors(book: Book) -> bool:
    """Whether every connector that a kit or a connector names is in the book."""
    named = [name for kit in book.kits.values() for name in (*kit.olds, kit.new)]
    named += [mate.connector for connector in book.connectors.values() for mate in connector.mates]
    return all(name in book.connectors for name in named)
