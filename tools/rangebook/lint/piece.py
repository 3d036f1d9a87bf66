"""Linting a piece of a book: entries that are for themselves, or what stands beside all entries."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from datetime import date

from rangebook.book import build
from rangebook.book.book import Asked
from rangebook.book.index import Index
from rangebook.book.load import Loaded
from rangebook.book.ties import ties_of_numbers
from rangebook.fitting.fitter import Fitter
from rangebook.lint.context import Scope, Shelf, Strays
from rangebook.lint.engine import Run, erring
from rangebook.lint.finding import Finding
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import BookCheck
from rangebook.lint.stock import stock_of


def look_at(index: Index, files: Collection[str], others: Iterable[Finding], today: date) -> tuple[list[Finding], Asked]:
    """What is found in some entries that are for themselves, and the questions about the whole that were asked for it. ``others`` are the
    findings in all other entries."""
    loaded = index.excerpt(files, erring(others))
    run = Run(loaded, today, tuple(all_rules().values()), Fitter(loaded.book, remembers=False))
    found = [one for one in run.settled(run.all()) if one.file in files]
    return found, loaded.book.questions.asked


def look_beside(index: Index, shelf: bytes | OSError | None, today: date) -> list[Finding]:
    """What is found in the stock list, and of files that nothing reads."""
    checks = [one for rule in all_rules().values() for one in rule.generators if isinstance(one, BookCheck) and one.sees in (Shelf, Strays)]
    lying = ties_of_numbers(one.number for one in stock_of(shelf).lying)
    loaded = replace(index.excerpt(index.ledger.tied(lying)), shelf=shelf, strays=index.listing.strays)
    rules = [rule for rule in all_rules().values() if not set(checks).isdisjoint(rule.generators)]
    return sorted(Run(loaded, today, rules).of_book(Scope.BOOK))


def begin(index: Index, loaded: Loaded, digests: Mapping[str, str]) -> None:
    """Take a whole book into the index."""
    items = {id(item.entry): item for item in loaded.book.items}
    # Of two with one id the second is lost as well, but what it says is known.
    index.begin((entry, items.get(id(entry)) or build.item(entry), digests[entry.file]) for entry in loaded.entries)
