"""The errors in the entries that an answer goes by, without linting all the rest of the book."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from datetime import date

from rangebook.book import build
from rangebook.book.load import Loaded
from rangebook.book.model import Part, ids_of
from rangebook.fitting.check_needs import together
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.mating import ways
from rangebook.fitting.seats import Seat
from rangebook.fitting.together import with_joined
from rangebook.lint.context import Scope
from rangebook.lint.engine import Run
from rangebook.lint.finding import Severity
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import Check
from rangebook.reading.entry import Entry


def errors_around(loaded: Loaded, fitter: Fitter, removed: Part, seats: Iterable[tuple[Seat, Collection[Part]]]) -> Mapping[str, int]:
    """How many errors there are in each entry that an answer goes by: those of the removed part, of each seat and of the parts judged on
    it, with their connectors and the kits between them; and in those that could not be read, whatever they would have said."""
    book = loaded.book
    named = {book.family_of(removed).entry.file}
    families = {removed.family}
    for seat, parts in seats:
        for part in (one for each in (seat.original, *parts) for one in with_joined(book, together(book, seat, each))):
            families |= {part.family, seat.family.id}
            kits = [kit for way in ways(book, seat.plug.sockets, part.sockets) for kit in way.kits]
            connectors = (*ids_of(seat.plug.sockets), *ids_of(part.sockets), *(kit.new for kit in kits))
            named |= {kit.entry.file for kit in kits} | {one.entry.file for name in connectors if (one := book.connectors.get(name))}
    named |= {book.families[name].entry.file for name in families}
    lost = {entry.file for entry in book.lost}
    rules = [rule for rule in all_rules().values() if rule.severity is Severity.ERROR]

    def skips(check: Check, item: build.Item | Entry) -> bool:
        return (item.file if isinstance(item, Entry) else item.entry.file) not in (named | lost)

    run = Run(loaded, date.today(), rules, fitter, skips, families)
    found = [*run.of_texts(), *run.of_entries(), *run.of_book(Scope.BOOK), *run.of_book(Scope.VERDICTS)]
    counts = Counter(one.file for one in run.kept(found) if one.file in named or one.file in lost)
    return dict(sorted(counts.items()))
