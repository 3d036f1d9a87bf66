"""The linter's one engine: it gives each rule what the rule declares, signs what that yields, and leaves out what entries allow.

    each entry's text -> each entry -> the book -> verdicts -> what entries allow;  two revisions apart from these

A whole book is linted from its files in little memory, and by several processes where that is worth while. The tree of values with
their places is some fifteen times as large as the text it was read from, and only the rules of scope ``text`` look at all of it; so it is
put away when they have seen it, and read again for an entry in which another rule finds something.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property, partial
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

from rangebook.book import build
from rangebook.book.book import Asked, Book, book_of
from rangebook.book.load import Loaded, taken_in, with_files
from rangebook.book.model import Connector, Family, Kit
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
from rangebook.lint.context import Basis, Chains, Context, Scope, Shelf, Strays, View
from rangebook.lint.finding import Finding, Owner, Severity
from rangebook.lint.joined import shares_of
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import BookCheck, Check, EntryCheck, Rule, TextCheck
from rangebook.lint.suppression import Suppressions
from rangebook.lint.wording import finding_of
from rangebook.reading import garbage
from rangebook.reading.crew import Crew, can_fork, processors
from rangebook.reading.entry import Entry
from rangebook.reading.layers import layers_of, names_of
from rangebook.reading.located import Mark
from rangebook.reading.stack import shelf_layer
from rangebook.schema.check import Checker
from rangebook.schema.store import Schemas

Source = tuple[str, bytes | OSError]
"""A file's name relative to the root, and its bytes or why it could not be read."""

MANY = 150
"""So many files for each process: with fewer it is not worth its start."""

_AT_ONCE = 32
"""So many files are taken in as one piece, by whichever process is free."""

Skips = Callable[[Check, build.Item | Entry], bool]

_Check = TypeVar("_Check", TextCheck[Any], EntryCheck[Any, Any], BookCheck[Any])
_FAMILIES = 16
"""So many families are looked at one after the other, by whichever process is free."""

STATED = (Scope.ENTRY, Scope.BOOK)


def lint(loaded: Loaded, today: date | None = None, rules: Iterable[Rule] | None = None) -> list[Finding]:
    """Everything that the rules find in a book, sorted by place, what an entry allows left out."""
    with garbage.put_off():
        run = Run(loaded, today or date.today(), tuple(all_rules().values() if rules is None else rules))
        return run.settled(run.all())


def allowed_places(loaded: Loaded, today: date | None = None) -> dict[tuple[str, int], str]:
    """The place of each finding that an entry allows without naming one, by file and which line of ``allow`` it is, from 0."""
    if all(one.at is not None for entry in loaded.entries for one in build.allowances(entry)):
        return {}
    run = Run(loaded, today or date.today(), tuple(all_rules().values()))
    return run.alone()


def lint_files(
    root: Path, sources: Iterable[Source], schemas: Schemas, today: date | None = None, processes: int = 1
) -> tuple[Loaded, list[Finding]]:
    """The same as loading a book and linting it, with all rules. So many ``processes`` share the work.

    Bytes are let go of as they are read where ``sources`` lets them go too.
    """
    checker = Checker(schemas)
    today = today or date.today()
    with garbage.put_off():
        return lint_taken(root, _taken_in(sources, checker, Basis(schemas, today), processes), schemas, checker, today, processes)


def lint_taken(
    root: Path, taken: Taken, schemas: Schemas, checker: Checker, today: date, processes: int = 1
) -> tuple[Loaded, list[Finding]]:
    """The same of files that were taken in already."""
    with garbage.put_off():
        for entry in taken.entries:
            if entry.tree is None and entry.head is not None:
                entry.again = checker.read_again
        book = replace(book_of(zip(taken.entries, taken.items, strict=True), schemas.circuits), layers=names_of(root))
        loaded = with_files(Loaded(root, taken.entries, schemas, book))
        run = Run(loaded, today, tuple(all_rules().values()), Fitter(book, remembers=False))
        found = taken.findings
        pieces = run.pieces(processes)

        def look(at: int) -> tuple[list[Finding], Asked]:
            return list(pieces[at]()), book.questions.asked

        for some, asked in Crew(len(pieces), look, processes).results():
            found += some
            book.asks(asked)
        return loaded, run.settled(found)


def revision_findings(before: Loaded, now: Loaded, today: date | None = None) -> list[Finding]:
    """What the rules of scope ``revisions`` find: those that compare a book with an earlier revision of it."""
    run = Run(now, today or date.today(), tuple(all_rules().values()), before=before.book)
    return list(run.of_book(Scope.REVISIONS))


def processes_for(files: int) -> int:
    """How many processes to use for a book of so many files."""
    return max(1, min(processors(), files // MANY)) if can_fork() else 1


def erring(findings: Iterable[Finding]) -> set[str]:
    """The rules of one entry and of the book that have found an error."""
    return {one.rule for one in findings if one.severity is Severity.ERROR and all_rules()[one.rule].scope in STATED}


def has_errors(findings: Iterable[Finding]) -> bool:
    """Whether any finding is an error: then nothing is built."""
    return any(finding.severity is Severity.ERROR for finding in findings)


def text_findings(entries: Iterable[Entry], rules: Iterable[Rule], basis: Basis, skips: Skips | None = None) -> Iterator[Finding]:
    """What the rules of scope ``text`` find. They need each entry as it stands in its file, and no other."""
    bound = [(rule, one, one.sees.of(basis)) for rule, one in _generators(rules, TextCheck)]
    converts: Callable[[Entry], None] | None = None
    for entry in entries:
        checks = [one for one in bound if skips is None or not skips(one[1], entry)]
        # What several layers say is looked at as each of them has it, and by the schema as they say it together.
        for layer, own in [(one.layer, one.entry) for one in entry.pieces] or [(0, entry)]:
            if entry.pieces:
                converts = converts or Checker(basis.schemas).convert
                converts(own)
            for rule, one, context in checks:
                for found in one.find(own, context):
                    told = finding_of(found, rule)
                    yield replace(told, layer=layer) if layer else told
        if entry.pieces:
            told_by = {rule.name: rule for rule, _, _ in checks}
            yield from (finding_of(one, told_by[one.rule]) for one in entry.schema_problems if one.rule in told_by)


@dataclass(frozen=True)
class Run:
    """Rules over one book. ``skips`` says of a generator and what it would be called with whether it need not be; of the seats only those
    of ``families`` are looked at by rules that declare :class:`rangebook.lint.context.Chains`, of all where that is ``None``."""

    loaded: Loaded
    today: date
    rules: Sequence[Rule]
    fitter: Fitter | None = None
    skips: Skips | None = None
    families: Container[str] | None = None
    before: Book | None = None

    def of_texts(self) -> Iterator[Finding]:
        """What the rules of scope ``text`` find."""
        return text_findings(self.loaded.entries, self.rules, self._view, self.skips)

    def of_entries(self) -> Iterator[Finding]:
        """What the rules of scope ``entry`` find, entry by entry."""
        book = self.loaded.book
        yield from self._of(Family, book.families.values())
        yield from self._of_beside_families()

    def _of_beside_families(self) -> Iterator[Finding]:
        yield from self._of(Connector, self.loaded.book.connectors.values())
        yield from self._of(Kit, self.loaded.book.kits.values())

    def _of(self, kind: type, items: Iterable[build.Item]) -> Iterator[Finding]:
        bound = [(rule, one, self._context(one.sees)) for rule, one in _generators(self.rules, EntryCheck) if one.kind is kind]
        for item in items:
            for rule, one, context in bound:
                if self.skips is None or not self.skips(one, item):
                    for found in one.find(item, context):
                        yield finding_of(found, rule)

    def of_book(self, scope: Scope, chains: bool = True) -> Iterator[Finding]:
        """What the rules of a scope find that are asked once; without ``chains`` not those that look along the makers' chains."""
        for rule, one in _generators(self.rules, BookCheck):
            if rule.scope is scope and (chains or one.sees is not Chains):
                layer = self._layer_beside(one)
                for found in one.find(self._context(one.sees)):
                    told = finding_of(found, rule)
                    yield replace(told, layer=layer) if layer else told

    def _layer_beside(self, check: BookCheck[Any]) -> int:
        """The layer of what stands beside the entries: the files of the book's own folder, and the stock list wherever that is."""
        layers = self.loaded.book.layers
        if not layers or check.sees not in (Shelf, Strays):
            return 0
        return len(layers) - 1 if check.sees is Strays else shelf_layer(layers_of(self.loaded.root))

    def of_families(self, names: Sequence[str]) -> Iterator[Finding]:
        """What the rules of scope ``entry`` find in some families, and along the makers' chains from their seats: what was worked out of a
        part for the first is still at hand for the second."""
        yield from self._of(Family, (self.loaded.book.families[name] for name in names))
        seats = sorted((one for name in names for one in self._seats_of.get(name, ())), key=lambda one: one[0])
        context = replace(self._context(Chains), seats=[seat for _, seat in seats])
        for rule, one in _generators(self.rules, BookCheck):
            if one.sees is Chains:
                for found in one.find(context):
                    yield finding_of(found, rule)

    def pieces(self, processes: int) -> list[Callable[[], Iterable[Finding]]]:
        """What the rules of all scopes but ``text`` find in the whole book, in pieces for so many processes."""
        families = len(self.loaded.book.families)
        size = max(1, min(_FAMILIES, families // (4 * processes)))
        assert self._seats_of is not None, "they are found once for all"
        return [
            partial(self.of_book, Scope.BOOK),
            partial(self.of_book, Scope.VERDICTS, chains=False),
            self._of_beside_families,
            *(partial(self.of_families, names) for names in shares_of(self.loaded.book, size)),
        ]

    def all(self) -> list[Finding]:
        """What all rules find, whatever entries allow."""
        return [*self.of_texts(), *self.of_entries(), *self.of_book(Scope.BOOK), *self.of_book(Scope.VERDICTS)]

    def kept(self, found: Iterable[Finding]) -> list[Finding]:
        """What is left of all that some rules find in an entry when its ``allow`` is gone by."""
        return self._suppressions.kept(found)

    def alone(self) -> dict[tuple[str, int], str]:
        """The places of what is allowed without one, as :func:`allowed_places` gives them."""
        self._suppressions.left(self.all())
        return {(entry.file, int(one.path[1])): place for entry, one, place in self._suppressions.alone()}

    def settled(self, found: Iterable[Finding]) -> list[Finding]:
        """What is left when each entry's ``allow`` is gone by, and what is wrong with those; sorted, each once."""
        return sorted({*self._suppressions.left(found), *self.of_book(Scope.SUPPRESSIONS)})

    @cached_property
    def _suppressions(self) -> Suppressions:
        return Suppressions(self.loaded.entries, (name for name, rule in all_rules().items() if rule.may_be_allowed))

    @cached_property
    def _contexts(self) -> dict[type[Context], Context]:
        return {}

    def _context(self, kind: type[Context]) -> Any:
        found = self._contexts.get(kind)
        if found is None:
            found = self._contexts[kind] = kind.of(self._view)
        return found

    @cached_property
    def _view(self) -> View:
        return View(
            self.loaded.schemas,
            self.today,
            self.loaded,
            lambda: self._judge,
            lambda: self._seats,
            self._errors_in,
            self._suppressions.mentions,
            lambda: self._suppressions.judged(all_rules(), self._may_be_silent),
            all_rules(),
            self.before,
        )

    @cached_property
    def _judge(self) -> Fitter:
        return self.fitter or Fitter(self.loaded.book)

    @cached_property
    def _seats(self) -> Sequence[Seat]:
        seats, families = self._judge.seats, self.families
        return seats if families is None else [seat for seat in seats if seat.family.id in families]

    @cached_property
    def _seats_of(self) -> Mapping[str, list[tuple[int, Seat]]]:
        """The seats by family, each with its place among all."""
        found: dict[str, list[tuple[int, Seat]]] = {}
        for at, seat in enumerate(self._seats):
            found.setdefault(seat.family.id, []).append((at, seat))
        return found

    @cached_property
    def _errors(self) -> dict[str, list[Mark]]:
        return {}

    def _errors_in(self, owner: Owner) -> Sequence[Mark]:
        """Found when it is asked for: of most entries nobody does, and then by a process that has not looked at any."""
        file = owner.entry.file
        found = self._errors.get(file)
        if found is None:
            against = [
                finding_of(one, rule)
                for rule, check in _generators(all_rules().values(), EntryCheck)
                if check.kind is type(owner) and rule.severity is Severity.ERROR
                for one in check.find(owner, self._context(check.sees))
            ]
            found = self._errors[file] = [one.mark for one in self._suppressions.kept(against)]
        return found

    def _may_be_silent(self, name: str) -> bool:
        """Whether a rule may have had nothing to say only because something else is wrong.

        An entry that is set aside was looked at by none, and a rule that goes by several entries together, or by verdicts, is
        silent where an error elsewhere has left it nothing to go by.
        """
        if self.loaded.book.every_lost():
            return True
        return all_rules()[name].scope is not Scope.ENTRY and bool(self._erring - {name})

    @cached_property
    def _erring(self) -> set[str]:
        """The rules of one entry and of the book that find an error anywhere in it."""
        self.loaded.book.asks(Asked.ERRING)
        run = Run(self.loaded, self.today, tuple(rule for rule in all_rules().values() if rule.scope in STATED), self.fitter)
        beyond = self.loaded.book.beyond
        return erring(run._suppressions.left([*run.of_entries(), *run.of_book(Scope.BOOK)])) | (beyond.erring if beyond else set())


def _generators(rules: Iterable[Rule], kind: type[_Check]) -> Iterator[tuple[Rule, _Check]]:
    return ((rule, one) for rule in rules for one in rule.generators if isinstance(one, kind))


class Taken(NamedTuple):
    """Entries, what each was made into, and what the rules of their texts find."""

    entries: list[Entry]
    items: list[build.Item | None]
    findings: list[Finding]


def _taken_in(sources: Iterable[Source], checker: Checker, basis: Basis, processes: int) -> Taken:
    """Read, check and make each, and run the rules of its text, shared by so many processes."""
    if processes == 1:
        return take_in(sources, checker, basis)
    dealt = list(sources)
    crew = Crew(-(-len(dealt) // _AT_ONCE), lambda at: take_in(dealt[at * _AT_ONCE : (at + 1) * _AT_ONCE], checker, basis), processes)
    taken = Taken([], [], [])
    for some in crew.results():
        taken.entries.extend(some.entries)
        taken.items.extend(some.items)
        taken.findings.extend(some.findings)
    return taken


def take_in(sources: Iterable[Source], checker: Checker, basis: Basis) -> Taken:
    """Read, check and make each, and run the rules of its text."""
    taken = Taken([], [], [])

    def read() -> Iterator[Entry]:
        for entry, item in taken_in(sources, checker):
            taken.entries.append(entry)
            taken.items.append(item)
            yield entry

    taken.findings.extend(text_findings(read(), all_rules().values(), basis))
    return taken
