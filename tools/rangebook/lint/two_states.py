"""Lint two states of one book that share entries, without finding twice, or at all, what must be the same in both."""

from __future__ import annotations

import ast
import copy
import inspect
import textwrap
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from functools import cache

from rangebook.book import build
from rangebook.book.book import Book
from rangebook.book.load import Loaded
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.two_books import ChangedWays, differing
from rangebook.lint.context import Context
from rangebook.lint.finding import Finding, Hit
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import Rule
from rangebook.lint.run import lint, may_be_allowed
from rangebook.reading import garbage
from rangebook.reading.entry import Entry

_SAME_IN_BOTH = frozenset({"schemas", "today"})
"""What of a context does not go by the book."""

_OF_HOUSINGS = frozenset({"connectors", "kits", "switches_for_plug", "kits_from"})
"""What of a book goes by its connectors and kits alone."""

_ALONG_CHAINS = frozenset({"original-misfit", "supersession-contradicted"})
"""Rules that go through the seats, and of each look at nothing but the makers' chain from its part, the families on it, and
connectors and kits. They make up most of the time, so they get only the seats that a change has to do with."""


def lint_both(
    old: Loaded, new: Loaded, today: date | None = None, fitters: tuple[Fitter, Fitter] | None = None
) -> tuple[list[Finding], list[Finding]]:
    """The findings of each state, less some that both have alike.

    Entries that are one and the same object in both states are looked at only by rules that go by other entries as well. So
    what is in one list only is exactly what is in one state only. ``fitters`` of both books, where there are any yet, save
    computing verdicts again.
    """
    today = today or date.today()
    with garbage.put_off():
        if old.schemas.files != new.schemas.files:
            return lint(old, today), lint(new, today)
        common = {id(entry) for entry in old.entries} & {id(entry) for entry in new.entries}
        # Where an entry allows something, whether it still needs to is found by running every rule on it.
        common -= {id(entry) for entry in new.entries if build.allowances(entry)}
        common &= _taken(old) & _taken(new) | {id(entry) for entry in old.book.lost} & {id(entry) for entry in new.book.lost}
        families = _families_in_touch(old.book, new.book)
        housings = _same_housings(old.book, new.book)
        both = []
        for loaded, fitter in zip((old, new), fitters or (None, None), strict=True):
            context = _with_fitter(Context(loaded, today), fitter or Fitter(loaded.book))
            both.append(_lint(context, common, housings, _narrowed(context, families)))
        return both[0], both[1]


def _with_fitter(context: Context, fitter: Fitter) -> Context:
    vars(context)["fitter"] = fitter  # where the cached property keeps it
    return context


def _narrowed(context: Context, families: set[str] | None) -> Context:
    """The same with the seats of some families only; of all where ``families`` is ``None``."""
    if families is None:
        return context
    fitter = copy.copy(context.fitter)
    vars(fitter)["seats"] = tuple(seat for seat in context.fitter.seats if seat.family.id in families)
    return _with_fitter(Context(context.loaded, context.today), fitter)


def _families_in_touch(old: Book, new: Book) -> set[str] | None:
    """The families that are not the same in both books or allow something, those that a connector or kit which is not the same may
    concern, and all that vehicles or makers' chains join to them.

    ``None`` where something changed that any seat may have to do with: what could not be read, a connector that is named and is not
    there, a number that is there twice.
    """
    if [id(entry) for entry in old.lost] != [id(entry) for entry in new.lost]:
        return None
    if not _same_housings(old, new) and not all(map(_knows_its_connectors, (old, new))):
        return None
    for book in (old, new):
        numbers = [*(part.key for part in book.parts), *(kit.key for kit in book.kits.values())]
        if len(set(numbers)) != len(numbers):
            return None
    joined: dict[str, set[str]] = {}
    for book in (old, new):
        for family in book.families.values():
            named = [one.came_with for one in family.applications if one.came_with]
            named += [link.number for part in family.parts for link in part.superseded_by]
            for number in named:
                part = book.part(number)
                if part is not None and part.family != family.id:
                    joined.setdefault(family.id, set()).add(part.family)
                    joined.setdefault(part.family, set()).add(family.id)
    ways = ChangedWays(old, new)
    todo = [
        name
        for book in (old, new)
        for name, family in book.families.items()
        if any(part.connector in ways.connectors for part in family.parts)
        or any(ways.are_met_by(plug.connector) for plug in family.plugs.values())
        or any(need.kit in ways.kits for part in family.parts for link in part.superseded_by for need in link.needs or ())
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
    named = [name for kit in book.kits.values() for name in (kit.old, kit.new)]
    named += [name for connector in book.connectors.values() for name in connector.mates]
    return all(name in book.connectors for name in named)


def _same_housings(old: Book, new: Book) -> bool:
    return _are_the_same(old.connectors, new.connectors) and _are_the_same(old.kits, new.kits)


def _are_the_same(one: Mapping[str, object], other: Mapping[str, object]) -> bool:
    return len(one) == len(other) and all(other.get(name) is item for name, item in one.items())


def _taken(loaded: Loaded) -> set[int]:
    book = loaded.book
    return {id(one.entry) for index in (book.families, book.connectors, book.kits) for one in index.values()}


def _lint(context: Context, common: set[int], housings: bool, along_chains: Context) -> list[Finding]:
    allowed = {entry.file: {one.rule for one in build.allowances(entry)} for entry in context.loaded.entries if entry.head is not None}
    kept, used = set(), set()
    for rule in all_rules().values():
        for hit in _hits(rule, along_chains if rule.name in _ALONG_CHAINS else context, common, housings):
            finding = _finding(rule, hit)
            if rule.name in allowed.get(finding.file, ()) and may_be_allowed(rule.name):
                used.add((finding.file, rule.name))
            else:
                kept.add(finding)
    for rule in all_rules().values():
        check = getattr(rule.module, "check_allowances", None)
        if check:
            kept |= {_finding(rule, hit) for hit in check(context, used)}
    return sorted(kept)


def _hits(rule: Rule, context: Context, common: set[int], housings: bool) -> Iterator[Hit]:
    module, book = rule.module, context.book
    for name, items in (
        ("check_text", context.loaded.entries),
        ("check_family", book.families.values()),
        ("check_connector", book.connectors.values()),
        ("check_kit", book.kits.values()),
    ):
        check = getattr(module, name, None)
        if check:
            own = goes_by_its_entry_alone(check, housings)
            for item in items:
                entry = item if isinstance(item, Entry) else item.entry
                if not own or id(entry) not in common:
                    yield from check(item, context)
    for name in ("check_book", "check_verdicts"):
        check = getattr(module, name, None)
        if check:
            yield from check(context)


def _finding(rule: Rule, hit: Hit) -> Finding:
    return Finding(hit.entry.file, hit.mark.line, hit.mark.column, rule.name, rule.severity, hit.message, hit.fix)


def goes_by_its_entry_alone(check: Callable, housings: bool = False) -> bool:
    """Whether a rule's generator cannot see other entries: of its ``context`` it uses nothing but the schema and the day.

    With ``housings`` it may look at connectors and kits as well, for where these are the same in both books.

    Seen from its source and from that of the functions that it hands its context to. Where that cannot be seen it is taken
    to look at others.
    """
    return _is_harmless(check, 1, housings)


@cache
def _is_harmless(function: object, place: int, housings: bool) -> bool:
    """Whether a function uses of the context that is its argument number ``place`` (from 0) only what does not go by the book."""
    if not inspect.isfunction(function):
        return False
    try:
        tree = ast.parse(textwrap.dedent(inspect.getsource(function)))
    except (OSError, TypeError, SyntaxError):
        return False
    found = tree.body[0]
    if not isinstance(found, ast.FunctionDef) or found.decorator_list or len(found.args.args) <= place:
        return False
    context = found.args.args[place].arg
    harmless = set()
    for node in ast.walk(found):
        if isinstance(node, ast.Attribute) and node.attr in _SAME_IN_BOTH:
            harmless.add(id(node.value))
        elif isinstance(node, ast.Attribute) and node.attr in _OF_HOUSINGS and housings:
            if isinstance(node.value, ast.Attribute) and node.value.attr == "book":
                harmless.add(id(node.value.value))
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            called = function.__globals__.get(node.func.id)
            for index, given in enumerate(node.args):
                if isinstance(given, ast.Name) and given.id == context and called is not function and _is_harmless(called, index, housings):
                    harmless.add(id(given))
    return all(id(node) in harmless for node in ast.walk(found) if isinstance(node, ast.Name) and node.id == context)
