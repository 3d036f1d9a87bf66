"""A ledger of things: by name what was seen of each, what was found in it, and which of them hang together.

SQLite keeps it, so that several processes may use it at once and one that is killed leaves what was there before. Nothing in it is code.
A process sees it as it was when it was opened; what it writes is let go of where another one has written since. A file that is damaged
is thrown away.
"""

from __future__ import annotations

import sqlite3
from array import array
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from itertools import islice
from pathlib import Path
from typing import Any, NamedTuple, TypeVar
from zlib import adler32, crc32

from rangebook.store.errors import DamagedError
from rangebook.store.place import file_for, throw_away

_AT_ONCE = 100
"""So many things are put in as one where there are many."""

_FORM = 2
"""Of the tables: a file of another form is thrown away."""

_TABLES = f"""
PRAGMA user_version = {_FORM};
CREATE TABLE fact (name TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE thing (
    id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, digest TEXT NOT NULL, claim TEXT, flags INTEGER NOT NULL, hay TEXT NOT NULL,
    card TEXT NOT NULL, ties BLOB NOT NULL, asked INTEGER NOT NULL DEFAULT 0, found TEXT
);
CREATE INDEX claims ON thing (claim);
CREATE INDEX findings ON thing (name) WHERE found IS NOT NULL;
CREATE INDEX flagged ON thing (flags) WHERE flags != 0;
CREATE INDEX asking ON thing (asked) WHERE asked != 0;
CREATE TABLE tie (tie INTEGER NOT NULL, thing INTEGER NOT NULL, PRIMARY KEY (tie, thing)) WITHOUT ROWID;
CREATE TABLE word (role TEXT NOT NULL, word TEXT NOT NULL, thing INTEGER NOT NULL, PRIMARY KEY (role, word, thing)) WITHOUT ROWID;
CREATE INDEX words ON word (thing);
"""

_Result = TypeVar("_Result")


class Thing(NamedTuple):
    """What is known of a thing. ``claim`` is something that only one thing can be; ``hay`` is what it is found by when somebody looks for a
    piece of a text; ``card`` is whatever else is to be kept. ``ties`` are its own: it hangs together with all that has one of them or
    mentions it; two that do no more than mention the same do not. ``words`` are texts, each in a role."""

    name: str
    digest: str
    claim: str | None
    flags: int
    hay: str
    card: str
    ties: frozenset[str]
    mentions: frozenset[str]
    words: frozenset[tuple[str, str]]


def _number_of(tie: str) -> int:
    """Even; the next number is that of a mention. Two that get one number hang together for nothing, and no more."""
    data = tie.encode()
    return (crc32(data) << 30 ^ adler32(data)) << 1


class Ledger:
    """The ledger of one key. All that reads it may raise ``sqlite3.Error``; see :func:`using`."""

    def __init__(self, place: Path) -> None:
        # The file is made with no rights for others; SQLite gives those beside it the same.
        place.touch(mode=0o600, exist_ok=True)
        self._place = place
        self._base = sqlite3.connect(place, timeout=2.0, isolation_level=None)
        try:
            self._ask("PRAGMA trusted_schema = OFF")
            form = self._ask("PRAGMA user_version").fetchone()[0]
            if form == 0:
                self._ask("PRAGMA journal_mode = WAL")
                self._base.executescript(f"BEGIN IMMEDIATE; {_TABLES} COMMIT;")
            elif form != _FORM:
                raise sqlite3.DatabaseError("of another form")
            self._ask("PRAGMA synchronous = NORMAL")
            self._ask("BEGIN")
            self.facts: dict[str, str] = dict(self._ask("SELECT name, value FROM fact"))
        except BaseException:
            self._base.close()
            raise

    def _ask(self, question: str, values: Iterable[object] = ()) -> sqlite3.Cursor:
        return self._base.execute(question, tuple(values))

    def close(self) -> None:
        """Let go of it; what was not written is gone."""
        with suppress(sqlite3.Error):
            if self._base.in_transaction:
                self._base.rollback()
        self._base.close()

    # What is there

    def digests(self) -> dict[str, str]:
        """Every thing with the digest under which it was last seen."""
        return dict(self._ask("SELECT name, digest FROM thing"))

    def digest(self, name: str) -> str | None:
        """The digest of one thing, ``None`` where there is no such thing."""
        found = self._ask("SELECT digest FROM thing WHERE name = ?", (name,)).fetchone()
        return None if found is None else str(found[0])

    def count(self) -> int:
        """How many things there are."""
        return int(self._ask("SELECT count(*) FROM thing").fetchone()[0])

    def names(self) -> list[str]:
        """Every thing by name."""
        return [name for (name,) in self._ask("SELECT name FROM thing ORDER BY name")]

    def holding(self, pieces: Iterable[str]) -> list[str]:
        """The things whose hay holds every one of some pieces."""
        pieces = list(pieces)
        where = " AND ".join(["instr(hay, ?)"] * len(pieces))
        return [name for (name,) in self._ask(f"SELECT name FROM thing WHERE {where}", pieces)]  # noqa: S608 - nothing but marks

    def tied(self, ties: Iterable[str]) -> set[str]:
        """The things with any of some ties."""
        return self._named(self._with({_number_of(one) for one in ties}))

    def together(self, names: Iterable[str], ties: Iterable[str] = (), most: int | None = None) -> set[str] | None:
        """Everything that hangs together with some things and ties, however far; ``None`` where that is more than ``most``."""
        names = list(names)
        found = self._with({_number_of(one) for one in ties})
        found |= {int(one) for (one,) in self._each("SELECT id FROM thing WHERE name IN", names)}
        todo, seen = set(found), set[int]()
        while todo:
            if most is not None and len(found) > most:
                return None
            ties_of: set[int] = set()
            for (blob,) in self._each("SELECT ties FROM thing WHERE id IN", todo):
                ties_of.update(self._numbers(blob))
            todo = self._with(ties_of - seen) - found
            seen |= ties_of
            found |= todo
        return {*names, *self._named(found)}

    def groups(self) -> list[list[str]]:
        """All things, what hangs together in one group, by name."""
        names = dict(self._ask("SELECT id, name FROM thing ORDER BY name"))
        first = {one: one for one in names}

        def first_of(one: int) -> int:
            while first[one] != one:
                first[one] = first[first[one]]
                one = first[one]
            return one

        having, last = 0, None
        for tie, thing in self._ask("SELECT tie, thing FROM tie ORDER BY tie, thing"):
            # The things that have a tie come before those that mention it: without any of the first the second are nothing to each other.
            if not tie & 1 and tie != last:
                having = thing
            elif tie & ~1 != last:
                having = 0
            last = tie & ~1
            if having:
                one, other = first_of(having), first_of(thing)
                first[max(one, other)] = min(one, other)
        groups: dict[int, list[str]] = {}
        for one, name in names.items():
            groups.setdefault(first_of(one), []).append(str(name))
        return list(groups.values())

    def _with(self, ties: Iterable[int]) -> set[int]:
        """The things, by their ids, that have some ties, or mention what they have: an even number is a tie, the next one its mention."""
        asked = {one & ~1 for one in ties} | {one + 1 for one in ties if not one & 1}
        return {int(one) for (one,) in self._each("SELECT thing FROM tie WHERE tie IN", asked)}

    def _named(self, ids: Iterable[int]) -> set[str]:
        return {str(name) for (name,) in self._each("SELECT name FROM thing WHERE id IN", ids)}

    def _numbers(self, blob: object) -> array[int]:
        if not isinstance(blob, bytes) or len(blob) % 8:
            raise DamagedError(self._place.name)
        return array("q", blob)

    def _each(self, question: str, values: Iterable[object]) -> Iterator[tuple[Any, ...]]:
        """The rows for any number of values, in handfuls: SQLite takes so many at a time."""
        listed = list(values)
        for at in range(0, len(listed), 500):
            some = listed[at : at + 500]
            yield from self._ask(f"{question} ({', '.join('?' * len(some))})", some)

    def cards(self, flags: int = 0, names: Iterable[str] | None = None) -> dict[str, str]:
        """The cards of the things with any of some flags, or of those that are named."""
        if names is not None:
            return {str(name): str(card) for name, card in self._each("SELECT name, card FROM thing WHERE name IN", names)}
        return dict(self._ask("SELECT name, card FROM thing WHERE flags != 0 AND flags & ? ORDER BY name", (flags,)))

    def all_cards(self) -> Iterator[tuple[str, str]]:
        """Every thing with its card, by name."""
        return iter(self._ask("SELECT name, card FROM thing ORDER BY name"))

    def has_flag(self, flag: int) -> bool:
        """Whether any thing has a flag."""
        return self._ask("SELECT 1 FROM thing WHERE flags != 0 AND flags & ? LIMIT 1", (flag,)).fetchone() is not None

    def claimed_twice(self) -> list[str]:
        """The things that claim what one before them, by name, claims already."""
        again = "SELECT claim FROM thing WHERE claim IS NOT NULL GROUP BY claim HAVING count(*) > 1"
        found = self._ask(f"SELECT name, claim FROM thing WHERE claim IN ({again}) ORDER BY name").fetchall()  # noqa: S608 - both are ours
        first: dict[str, str] = {}
        for name, claim in found:
            first.setdefault(claim, name)
        return [name for name, claim in found if first[claim] != name]

    def claims(self, names: Iterable[str]) -> list[str]:
        """What some things claim."""
        return [str(claim) for (claim,) in self._each("SELECT claim FROM thing WHERE claim IS NOT NULL AND name IN", names)]

    def said_without(self, roles: Iterable[str], known: str) -> set[str]:
        """The words said in some roles that nothing is known by in the role ``known``."""
        there = "SELECT 1 FROM word WHERE role = ? AND word = said.word"
        question = f"SELECT DISTINCT word FROM word AS said WHERE NOT EXISTS ({there}) AND role = ?"  # noqa: S608 - both are ours
        return {word for role in roles for (word,) in self._ask(question, (known, role))}

    def words(self, role: str) -> list[str]:
        """Every word that is said in a role."""
        return [word for (word,) in self._ask("SELECT DISTINCT word FROM word WHERE role = ? ORDER BY word", (role,))]

    def found(self) -> dict[str, str]:
        """Whatever was found in things, of those in which something was."""
        return dict(self._ask("SELECT name, found FROM thing WHERE found IS NOT NULL"))

    def asking(self, mask: int) -> set[str]:
        """The things that were looked at with any of some questions asked."""
        return {name for (name,) in self._ask("SELECT name FROM thing WHERE asked != 0 AND asked & ?", (mask,))}

    # What changes

    def clear(self) -> None:
        """Begin anew."""
        for table in ("fact", "thing", "tie", "word"):
            self._ask(f"DELETE FROM {table}")  # noqa: S608 - the names stand in the line above
        self.facts = {}

    def put(self, things: Iterable[Thing], new: bool = False) -> None:
        """Put in things, in the place of those of the same names, unless they are ``new``. What was found in these is forgotten."""
        things = list(things)
        first = int(self._ask("SELECT coalesce(max(id), 0) + 1 FROM thing").fetchone()[0])
        if not new:
            self.take_out([one.name for one in things])
        numbered = list(enumerate(things, start=first))
        ties = [array("q", {*map(_number_of, one.ties), *(_number_of(two) + 1 for two in one.mentions - one.ties)}) for one in things]
        self._base.executemany(
            "INSERT INTO thing (id, name, digest, claim, flags, hay, card, ties) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
            ((at, *one[:6], own.tobytes()) for (at, one), own in zip(numbered, ties, strict=True)),
        )
        rows = sorted((tie, at) for (at, _), own in zip(numbered, ties, strict=True) for tie in own)
        self._base.executemany("INSERT INTO tie VALUES (?, ?)", rows)
        self._base.executemany("INSERT INTO word VALUES (?, ?, ?)", sorted((*word, at) for at, one in numbered for word in one.words))

    def put_by_and_by(self, things: Iterable[Thing]) -> None:
        """The same of so many that they are not to be in memory together: they are asked for some at a time."""
        things = iter(things)
        while some := list(islice(things, _AT_ONCE)):
            self.put(some)

    def take_out(self, names: Iterable[str]) -> None:
        """Take out things."""
        for at, blob in list(self._each("SELECT id, ties FROM thing WHERE name IN", names)):
            self._base.executemany("DELETE FROM tie WHERE tie = ? AND thing = ?", ((tie, at) for tie in self._numbers(blob)))
            self._ask("DELETE FROM word WHERE thing = ?", (at,))
            self._ask("DELETE FROM thing WHERE id = ?", (at,))

    @contextmanager
    def supposing(self, gone: Iterable[str], things: Iterable[Thing]) -> Iterator[None]:
        """Inside, it is as if some things had been taken out and others put in, in the place of those of the same names."""
        self._ask("SAVEPOINT supposed")
        try:
            self.take_out(gone)
            self.put(things)
            yield
        finally:
            self._ask("ROLLBACK TO supposed")
            self._ask("RELEASE supposed")

    def note(self, names: Iterable[str], found: Mapping[str, str], asked: int) -> None:
        """Note what was found in things that were looked at together, and which questions were asked for it."""
        self._base.executemany("UPDATE thing SET found = ?, asked = ? WHERE name = ?", ((found.get(name), asked, name) for name in names))

    def tell(self, facts: Mapping[str, str]) -> None:
        """Facts of the whole."""
        self._base.executemany("INSERT OR REPLACE INTO fact VALUES (?, ?)", facts.items())
        self.facts |= facts

    def write(self) -> bool:
        """Write what has changed; whether that could be done. The ledger is to be closed then."""
        try:
            self._base.commit()
        except sqlite3.Error:
            return False
        return True


def using(key: str, work: Callable[[Ledger], _Result]) -> _Result | None:
    """Do something with the ledger of a key; ``None`` where there is none. One that turns out to be damaged is thrown away, and the work
    begun again with an empty one."""
    place = file_for(key)
    if place is None:
        return None
    for again in (True, False):
        try:
            ledger = Ledger(place)
            try:
                return work(ledger)
            finally:
                ledger.close()
        except sqlite3.OperationalError:
            # Another process has it, or the disk is full: whoever asked goes without.
            return None
        except sqlite3.Error:
            throw_away(place)
            if not again:
                return None
        except OSError:
            return None
    return None
