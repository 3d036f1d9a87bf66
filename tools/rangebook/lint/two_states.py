"""Lint two states of one book that share entries, without finding twice, or at all, what must be the same in both."""

from __future__ import annotations

import ast
import inspect
import textwrap
from collections.abc import Callable, Iterator
from datetime import date
from functools import cache

from rangebook.book import build
from rangebook.book.load import Loaded
from rangebook.fitting.fitter import Fitter
from rangebook.lint.context import Context
from rangebook.lint.finding import Finding, Hit
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import Rule
from rangebook.lint.run import lint, may_be_allowed
from rangebook.reading import garbage
from rangebook.reading.entry import Entry

_SAME_IN_BOTH = frozenset({"schemas", "today"})
"""What of a context does not go by the book."""


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
        both = []
        for loaded, fitter in zip((old, new), fitters or (None, None), strict=True):
            context = Context(loaded, today)
            if fitter is not None:
                vars(context)["fitter"] = fitter  # where the cached property keeps it
            both.append(_lint(context, common))
        return both[0], both[1]


def _taken(loaded: Loaded) -> set[int]:
    book = loaded.book
    return {id(one.entry) for index in (book.families, book.connectors, book.kits) for one in index.values()}


def _lint(context: Context, common: set[int]) -> list[Finding]:
    allowed = {entry.file: {one.rule for one in build.allowances(entry)} for entry in context.loaded.entries if entry.front is not None}
    kept, used = set(), set()
    for rule in all_rules().values():
        for hit in _hits(rule, context, common):
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


def _hits(rule: Rule, context: Context, common: set[int]) -> Iterator[Hit]:
    module, book = rule.module, context.book
    for name, items in (
        ("check_text", context.loaded.entries),
        ("check_family", book.families.values()),
        ("check_connector", book.connectors.values()),
        ("check_kit", book.kits.values()),
    ):
        check = getattr(module, name, None)
        if check:
            own = goes_by_its_entry_alone(check)
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


def goes_by_its_entry_alone(check: Callable) -> bool:
    """Whether a rule's generator cannot see other entries: of its ``context`` it uses nothing but the schema and the day.

    Seen from its source and from that of the functions that it hands its context to. Where that cannot be seen it is taken
    to look at others.
    """
    return _is_harmless(check, 1)


@cache
def _is_harmless(function: object, place: int) -> bool:
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
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            called = function.__globals__.get(node.func.id)
            for index, given in enumerate(node.args):
                if isinstance(given, ast.Name) and given.id == context and called is not function and _is_harmless(called, index):
                    harmless.add(id(given))
    return all(id(node) in harmless for node in ast.walk(found) if isinstance(node, ast.Name) and node.id == context)
