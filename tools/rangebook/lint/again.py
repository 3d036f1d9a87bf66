"""The linter once more, after some entries have changed: only what hangs together with them is looked at, the rest is known from before.

What was found in an entry is kept beside what it hangs together with (:mod:`rangebook.book.index`). It holds as long as the program, the
schema and the day are the same, none of that has changed, and neither has the answer to a question about the whole book that was asked on
the way (:class:`rangebook.book.book.Asked`). Otherwise it is found again. What is told is always what the whole book gives.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Collection, Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from rangebook.book.book import NOTHING, Asked
from rangebook.book.index import Index, digest_of, with_index
from rangebook.book.load import Loaded
from rangebook.book.ties import ALLOWS
from rangebook.lint.brought import points
from rangebook.lint.finding import Finding, Severity
from rangebook.lint.linted import Linted
from rangebook.reading.entry import Entry, as_text
from rangebook.reading.stack import read_one, read_shelf
from rangebook.store.errors import DamagedError

Found = tuple[Linted, list[Finding]]

_CAPPED = frozenset({"unknown-part", "unknown-kit", "unknown-connector", "dead-link", "allowance"})
_MOST_NEAR = 15
"""Each of these rules looks for the nearest name a few times in a whole book and no more. With more findings than this of them the whole is
looked at, so that it are the same ones."""

_DAY, _WHOLE, _BESIDE = "day", "whole", "beside"
"""Facts of the ledger: the day on which was linted, what the whole book was like then, and what was found beside the entries."""


def lint_again(root: Path, today: date, whole: Callable[[Index | None], Found], afresh: bool = False) -> Found:
    """Everything that the linter finds in the book under ``root``. ``whole`` looks at all of it, and notes that in an index if it is given
    one: with ``afresh``, the first time, and where so much has changed that nothing else is quicker."""

    def work(index: Index) -> Found:
        found = None if afresh or not index.refresh() else _changed(index, today)
        return found if found is not None else whole(index)

    if points():
        # What rules of other packages go by nobody but they can tell.
        return whole(None)
    return with_index(root, work) or whole(None)


def note(index: Index, loaded: Loaded, digests: Mapping[str, str], findings: Iterable[Finding], asked: Asked, today: date) -> None:
    """Note what was found in a whole book, unless it is one that tells nothing of its parts."""
    from rangebook.lint.piece import begin

    begin(index, loaded, digests)
    note_found(index, loaded, findings, asked, today)


def note_found(index: Index, loaded: Loaded, findings: Iterable[Finding], asked: Asked, today: date) -> None:
    """The same in an index that was begun with it."""
    if not index.is_plain:
        return
    digests = {entry.file for entry in loaded.entries}
    by_file = _by_file(findings)
    index.ledger.note((entry.file for entry in loaded.entries), {file: _encoded(found) for file, found in by_file.items()}, asked.value)
    beside = [one for file, found in by_file.items() if file not in digests for one in found]
    _tell(index, today, [one for found in by_file.values() for one in found], beside)
    index.keep()


def note_pieces(index: Index, today: date, pieces: Iterable[tuple[Collection[str], list[Finding], Asked]]) -> Found:
    """Everything that is found in a whole book that was looked at piece by piece, what was found in each and which questions were asked
    for it; that is noted."""
    every: list[Finding] = []
    for files, found, asked in pieces:
        index.ledger.note(files, {file: _encoded(several) for file, several in _by_file(found).items()}, asked.value)
        every += found
    beside = _beside(index, read_shelf(index.root), today, True)
    _tell(index, today, every, beside)
    index.keep()
    findings = sorted([*every, *beside])
    return linted(index.root, index.listing.entries, findings), findings


def are_too_many(findings: Iterable[Finding]) -> bool:
    """Whether it has to be the whole book that is looked at: some names are looked for a few times only."""
    return sum(one.rule in _CAPPED for one in findings) > _MOST_NEAR


def erring_elsewhere(index: Index, files: Collection[str], today: date) -> set[str] | None:
    """The rules of which an error was found in entries other than some; ``None`` where that is not known and may be asked for."""
    from rangebook.lint.engine import erring

    ledger = index.ledger
    if ledger.facts.get(_DAY) == today.isoformat() and index.unseen <= set(files):
        found = [one for file, several in ledger.found().items() if file not in files for one in _decoded(file, several)]
        return None if are_too_many(found) else erring(found)
    return None if ledger.has_flag(ALLOWS) or index.lost else set()


def goes_by_errors(index: Index, files: Collection[str]) -> bool:
    """Whether in entries other than some anything was said that goes by which rules find an error anywhere."""
    return not index.ledger.asking(Asked.ERRING.value) <= set(files)


def _changed(index: Index, today: date) -> Found | None:
    """What is found now that some entries have changed; ``None`` where the whole has to be looked at."""
    ledger, facts = index.ledger, index.ledger.facts
    if facts.get(_DAY) != today.isoformat() or not index.is_plain:
        return None
    before, now = _data(facts.get(_WHOLE)), _state(index)
    if before.get("plated") != now["plated"]:
        return None
    entries = {file: _decoded(file, found) for file, found in ledger.found().items()}
    questions = Asked.NAMES if index.unseen else NOTHING
    questions |= Asked.LOST if before.get("lost") != now["lost"] else NOTHING
    questions |= Asked.LACKS if before.get("lacks") != now["lacks"] else NOTHING
    affected = _all_around(index, index.unseen | ledger.asking(questions.value))
    if affected:
        seen = _looked_at(index, affected, entries, frozenset(before.get("erring", ())), today)
        if seen is None:
            return None
        entries = seen
    shelf = read_shelf(index.root)
    beside = _beside(index, shelf, today, bool(affected))
    every = [one for several in entries.values() for one in several]
    if affected or before != {**now, "erring": before.get("erring")} or facts.get(_BESIDE) != _beside_fact(index, shelf, beside):
        _tell(index, today, every, beside)
    index.keep()
    findings = sorted([*every, *beside])
    return linted(index.root, index.listing.entries, findings), findings


def _looked_at(
    index: Index, affected: set[str], entries: Mapping[str, list[Finding]], erring_before: frozenset[str], today: date
) -> dict[str, list[Finding]] | None:
    """What is found in every entry, by file, of which some have to be looked at again."""
    from rangebook.lint.engine import erring
    from rangebook.lint.piece import look_at

    ledger = index.ledger
    for _ in range(2):
        if len(affected) > max(200, ledger.count() // 3):
            return None
        others = {file: several for file, several in entries.items() if file not in affected}
        found, asked = look_at(index, affected, (one for several in others.values() for one in several), today)
        every = [*(one for several in others.values() for one in several), *found]
        # What rules find in one entry or in the book together does not go by what others find: one more look settles it.
        more = ledger.asking(Asked.ERRING.value) - affected if erring(every) != erring_before else set()
        if not more:
            break
        affected |= _all_around(index, more)
    if are_too_many(every):
        return None
    by_file = _by_file(found)
    ledger.note(affected, {file: _encoded(several) for file, several in by_file.items()}, asked.value)
    return others | by_file


def _all_around(index: Index, files: set[str]) -> set[str]:
    """All that hangs together with some entries."""
    return ((index.ledger.together(files) or set()) & index.listing.entries.keys()) if files else set()


def _beside(index: Index, shelf: bytes | OSError | None, today: date, anew: bool) -> list[Finding]:
    """What is found beside the entries: files that nothing reads, and in the stock list."""
    kept = _data(index.ledger.facts.get(_BESIDE))
    if not anew and kept.get("of") == _beside_of(index, shelf):
        try:
            return [_finding(str(file), one) for file, one in kept["found"]]
        except (KeyError, TypeError, ValueError) as error:
            raise DamagedError(_BESIDE) from error
    if not index.listing.strays and shelf is None:
        return []
    from rangebook.lint.piece import look_beside

    return look_beside(index, shelf, today)


def _beside_of(index: Index, shelf: bytes | OSError | None) -> str:
    return f"{None if shelf is None else digest_of(shelf)} {json.dumps(index.listing.strays)}"


def _beside_fact(index: Index, shelf: bytes | OSError | None, found: Iterable[Finding]) -> str:
    return json.dumps({"of": _beside_of(index, shelf), "found": [[one.file, _as_list(one)] for one in found]})


def _state(index: Index) -> dict[str, Any]:
    """What the whole book is like, as far as anything in an entry may go by it."""
    digests = [index.ledger.digest(file) for file in index.lost]
    lost = hashlib.blake2b(json.dumps([index.lost, digests]).encode(), digest_size=16).hexdigest()
    return {"plated": index.states_plating, "lost": lost, "lacks": [index.lacks_connector, index.lacks_kit]}


def _tell(index: Index, today: date, every: Iterable[Finding], beside: Iterable[Finding]) -> None:
    from rangebook.lint.engine import erring

    whole = {**_state(index), "erring": sorted(erring(every))}
    shelf = read_shelf(index.root)
    index.ledger.tell(
        {_DAY: today.isoformat(), _WHOLE: json.dumps(whole), _BESIDE: _beside_fact(index, shelf, beside), "unseen": json.dumps([])}
    )


def linted(root: Path, files: Iterable[str], findings: Iterable[Finding]) -> Linted:
    """A book as reports need it: with the text of the entries in which something was found."""
    named = {one.file for one in findings}
    return Linted(root, [as_text(file, read_one(root, file)) if file in named else Entry(file) for file in files])


def _by_file(findings: Iterable[Finding]) -> dict[str, list[Finding]]:
    found: dict[str, list[Finding]] = {}
    for one in findings:
        found.setdefault(one.file, []).append(one)
    return found


def _as_list(one: Finding) -> list[Any]:
    return [one.line, one.column, one.rule, str(one.severity), one.message, one.fix, one.layer]


def _encoded(findings: Iterable[Finding]) -> str:
    return json.dumps([_as_list(one) for one in findings])


def _decoded(file: str, text: str) -> list[Finding]:
    try:
        return [_finding(file, one) for one in json.loads(text)]
    except (TypeError, ValueError) as error:
        raise DamagedError(file) from error


def _finding(file: str, kept: Any) -> Finding:
    line, column, rule, severity, message, fix, layer = kept
    return Finding(file, int(line), int(column), str(rule), Severity(severity), str(message), str(fix), int(layer))


def _data(text: str | None) -> dict[str, Any]:
    try:
        found = json.loads(text or "{}")
    except ValueError as error:
        raise DamagedError("fact") from error
    if not isinstance(found, dict):
        raise DamagedError("fact")
    return found
