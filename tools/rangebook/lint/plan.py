"""What would be mended in a book, and whether the book is the better for it. Nothing is written here."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from rangebook.book.former_ids import Index, now_called
from rangebook.book.load import Loaded, assemble
from rangebook.lint.engine import allowed_places, lint
from rangebook.lint.finding import Finding, Severity
from rangebook.lint.fixing.fixer import Fixer, Safety
from rangebook.lint.fixing.page import LONGEST, Page
from rangebook.lint.fixing.typed import Known
from rangebook.lint.fixing.verify import fixed, verified
from rangebook.lint.linted import Linted
from rangebook.lint.registry import all_fixers
from rangebook.lint.rule import Rule
from rangebook.lint.wording import found_words
from rangebook.reading import text
from rangebook.reading.entry import read_all
from rangebook.reading.form import encoded, form_of
from rangebook.reading.layers import names_of
from rangebook.reading.located import Mark
from rangebook.reading.stack import own_of, with_own
from rangebook.schema.store import Schemas
from rangebook.words.catalogue import Words

ROUNDS = 20
"""The fixers are asked so often at most. What one of them makes readable may be something for the next, or for the one before."""

Files = Mapping[str, bytes | OSError]


@dataclass(frozen=True, slots=True)
class Note:
    """One fix in words: where it stood before any of them, roughly, and which fixer made it."""

    fixer: str
    mark: Mark
    what: Words


@dataclass(frozen=True, slots=True)
class FixedFile:
    """A file with its bytes before and after."""

    file: str
    before: bytes
    after: bytes
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class Left:
    """A file of which fixes were not made, and why."""

    file: str
    why: str


@dataclass(frozen=True)
class Plan:
    """All files that change, those that do not though they could, and the book with its findings on both sides."""

    changed: Sequence[FixedFile]
    left: Sequence[Left]
    before: tuple[Loaded, Sequence[Finding]]
    after: tuple[Loaded, Sequence[Finding]]


def plan(root: Path, files: Files, schemas: Schemas, today: date | None = None, only: Container[str] | None = None) -> Plan:
    """Fix the files of a book, or ``only`` some of them.

    A fix is taken where the linter afterwards has no more against the file, nor against the book as a whole, than before:
    fewer errors, or as many and fewer warnings, or as many of both and no more hints.
    """
    return _Planner(root, files, schemas, today).plan(only)


def fix_text(page: Page, only: Container[str] | None = None) -> tuple[Page, list[Note]]:
    """A page with everything mended that can be, or by fixers of some names ``only``, each step checked by reading it."""
    notes: list[Note] = []
    if len(page.text) > LONGEST:
        return page, notes
    for _ in range(ROUNDS):
        before = page.text
        for rule, fixer in all_fixers():
            if fixer.find is None or (only is not None and fixer.name not in only):
                continue
            fixes = verified(page, list(fixer.find(page)))
            if fixes:
                notes += [Note(fixer.name, page.mark(fix.offset), found_words(rule, fix.code, fix.values)) for fix in fixes]
                page = fixed(page, fixes)
        if page.text == before:
            break
    return page, notes


def fixable(loaded: Linted, findings: Sequence[Finding], most: int = 50) -> list[str]:
    """Files with findings in which something can be mended; only the first ``most`` with findings are looked at."""
    known = known_of(loaded)
    named = {one.file: None for one in findings}
    own = max(0, len(loaded.names) - 1)
    sources = {entry.file: entry for entry in loaded.entries if entry.file in named and entry.text_in(own)}
    found = []
    for file, entry in list(sources.items())[:most]:
        page, _ = fix_text(Page(file, entry.text_in(own), loaded.schemas, known))
        if page.text != entry.text_in(own) or entry.form.oddities:
            found.append(file)
    return found


def known_of(loaded: Loaded | Linted) -> Known:
    """What fixers have to know of a book."""
    indexes: Mapping[str, Index] = {}
    if isinstance(loaded, Loaded):
        indexes = {"connector": loaded.book.connectors, "kit": loaded.book.kits}
    former = {(kind, old): now for kind, index in indexes.items() for old, now in now_called(index).items()}
    return Known(frozenset(entry.stem for entry in loaded.entries), frozenset(loaded.schemas.circuits), former=former)


class _Planner:
    def __init__(self, root: Path, files: Files, schemas: Schemas, today: date | None) -> None:
        self.root, self.files, self.schemas, self.today = root, files, schemas, today
        self.before = self._look({})

    def plan(self, only: Container[str] | None) -> Plan:
        loaded, findings = self.before
        known = replace(known_of(loaded), allowed=allowed_places(loaded, self.today))
        wanted = [
            found
            for file, data in own_of(self.files, len(self.before[0].book.layers) - 1).items()
            if isinstance(data, bytes) and (only is None or file in only) and (found := self._fix(file, data, known))
        ]
        left: list[Left] = []
        taken, after = self._settle([], wanted, known, left)
        return Plan(taken, left, self.before, after if taken else (loaded, findings))

    def _fix(self, file: str, data: bytes, known: Known, only: Container[str] | None = None) -> FixedFile | None:
        words = text.decode(file, data)
        if not isinstance(words, str):
            return None
        form = form_of(data)
        page, notes = fix_text(Page(file, words, self.schemas, known), only)
        rule, fixer = _by_writing()
        notes = [Note(fixer.name, Mark(1, 1), found_words(rule, code)) for code in form.oddities] + notes
        after = encoded(page.text, form)
        return FixedFile(file, data, after, tuple(notes)) if after != data else None

    def _settle(
        self, taken: list[FixedFile], wanted: list[FixedFile], known: Known, left: list[Left]
    ) -> tuple[list[FixedFile], tuple[Loaded, list[Finding]]]:
        """Take all that is wanted beside what is taken already; where that is worse, the two halves one after the other."""
        now = self._look({one.file: one.after for one in [*taken, *wanted]})
        if not wanted:
            return taken, now
        worse = self._worse(now[1], [*taken, *wanted])
        if worse is None:
            return [*taken, *wanted], now
        if len(wanted) > 1:
            middle = len(wanted) // 2
            taken, _ = self._settle(taken, wanted[:middle], known, left)
            return self._settle(taken, wanted[middle:], known, left)
        (one,) = wanted
        left.append(Left(one.file, f"{', '.join(sorted({note.what for note in one.notes}))}: not mended, for then {worse}"))
        # What makes it worse is what was made readable; the form of the rest can be mended all the same.
        form_only = {fixer.name for _, fixer in all_fixers() if fixer.safety is Safety.FORM}
        lesser = self._fix(one.file, one.before, known, form_only)
        if lesser is not None and lesser.after != one.after:
            return self._settle(taken, [lesser], known, [])
        return self._settle(taken, [], known, left)

    def _look(self, changed: Mapping[str, bytes]) -> tuple[Loaded, list[Finding]]:
        files = {**self.files, **with_own(self.root, changed)}
        loaded = assemble(self.root, read_all(files.items()), self.schemas, names_of(self.root))
        return loaded, lint(loaded, self.today)

    def _worse(self, now: Sequence[Finding], changed: Sequence[FixedFile]) -> str | None:
        """What is worse than before, in words; ``None`` where nothing is."""
        was = self.before[1]
        wrong = [one.file for one in changed if _weight(now, one.file) > _weight(was, one.file)]
        if not wrong and _weight(now) <= _weight(was):
            return None
        known = {one.identity for one in was}
        new = [one for one in now if one.identity not in known]
        first = next((one for one in new if one.severity is Severity.ERROR), new[0] if new else None)
        if first is None:
            return "the linter would have more against the book"
        return f"the linter would say at {first.file}:{first.line}: {first.message} [{first.rule}]"


def _by_writing() -> tuple[Rule, Fixer]:
    """The fixer whose fixes are made by writing a file anew, and its rule."""
    return next((rule, fixer) for rule, fixer in all_fixers() if fixer.find is None)


def _weight(findings: Sequence[Finding], file: str | None = None) -> tuple[int, ...]:
    counts = Counter(one.severity for one in findings if file is None or one.file == file)
    return tuple(counts[severity] for severity in Severity)
